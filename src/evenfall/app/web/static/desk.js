// One open job: what is known of it, how it is changed, and who is told.
import { Wrong, call, drawing, lines } from './api.js'
import { find, say } from './dom.js'

export const job = decodeURIComponent(location.pathname.split('/')[2] ?? '')
const at = `/api/jobs/${encodeURIComponent(job)}`

export const desk = {
  at, revision: 0, state: null,
  was: new Map(), // id of a number -> its text before the last change
  stale: false, trouble: [],
}

/** Ask about this job, or send it something. */
export const of = (what, more) => call(`${at}/${what}`, more)

/** A drawing of the job as it was last worked. */
export const drawn = (name, width, height) => drawing(job, desk.state.worked, name, width, height)

const told = new Set()
/** Be told of every new state. */
export const watch = f => { told.add(f); if (desk.state) f() }
const tell = () => told.forEach(f => f())

let queue = Promise.resolve()
let working = null

/** Show what is known at once; work the job out where nobody has. */
export async function open(known) {
  if (known?.worked) apply(known)
  if (known) desk.revision = known.revision
  tell()
  if (!known || known.worked !== known.revision) await work(known?.worked || null)
}

function apply(state, moved = false) {
  if (moved && desk.state) {
    desk.was = new Map(Object.values(desk.state.numbers)
      .filter(n => state.numbers[n.id] && state.numbers[n.id].text !== n.text).map(n => [n.id, n.text]))
  }
  desk.state = state
  desk.stale = false
}

/** One save after another: what is sent tells the revision that it began from. */
function save(send) {
  const mine = queue.then(() => send(desk.revision))
  queue = mine.catch(() => {})
  return mine
}

function kept(answer) {
  desk.revision = answer.revision
  desk.trouble = answer.problems ?? []
}

function stale(is = true) { desk.stale = is; tell() }

/** Change the job by paths; all changes are one revision. Resolves when they are saved; what moves is shown before. */
export const change = (changes, why = '') => save(from => new Promise((done, fail) => {
  follow(lines(`${at}/edit`, { body: { from, changes, who: 'the desk', why } }), from, null, done).catch(e => {
    if (e.status === 409) conflict(e, changes, why)
    fail(e)
  })
}))

/** Undo, redo or restore: each is a new revision. */
export const step = (what, body = {}) => save(async from => {
  const answer = await of(what, { body: { from, ...body } })
  kept(answer)
  stale()
  if (!desk.trouble.length) work(from)
  return answer
})

const SILENT = 15000 // ms without a word: a machine that slept, a stream that was lost
let heard = 0
let asked = null
setInterval(() => {
  if (desk.stale && !desk.trouble.length && Date.now() - heard > SILENT) work(asked)
}, 3000)

/** Begin to listen; who listened before is left. */
function begin(since) {
  working?.abort()
  heard = Date.now()
  asked = since
  busy({ room: 'the job', at: 0, of: 30 })
  return working = new AbortController()
}

/** Work the job out. */
export function work(since) {
  const mine = begin(since)
  return follow(lines(`${at}/work${since ? `?since=${since}` : ''}`, mine), since, mine)
}

/** Numbers come one after another, the whole state at the end; of a save, word that it is on the disk among them. */
async function follow(stream, since, mine, saved) {
  const was = desk.stale
  try {
    for await (const line of stream) {
      if (!mine) { mine = begin(since); stale() }
      heard = Date.now()
      if (line.error) throw new Wrong(0, line)
      if (line.saved) {
        kept(line)
        saved(line)
        saved = null
        if (!desk.trouble.length) continue
        busy()
        return tell()
      }
      if (mine.signal.aborted) { if (saved) continue; else return }
      if (line.room) busy(line)
      early(line.values)
      if (line.problems?.length) throw new Wrong(422, { error: line.problems[0], problems: line.problems })
      if (line.left && !saved) { setTimeout(work, 300, since); return }
    }
    if (saved) throw new Wrong(0, { error: { what: 'the desk went away before this was saved' } })
    const state = await of('desk', mine)
    apply(state, since != null)
    kept(state)
    busy()
    tell()
    if (since != null) announce()
  } catch (e) {
    if (saved) {
      if (mine) { busy(); stale(was) }
      throw e
    }
    if (e.name === 'AbortError') return
    busy()
    desk.trouble = e.body?.problems ?? [e.body?.error ?? { what: e.message }]
    tell()
  }
}

/** Leave the work of now; what was there stays, marked as not worked again. */
export function stop() {
  working?.abort()
  heard = Infinity
  of('stop', { body: {} }).catch(() => {})
  busy()
  say('Stopped. The numbers are those of before.')
}

/** Show a number as soon as its room is worked. */
function early(values = {}) {
  for (const [id, v] of Object.entries(values)) {
    if (!v.text) continue
    for (const el of document.querySelectorAll(`[data-number="${CSS.escape(id)}"]`)) {
      el.textContent = v.text
      el.classList.remove('stale')
      const label = desk.state?.numbers[id]?.label
      if (label) el.ariaLabel = `${v.text} ${label}, show the working`
    }
  }
}

function announce() {
  const { numbers } = desk.state
  const parts = [...desk.was].filter(([id]) => desk.state.head.includes(id)).map(([id, was]) => `${numbers[id].label}: ${was} to ${numbers[id].text}`)
  say(parts.length ? parts.join('. ') : 'Worked again; nothing at the head of the sheet has moved.')
}

let late = 0

/** Pull the tape as far as the work has counted; it shows only where it takes long. */
function busy(line) {
  const el = find('#busy')
  if (!line) { clearTimeout(late); late = 0; el.hidden = true; return }
  find('#tape').style.setProperty('--done', line.of ? line.at / line.of : 1)
  const room = desk.state?.rooms.find(r => r.key === line.room)?.title ?? line.room.replaceAll('_', ' ')
  find('#busy-says').textContent = line.option ? `working out an option beside it, “${line.option.replaceAll('-', ' ')}”: ${room}` : `working out: ${room}, ${line.at || 0} of ${line.of || 30} rooms`
  if (el.hidden && !late) late = setTimeout(() => { el.hidden = false; late = 0 }, 600)
}

/** Two pages on one job: both values stand side by side, one to press. */
export let clash = null
function conflict(e, changes, why) {
  clash = { yours: e.body.yours ?? changes, theirs: e.body.theirs ?? [], revision: e.body.revision, why }
  tell()
  say('Another page has changed this job. Both values stand at the head of the sheet.')
}

/** Settle it: mine goes in over theirs, or theirs stands. */
export async function settle(mine) {
  const { yours, revision, why } = clash
  const from = desk.revision
  clash = null
  desk.revision = revision
  if (mine) await change(yours.map(({ path, value, remove }) => remove ? { path, remove } : { path, value }), why)
  else { desk.stale = true; tell(); await work(from) }
}

/** See whether another page has saved something since. */
export async function look() {
  if (!desk.state || clash || document.hidden || desk.stale) return
  const kept = await call(at).catch(() => null)
  if (!kept || kept.revision === desk.revision) return
  const from = desk.revision
  desk.revision = kept.revision
  desk.stale = true
  tell()
  work(from)
}

/** Say what some changes would move, and save nothing. */
export const attempt = (changes, signal) => of('try', { body: { changes }, signal })

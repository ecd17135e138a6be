// What this telephone knows: the job's days, the records kept here, who holds it. The log only grows.
import { mark } from './hash.js'

export const here = { bundle: null, box: null, log: [], waiting: 0, who: '', people: [], device: '', day: null, sheet: null, kept: true, wrong: '', news: null, changed() {} }

const KEPT = 'evenfall-site'

/** Remember a small thing where the telephone allows it; nothing depends on it. */
export function remember(name, value) {
  try { localStorage.setItem(`${KEPT}:${name}`, JSON.stringify(value)) } catch { /* a page from a file may not */ }
}

export function remembered(name, otherwise) {
  try { const found = JSON.parse(localStorage.getItem(`${KEPT}:${name}`)); return found == null ? otherwise : found } catch { return otherwise }
}

export async function begin(bundle, box, sheet) {
  Object.assign(here, { bundle, box, sheet, kept: !box.forgets })
  here.device = box.device || remembered('device', '') || mark()
  remember('device', here.device)
  here.people = remembered('people', [])
  here.who = here.people[0] || ''
  await refresh()
}

/** Read the log again: nothing here counts before the telephone has really kept it. */
export async function refresh() {
  const all = await here.box.all(), waiting = await here.box.waiting()
  here.log = all.map(i => i.entry || i)
  here.waiting = typeof waiting === 'number' ? waiting : waiting.length
}

export function named(who) {
  here.who = who
  here.people = [who, ...here.people.filter(p => p !== who)].slice(0, 8)
  remember('people', here.people)
}

let last = Promise.resolve()

/** Write an entry; it is told as kept only after the telephone has it. */
export function write(kind, fields, blobs = {}) {
  last = last.catch(() => null).then(async () => {
    const n = 1 + here.log.reduce((most, e) => e.device === here.device ? Math.max(most, e.n) : most, 0)
    const entry = { id: mark(), device: here.device, n, at: moment(), who: here.who, kind }
    for (const name of Object.keys(fields)) if (fields[name] != null && fields[name] !== 0) entry[name] = fields[name]
    if ('hold' in fields && fields.hold === 0) entry.hold = 0
    if ('value' in fields) entry.value = fields.value
    if ('air_c' in fields) entry.air_c = fields.air_c
    try {
      await here.box.add(entry, blobs)
      here.wrong = ''
    } catch (error) {
      here.wrong = `NOT KEPT. ${error.message}`
      here.changed()
      throw error
    }
    await refresh()
    here.changed()
    return entry
  })
  return last
}

/** Now, by this telephone's clock and zone. */
export function moment(now = new Date()) {
  const two = v => String(Math.floor(Math.abs(v))).padStart(2, '0'), off = -now.getTimezoneOffset()
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}T${two(now.getHours())}:${two(now.getMinutes())}:${two(now.getSeconds())}${off < 0 ? '-' : '+'}${two(off / 60)}:${two(off % 60)}`
}

const by = (a, b) => new Date(a.at) - new Date(b.at) || (a.device === b.device ? a.n - b.n : a.id < b.id ? -1 : 1)

/** Entries that stand, of one kind, the oldest first: those put right by a later one are left out. */
export function standing(kind) {
  const replaced = new Set(here.log.map(e => e.replaces).filter(Boolean))
  return here.log.filter(e => e.kind === kind && !replaced.has(e.id)).sort(by)
}

/** The word that counts on a hold point: a stop until it is put right, else the last one. */
export function holdState(hold, bay) {
  return standing('hold').filter(e => e.hold === hold && (e.bay || 0) === (bay || 0))
    .reduce((held, e) => held && held.outcome === 'stopped' && e.outcome === 'passed' ? held : e, null)
}

/** Dangers that nobody has cleared yet. */
export function stops() {
  const cleared = new Set(standing('clear').map(e => e.of))
  return standing('stop').filter(e => !cleared.has(e.id))
}

/** Finds whose slip nobody has signed. */
export function unsigned() {
  const signed = new Set(standing('signed').map(e => e.of))
  return standing('found').filter(e => !signed.has(e.id))
}

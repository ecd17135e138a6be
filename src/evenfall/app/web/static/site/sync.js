// From the phone to the desk and back. Anything may break off anywhere: what was not acknowledged is sent again.
import { digest } from './outbox.js'

const MOST = 100, MOST_BYTES = 1e6, MOST_PACKED = 3e6, AT_ONCE = 2
const WITHIN_MS = 60000, EVERY_MS = 60000, SOON_MS = 2000, LATEST_MS = 300000
const AWAY = 'No way to the desk now. Everything is kept on this phone, and goes by itself when you are back.'

class Answered extends Error {
  constructor(status, error) {
    super(error && error.what ? `${error.what}${error.do ? `: ${error.do}` : ''}` : `the desk answered ${status}`)
    this.status = status
    this.error = error
  }
}

async function ask(path, traits = {}) {
  const stop = new AbortController()
  const late = setTimeout(() => stop.abort(), WITHIN_MS)
  try {
    const answer = await fetch(path, { cache: 'no-store', redirect: 'error', credentials: 'same-origin', signal: stop.signal, ...traits })
    if (answer.ok || answer.status === 304) return answer
    let body = null
    try { body = await answer.json() } catch { /* no words */ }
    throw new Answered(answer.status, body && body.error)
  } finally {
    clearTimeout(late)
  }
}

function parts(entries) {
  const found = [[]]
  let bytes = 0
  for (const entry of entries) {
    const size = JSON.stringify(entry).length
    if (found.at(-1).length && (found.at(-1).length >= MOST || bytes + size > MOST_BYTES)) {
      found.push([])
      bytes = 0
    }
    found.at(-1).push(entry)
    bytes += size
  }
  return found.filter(p => p.length)
}

/** Which jobs this phone is paired for, and under what name. */
export const me = async () => (await ask('/site/api/me')).json()

/** The days of a job: from the desk where that answers, else as the phone kept them. */
export async function bundle(box, job) {
  const kept = await box.remembered(`bundle:${job}`)
  try {
    const answer = await ask(`/site/api/${job}/bundle`, kept ? { headers: { 'if-none-match': kept.tag } } : {})
    if (answer.status !== 304) {
      const fresh = { tag: answer.headers.get('etag'), days: await answer.json() }
      await box.remember(`bundle:${job}`, fresh)
      return fresh.days
    }
  } catch (error) {
    if (!kept) throw error
  }
  return kept.days
}

/** Keep a job in step with the desk. `tell` hears `{state, says, waiting, refused, ahead}`; `heard` what
 * the records changed, with the days as they are then. */
export function syncing(box, job, tell = () => {}, heard = () => {}) {
  const api = `/site/api/${job}`
  let timer, fails = 0, running = null, again = false, stopped = false, ahead = 0

  async function send() {
    const here = (await box.waiting()).filter(i => i.entry).map(i => i.entry)
    for (const entries of parts(here)) {
      const body = JSON.stringify({ device: box.device, sent_at: new Date().toISOString(), job, entries })
      const answer = await (await ask(`${api}/entries`, { method: 'POST', body, headers: { 'content-type': 'application/json' } })).json()
      ahead = answer.ahead_s
      await box.answered(answer.kept, answer.refused)
    }
    const todo = await packs()
    await Promise.all(Array.from({ length: AT_ONCE }, async () => { for (let some = todo.shift(); some; some = todo.shift()) await bring(some) }))
  }

  /** Bring some photos in one request: the desk takes one pack to its disk while the next is on its way. */
  async function bring(some) {
    const head = `${JSON.stringify(some.map(p => [p.sha, p.blob.size]))}\n`
    try {
      const answer = await (await ask(`${api}/photos`, { method: 'POST', body: new Blob([head, ...some.map(p => p.blob)]), headers: { 'content-type': 'application/octet-stream' } })).json()
      for (const sha of answer.kept) await box.photoAnswered(sha)
      for (const one of answer.refused) await box.photoAnswered(one.id, one.error)
    } catch (error) {
      if (some.length > 1 || ![400, 413, 415].includes(error.status)) throw error
      await box.photoAnswered(some[0].sha, error.error || { what: error.message })
    }
  }

  /** Photos that wait, so many at once as a weak signal carries within the minute. */
  async function packs() {
    const found = [[]]
    let bytes = 0
    for (const { sha } of await box.photosWaiting()) {
      const blob = await box.photo(sha)
      if (!blob) continue
      if (found.at(-1).length && bytes + blob.size > MOST_PACKED) { found.push([]); bytes = 0 }
      found.at(-1).push({ sha, blob })
      bytes += blob.size
    }
    return found.filter(p => p.length)
  }

  async function fetched() {
    const mine = await digest((await box.all()).filter(i => i.state === 'sent').map(i => i.id))
    const answer = await (await ask(`${api}/entries?digest=${mine}`)).json()
    if (!answer.same) await box.merge(answer.entries, answer.wanted)
    else if (answer.wanted.length) {
      const short = new Set(answer.wanted)
      for (const sha of short) if (await box.photo(sha)) { await box.merge((await box.all()).map(i => i.entry), answer.wanted); break }
    }
  }

  /** What the desk works out anew from the records: asked once for each log. */
  async function changes() {
    const of = await digest((await box.all()).filter(i => i.state === 'sent').map(i => i.id)), name = `changed:${job}`
    const known = await box.remembered(name)
    if (known && known.of === of) return
    const told = await (await ask(`${api}/changed`)).json(), days = await bundle(box, job)
    await box.remember(name, { ...told, of })
    heard(told, days)
  }

  async function once() {
    await report('sending', 'Sending to the desk…')
    try {
      for (let n = 0; n < 3; n++) {
        await send()
        await fetched()
        if (!(await box.waiting()).length) break
      }
      fails = 0
      await report('sent', ahead > 60 || ahead < -60
        ? `All sent. This phone's clock is ${Math.abs(Math.round(ahead / 60))} minutes ${ahead > 0 ? 'ahead' : 'behind'}; the desk puts the times right.` : 'All sent: the desk has everything.')
      changes().catch(() => {}) // the desk may be working it out still: asked again at the next sync
    } catch (error) {
      fails++
      const status = error.status || 0
      const state = status === 401 || status === 403 ? 'unpaired' : status === 507 ? 'full' : status ? 'waiting' : 'away'
      await report(state, status ? `${error.message}. Everything is kept on this phone.` : AWAY)
    }
    if (!stopped) {
      clearTimeout(timer)
      timer = setTimeout(now, fails ? Math.min(SOON_MS * 2 ** fails, LATEST_MS) : EVERY_MS)
    }
  }

  async function report(state, says) {
    const waiting = (await box.waiting()).length, refused = (await box.refused()).length
    tell({ state, says: refused ? `${says} ${refused} not taken by the desk: look at them.` : says, waiting, refused, ahead })
  }

  /** Sync now; what is asked while it runs is done right after. One window of the phone at a time. */
  function now() {
    if (running) { again = true; return running }
    const run = navigator.locks ? () => navigator.locks.request(`evenfall-sync-${job}`, once) : once
    running = run().finally(() => {
      running = null
      if (again && !stopped) { again = false; now() }
    })
    return running
  }

  const seen = () => { if (document.visibilityState === 'visible') { fails = 0; now() } }
  const back = () => { fails = 0; now() }
  addEventListener('online', back)
  document.addEventListener('visibilitychange', seen)
  return {
    now,
    stop() {
      stopped = true
      clearTimeout(timer)
      removeEventListener('online', back)
      document.removeEventListener('visibilitychange', seen)
    },
  }
}

// Talking with the desk's own server: one shape of answer, one shape of error, lines as they come.

/** What the server says went wrong: where, what, what was expected, what to do. */
export class Wrong extends Error {
  constructor(status, body) {
    const e = body?.error ?? {}
    const says = [e.what, e.expected && `expected ${e.expected}`].filter(Boolean).join(', ') || `The desk answered ${status}.`
    super(e.do ? `${says}; ${e.do}` : says)
    Object.assign(this, { status, code: e.code, where: e.where ?? '', what: e.what, expected: e.expected, body })
  }
}

const BUSY = 503 // the job was changed while it was worked: ask again
const AGAIN = 10

/** Have an answer begin, or say that nobody is there. */
async function reach(path, { method, body, signal }) {
  try {
    return await fetch(path, {
      method: method ?? (body === undefined ? 'GET' : 'POST'), signal,
      ...(body === undefined || body instanceof FormData ? { body } : { headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) }),
    })
  } catch (e) {
    if (e.name === 'AbortError') throw e
    throw new Wrong(0, { error: { code: 'away', what: 'the desk does not answer', do: 'Is the window with “evenfall desk” still open? What you typed stays here.' } })
  }
}

/** Ask for data, or send some. */
export async function call(path, { method, body, signal } = {}, tries = AGAIN) {
  const answer = await reach(path, { method, body, signal })
  if (answer.status === BUSY && body === undefined && tries) {
    await new Promise(done => setTimeout(done, 500))
    return call(path, { method, body, signal }, tries - 1)
  }
  const text = await answer.text()
  const data = text && answer.headers.get('content-type')?.includes('json') ? JSON.parse(text) : text
  if (!answer.ok) throw new Wrong(answer.status, data)
  return data
}

/** The same in fewer words: send some where there are some. */
export const ask = (path, body, method) => call(path, { body, method })

/** Read newline-delimited JSON, an object as soon as its line is there. */
export async function* lines(path, { body, signal } = {}) {
  const answer = await reach(path, { body, signal })
  if (!answer.ok) throw new Wrong(answer.status, await answer.json().catch(() => null))
  let rest = ''
  const reader = answer.body.pipeThrough(new TextDecoderStream()).getReader()
  for (;;) {
    const { value, done } = await reader.read()
    if (done) break
    const parts = (rest + value).split('\n')
    rest = parts.pop()
    for (const part of parts) if (part.trim()) yield JSON.parse(part)
  }
  if (rest.trim()) yield JSON.parse(rest)
}

const drawn = new Map()

/** Fetch a drawing once for each revision and size. */
export function drawing(job, revision, name, width, height) {
  const size = `width=${Math.round(width)}${height ? `&height=${Math.round(height)}` : ''}`
  const path = `/api/jobs/${job}/drawings/${encodeURIComponent(name)}.svg?${size}&r=${revision}`
  if (!drawn.has(path)) {
    if (drawn.size > 120) drawn.clear()
    drawn.set(path, call(path).catch(e => { drawn.delete(path); throw e }))
  }
  return drawn.get(path)
}

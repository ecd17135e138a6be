// A signature on the screen, as strokes in thousandths of the field.
import { NAMED, act, asking, h, s, say, words } from './kit.js'

const WHOLE = 1000, MOST_STROKES = 60, MOST_POINTS = 160, NEAR = 8

/** Ask for a name and a signature. Gives `{ by, strokes }` or null. */
export async function sign(title, says, names = []) {
  const by = await words('Who signs?', { quick: names, most: 80, go: 'Next', line: { ...NAMED, autocomplete: 'off' } })
  if (!by) return null
  const strokes = await asking(title, done => {
    const found = []
    let now = null
    const ink = s('svg', { viewBox: `0 0 ${WHOLE} ${WHOLE}`, preserveAspectRatio: 'none', 'aria-hidden': 'true' })
    const field = h('div', { class: 'signing', id: 'signing', role: 'img', 'aria-label': `Field for the signature of ${by}` }, ink)
    const wrong = h('p', { class: 'wrong', role: 'alert' })
    const at = event => {
      const r = field.getBoundingClientRect()
      return [(event.clientX - r.left) / r.width, (event.clientY - r.top) / r.height].map(v => Math.round(Math.min(Math.max(v, 0), 1) * WHOLE))
    }
    const redraw = () => ink.replaceChildren(...found.map(p => s('path', { d: `M${p.map(q => q.join(' ')).join('L')}${p.length === 1 ? 'h1' : ''}` })))
    field.addEventListener('pointerdown', event => {
      event.preventDefault()
      if (found.length >= MOST_STROKES) return
      if (field.setPointerCapture) field.setPointerCapture(event.pointerId)
      now = [at(event)]
      found.push(now)
      redraw()
    })
    field.addEventListener('pointermove', event => {
      if (!now || now.length >= MOST_POINTS) return
      const p = at(event), last = now[now.length - 1]
      if (Math.hypot(p[0] - last[0], p[1] - last[1]) >= NEAR) { now.push(p); redraw() }
    })
    for (const end of ['pointerup', 'pointercancel']) field.addEventListener(end, () => { now = null })
    const keep = () => {
      const long = found.reduce((all, p) => all + p.slice(1).reduce((sum, q, i) => sum + Math.hypot(q[0] - p[i][0], q[1] - p[i][1]), 0), 0)
      if (long > WHOLE / 10) return done(found)
      wrong.textContent = 'Nothing is signed yet. Sign in the field with a finger.'
      say(wrong.textContent)
    }
    return [h('p', { class: 'signs' }, says), field, h('p', { class: 'by' }, by), wrong, act('Signed', keep),
      act('Rub out', () => { found.length = 0; redraw() }, { class: 'act plain' })]
  })
  return strokes && { by, strokes }
}

/** Show a signature again. */
export const signature = strokes => s('svg', { class: 'signed', viewBox: `0 0 ${WHOLE} ${WHOLE}`, preserveAspectRatio: 'none', role: 'img', 'aria-label': 'Signature' },
  strokes.map(p => s('path', { d: `M${p.map(q => q.join(' ')).join('L')}${p.length === 1 ? 'h1' : ''}` })))

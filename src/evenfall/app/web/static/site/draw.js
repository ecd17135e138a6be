// Drawing on a photo by finger or by keys: arrows, rings and notes, in thousandths of its sides.
import { act, asking, h, s, say, words } from './kit.js'

const WHOLE = 1000, STEP = 25, SHORT = 30
const TOOLS = [['arrow', 'Arrow'], ['ring', 'Ring'], ['note', 'Note']]

/** A surface on which a finger points; arrow keys move a cross, Enter points. */
export function pointing(surface, { draw, moved, done }) {
  const at = event => {
    const r = surface.getBoundingClientRect()
    return [(event.clientX - r.left) / r.width, (event.clientY - r.top) / r.height].map(v => Math.round(Math.min(Math.max(v, 0), 1) * WHOLE))
  }
  let from = null, cross = [WHOLE / 2, WHOLE / 2]
  surface.addEventListener('pointerdown', event => { from = at(event); event.preventDefault(); if (surface.setPointerCapture) surface.setPointerCapture(event.pointerId) })
  surface.addEventListener('pointermove', event => { if (from) draw(from, at(event)) })
  surface.addEventListener('pointerup', event => { if (from) { const start = from; from = null; done(start, at(event)) } })
  surface.addEventListener('pointercancel', () => { from = null; draw(null, null) })
  surface.addEventListener('keydown', event => {
    const way = { ArrowLeft: [-STEP, 0], ArrowRight: [STEP, 0], ArrowUp: [0, -STEP], ArrowDown: [0, STEP] }[event.key]
    if (way) { cross = cross.map((v, i) => Math.min(Math.max(v + way[i], 0), WHOLE)); moved(cross) }
    else if (event.key === 'Enter' || event.key === ' ') done(cross, cross)
    else return
    event.preventDefault()
  })
}

/** Ask for marks on a picture. Gives a list, empty where nothing is drawn; null to go back. */
export async function drawOn(blob) {
  const url = URL.createObjectURL(blob), marks = []
  let tool = 'arrow', writing = null
  const answer = async () => asking('Point at it, or keep it as it is', done => {
    const image = h('img', { src: url, alt: 'The photo just taken' })
    const over = drawing([])
    const surface = h('div', { class: 'photo', tabindex: '0', role: 'application', 'aria-label': 'The photo. Arrow keys move a cross, Enter puts the mark there.' }, image, over)
    const redraw = (extra, cross) => over.replaceChildren(...marks.concat(extra || []).map(m => drawn(m, surface)), ...cross ? [crossed(cross)] : [])
    const tools = h('div', { class: 'tools', role: 'group', 'aria-label': 'What is drawn' }, TOOLS.map(([kind, name]) =>
      h('button', { type: 'button', 'aria-pressed': String(kind === tool), click: event => {
        tool = kind
        for (const b of tools.children) b.setAttribute('aria-pressed', String(b === event.currentTarget))
      } }, name)), h('button', { type: 'button', click: () => { marks.pop(); redraw() } }, 'Undo'))
    image.onload = () => redraw()
    pointing(surface, {
      draw: (a, b) => redraw(a && tool !== 'note' ? [made(tool, a, b)] : []),
      moved: cross => redraw([], cross),
      done: (a, b) => {
        if (tool === 'note') { writing = b; done('write') } else { marks.push(made(tool, a, b)); redraw(); say(`${tool} drawn`) }
      },
    })
    return [tools, surface, act('Keep', () => done('keep'))]
  })
  try {
    for (;;) {
      const said = await answer()
      if (said !== 'write') return said === 'keep' ? marks : null
      const text = await words('What does the note say?', { most: 200, quick: ['rot', 'gap', 'wet', 'nail', 'here'] })
      if (text) marks.push({ kind: 'note', points: [writing], text })
    }
  } finally {
    URL.revokeObjectURL(url)
  }
}

/** Marks over a picture. */
export const drawing = (marks, surface) => s('svg', { viewBox: `0 0 ${WHOLE} ${WHOLE}`, preserveAspectRatio: 'none', 'aria-hidden': 'true' }, marks.map(m => drawn(m, surface)))

/** A mark between two points; a touch without a stroke gets a usual length. */
function made(kind, a, b) {
  const short = Math.hypot(a[0] - b[0], a[1] - b[1]) < SHORT
  const from = short ? (kind === 'arrow' ? [Math.max(b[0] - 150, 0), Math.max(b[1] - 150, 0)] : b) : a
  const to = short && kind === 'ring' ? [Math.min(b[0] + 90, WHOLE), b[1]] : b
  return { kind, points: [from, to], text: '' }
}

function drawn(mark, surface) {
  const r = surface.getBoundingClientRect(), tall = r.width && r.height ? r.width / r.height : 1
  const [a, b = a] = mark.points
  if (mark.kind === 'note') return s('g', { class: 'drawn' }, s('text', { transform: `translate(${a[0]} ${a[1]}) scale(1 ${tall})` }, mark.text))
  const path = mark.kind === 'ring' ? ring(a, b, tall) : arrow(a, b, tall)
  return s('g', { class: 'drawn' }, s('path', { d: path, class: 'under' }), s('path', { d: path }))
}

/** A circle round `a` through `b` as it is seen, though the drawing is stretched. */
function ring(a, b, tall) {
  const r = Math.max(Math.hypot(b[0] - a[0], (b[1] - a[1]) / tall), 20)
  return `M${a[0] - r} ${a[1]}a${r} ${r * tall} 0 1 0 ${2 * r} 0a${r} ${r * tall} 0 1 0 ${-2 * r} 0`
}

function arrow(a, b, tall) {
  const way = Math.atan2((b[1] - a[1]) / tall, b[0] - a[0])
  const wing = turn => `${(b[0] - 70 * Math.cos(way + turn)).toFixed(0)} ${(b[1] - 70 * tall * Math.sin(way + turn)).toFixed(0)}`
  return `M${a[0]} ${a[1]}L${b[0]} ${b[1]}M${wing(0.5)}L${b[0]} ${b[1]}L${wing(-0.5)}`
}

export const crossed = ([x, y]) => s('path', { class: 'cross', d: `M${x - 60} ${y}H${x + 60}M${x} ${y - 60}V${y + 60}` })

// The roof of a day drawn for a thumb: today's bays, tonight's covers and night line, where water leaves.
import { act, asking, choose, h, s } from './kit.js'
import { crossed, pointing } from './draw.js'
import { here } from './state.js'

const WIDE = 340, EDGE = 30, WHOLE = 1000
const COVERS = { felt: 'old felt', open: 'open', vcl: 'VCL', sheet: 'sheet' }

/** Hatches, once a page. */
export const hatches = () => {
  const hatch = (id, size, turn, ...inside) => s('pattern', { id: `h-${id}`, width: size, height: size, patternUnits: 'userSpaceOnUse', patternTransform: turn > 0 && `rotate(${turn})` }, inside)
  return s('svg', { class: 'away', 'aria-hidden': 'true', width: '0', height: '0' }, s('defs', {},
    hatch('felt', 9, 0, s('circle', { cx: 2, cy: 2, r: 1.1, class: 'f-ink' }), s('circle', { cx: 6.5, cy: 6.5, r: 1.1, class: 'f-ink' })),
    hatch('vcl', 9, 45, s('path', { d: 'M0 0V9', class: 'p-eve' })),
    hatch('open', 7, 0, s('path', { d: 'M0 3H7', class: 'p-ink' })),
    hatch('wall', 13, 45, s('path', { d: 'M0 0V13M3.5 0V13', class: 'p-ink' }))))
}

/** From metres on the plan to the drawing, and back. */
function scale() {
  const ring = here.bundle.plan.ring, xs = ring.map(p => p[0]), ys = ring.map(p => p[1])
  const left = Math.min(...xs), top = Math.max(...ys), wide = Math.max(...xs) - left, tall = top - Math.min(...ys)
  const k = Math.min((WIDE - 2 * EDGE) / wide, 300 / tall), off = (WIDE - k * wide) / 2
  const high = k * tall + 2 * EDGE
  return {
    high,
    at: ([x, y]) => [off + (x - left) * k, EDGE + (top - y) * k],
    back: ([u, v]) => ({ x_m: +(left + (u / WHOLE * WIDE - off) / k).toFixed(2), y_m: +(top - (v / WHOLE * high - EDGE) / k).toFixed(2) }),
  }
}

const d = points => `M${points.map(p => p.map(v => v.toFixed(1)).join(' ')).join('L')}Z`
const middle = ps => { // of an area, by its triangles
  let area = 0, x = 0, y = 0
  ps.forEach((p, i) => { const q = ps[(i + 1) % ps.length], c = p[0] * q[1] - q[0] * p[1]; area += c; x += (p[0] + q[0]) * c; y += (p[1] + q[1]) * c })
  return [x / 3 / area, y / 3 / area]
}

/** The nearest place above or below that lies on no opening. */
const clear = ([x, y], boxes) => [x, [0, -30, 30, -45, 45, -60, 60].map(off => y + off).find(v => !boxes.some(ring => inside(ring, 0, x) && inside(ring, 1, v))) || y]
const inside = (ring, axis, v) => { const all = ring.map(p => p[axis]); return v > Math.min(...all) - 14 && v < Math.max(...all) + 14 }

/** Draw the roof of a day, with marks where something was seen. */
export function roof(day, marks = []) {
  const { plan } = here.bundle, { at, high } = scale()
  const covers = new Map(day ? day.night.covers : [])
  const names = [], boxes = plan.openings.map(o => o.ring.map(at))
  const bays = plan.bays.map(b => {
    const ring = b.ring.map(at), busy = day && day.bays.includes(b.number), [x, y] = clear(middle(ring), boxes)
    names.push(s('text', { x, y: y + 7, class: 'b' }, b.number))
    return s('g', {}, s('path', { d: d(ring), class: `bay ${covers.get(b.number) || 'felt'}` }), busy && s('path', { d: d(ring), class: 'busy' }))
  })
  const walls = plan.sides.filter(i => i.kind === 'wall').map(i => {
    const a = at(i.a), b = at(i.b), out = [i.outwards[0] * 11, -i.outwards[1] * 11]
    return s('path', { d: d([a, b, b.map((v, n) => v + out[n]), a.map((v, n) => v + out[n])]), class: 'wall' })
  })
  const holes = plan.openings.map(o => s('g', {}, s('path', { d: d(o.ring.map(at)), class: 'hole' }), o.kind === 'rooflight' && s('path', { d: `${d(o.ring.map(at))}M${[0, 2].map(i => at(o.ring[i]).join(' ')).join('L')}M${[1, 3].map(i => at(o.ring[i]).join(' ')).join('L')}`, class: 'thin' })))
  const water = (day ? day.night.leaves : []).map(id => plan.sides.find(i => `side:${i.name}` === id)).filter(Boolean).map(i => {
    const a = at(i.a), b = at(i.b), o = [i.outwards[0], -i.outwards[1]]
    return [0.3, 0.7].map(share => {
      const m = a.map((v, n) => v + (b[n] - v) * share), tip = m.map((v, n) => v + o[n] * 20)
      const wing = side => `${tip.map((v, n) => (v - o[n] * 8 + side * 6 * [-o[1], o[0]][n]).toFixed(1)).join(' ')}`
      return s('path', { class: 'wet', d: `M${m.map((v, n) => v - o[n] * 10).join(' ')}L${tip.join(' ')}M${wing(1)}L${tip.join(' ')}L${wing(-1)}` })
    })
  })
  const night = (day ? day.night.lines : []).map(([a, b]) => nightLine(at(a), at(b)))
  const ring = plan.ring.map(at)
  const letters = plan.corners.map((name, i) => { // outwards of both its sides
    const out = plan.sides.filter(p => p.name.split('-').includes(name)).reduce((sum, p) => sum.map((v, n) => v + p.outwards[n]), [0, 0])
    return s('text', { x: ring[i][0] + out[0] * 15, y: ring[i][1] - out[1] * 15 + 6 }, name)
  })
  const seen = marks.map(m => { const [x, y] = at([m.place.x_m, m.place.y_m]); return s('g', { class: 'seen' }, s('circle', { cx: x, cy: y, r: 8 }), s('text', { x, y: y + 5 }, m.sign)) })
  const told = day ? `The roof. Work today: ${day.where} Tonight: ${day.night.covers.map(([b, c]) => `bay ${b} under ${COVERS[c]}`).join('; ')}.` : 'The roof.'
  return s('svg', { class: 'roof', viewBox: `0 0 ${WIDE} ${high.toFixed(0)}`, role: 'img', 'aria-label': told },
    bays, walls, s('path', { d: d(ring), class: 'outline' }), holes, night, water, names, letters, seen)
}

/** The heaviest line, with teeth on its right hand as it runs on the plan. */
function nightLine(a, b) {
  const long = Math.hypot(b[0] - a[0], b[1] - a[1]), u = [(b[0] - a[0]) / long, (b[1] - a[1]) / long], right = [-u[1], u[0]]
  const teeth = []
  for (let t = 14; t < long - 6; t += 24) {
    const p = n => a.map((v, i) => v + u[i] * (t + n))
    teeth.push(d([p(-5), p(5), p(0).map((v, i) => v + right[i] * 9)]))
  }
  return s('g', { class: 'night' }, s('path', { d: `M${a.join(' ')}L${b.join(' ')}` }), s('path', { class: 'teeth', d: teeth.join('') }))
}

/** What the hatches of a day mean. */
export function key(day) {
  const shown = [...new Set(day.night.covers.map(c => c[1]))]
  return h('p', { class: 'key' }, shown.map(c => [s('svg', { viewBox: '0 0 28 18', 'aria-hidden': 'true' }, s('rect', { width: 28, height: 18, class: `bay ${c}` })), ` ${COVERS[c]} tonight  `]),
    day.bays.length > 0 && [s('svg', { viewBox: '0 0 28 18', 'aria-hidden': 'true' }, s('rect', { x: 1, y: 1, width: 26, height: 16, class: 'busy' })), ' worked on today'])
}

/** Ask for a place. Gives `{ place, says }`, the place null where it lies elsewhere; null to go back. */
export async function where(title, bay) {
  return asking(title, done => {
    const { high, back } = scale(), day = here.day
    const drawing = roof(day)
    const surface = h('div', { class: 'plan', tabindex: '0', role: 'application', 'aria-label': 'The plan. Arrow keys move a cross, Enter takes the place.' }, drawing)
    let last = null
    const cross = p => { if (last) last.remove(); last = crossed([0, 0]); last.setAttribute('transform', `translate(${p[0] / WHOLE * WIDE} ${p[1] / WHOLE * high}) scale(.35)`); drawing.append(last) }
    pointing(surface, { draw: (a, b) => b && cross(b), moved: cross, done: (a, b) => { cross(b); setTimeout(() => done({ place: back(b) }), 160) } })
    return [h('p', {}, 'Touch the place.'), surface, act(bay ? `Only bay ${bay}, no place` : 'No place', () => done({ place: null }), { class: 'act plain' })]
  })
}

/** Ask which bay, where the roof has more than one. Gives a number, 0 for the whole roof, null to go back. */
export async function bay(title) {
  const bays = here.bundle.plan.bays
  if (bays.length < 2) return bays.length ? bays[0].number : 0
  return choose(title, [...bays.map(b => [b.number, `Bay ${b.number}`]), [0, 'The whole roof']])
}

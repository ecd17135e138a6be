// The true section beside the staff, drawn here so that the roof climbs while the thumb moves.
import { h, whole } from './dom.js'

const FRAMED = ['sill', 'sash', 'threshold']
const FREE = ['cable', 'flue']
const HATCH = { firring: 'wood', deck: 'wood', 'tapered board': 'foam', board: 'foam', overlay: 'wood' }
const THIN = 22 // a layer thinner than this carries no lettering, px
const APART = 8 // holes nearer than this are left to the table, px
export const STAFF = 58

/** Heights of a stand over the old felt, for boards of `mm`, in mm. */
export function levels(stick, stand, mm) {
  const zero = (stand?.base ?? 0) + stick.felt
  const laid = (stand?.courses ?? []).reduce((sum, c) => sum + (c.name === 'deck' ? 0 : c.mm), 0)
  const sheet = (stand ? stand.base + laid : stick.taken) - zero + mm - stick.taken
  const height = stand ? stand.available - zero : Infinity
  const must = sheet + (stand?.required ?? 0)
  return { zero, sheet, height, must, left: height - must }
}

/** Draw staff and section; gives the drawing and what a pointer needs to find a hole. */
export function section(stick, stand, mm, wide, high) {
  const now = levels(stick, stand, mm)
  const was = levels(stick, stand, stick.taken)
  const most = levels(stick, stand, Math.max(...stick.holes.map(h => h.mm)))
  const deck = -stick.felt - stick.deck
  const head = most.must + 24
  const top = stand ? Math.max(head, Math.min(now.height + 84, head + 130)) : most.sheet + 60
  const foot = deck - 70
  const k = (high - 16) / (top - foot)
  const y = v => 8 + (top - v) * k
  const wall = wide - Math.min(108, wide * 0.29)
  const from = STAFF + 76
  const alone = wide < STAFF * 3 // the staff by itself, beside a section that the server drew
  const svg = h('svg', { viewBox: `0 0 ${wide} ${high}`, width: wide, height: high, role: 'img', class: 'drawing', 'aria-label': told(stand, now, mm) },
    alone ? [] : [
      beside(stand, now, y, wall, wide, foot, top),
      layers(stick, stand, mm, now, y, from, wall, foot),
      old(stick, was, now, mm, y, from, wall),
      stand && room(stand, now, y, from, wall, top)],
    staff(stick, stand, now, y, mm, top, foot, alone ? STAFF + 12 : from, alone))
  return { svg, y, now }
}

function told(stand, { sheet, height, left }, mm) {
  const says = `Boards ${mm}: the sheet lies ${whole(sheet)} mm above the old felt.`
  if (!stand) return `${says} Nothing stands beside the roof.`
  return `${says} ${stand.word} of ${stand.name} at ${whole(height)}, ${whole(stand.required)} of upstand asked for: ${left < 0 ? `${whole(-left)} too high` : `${whole(left)} left`}.`
}

const band = (x0, y0, x1, y1, hatch) => h('rect', { x: x0, y: Math.min(y0, y1), width: Math.max(0, x1 - x0), height: Math.abs(y1 - y0), class: `thin a-${hatch}` })
const text = (x, y, words, traits = {}) => [
  h('text', { x, y, 'aria-hidden': 'true', ...traits, class: `halo ${traits.class ?? ''}` }, words),
  h('text', { x, y, ...traits, class: traits.class ?? '' }, words),
]
const gap = (x0, x1, at) => { // a break: what goes on beyond the drawing
  const m = (x0 + x1) / 2
  return h('path', { d: `M${x0} ${at}H${m - 5}l3 -6l4 12l3 -6H${x1}`, class: 'thin', fill: 'none' })
}

function beside(stand, now, y, wall, wide, foot, top) {
  if (!stand) return []
  const edge = wide - 4
  if (FREE.includes(stand.kind)) {
    return now.height > top ? [] : [h('circle', { cx: wall + 40, cy: y(now.height), r: 9, class: 'line' }), h('path', { d: `M${wall} ${y(now.height)}H${wall + 30}`, class: 'was' })]
  }
  const framed = FRAMED.includes(stand.kind)
  const seen = now.height < top - 30
  const head = framed && seen ? now.height : top
  const parts = [
    h('rect', { x: wall, y: y(head), width: edge - wall, height: y(foot) - y(head), class: 'a-wall' }),
    h('path', { d: `M${wall} ${y(foot)}V${y(head)}`, class: 'cut' }), gap(wall - 6, edge, y(foot)),
  ]
  if (!framed || !seen) {
    parts.push(gap(wall - 6, edge, y(top)))
    if (seen) parts.push(h('path', { d: `M${wall} ${y(now.height)}H${edge}`, class: 'cut' }))
    return parts
  }
  const sill = stand.kind === 'sash' ? 0 : 14
  const up = y(now.height)
  parts.push(h('rect', { x: wall - sill, y: up - 11, width: edge - wall + sill, height: 11, class: 'line f-sheet' }))
  parts.push(band(wall + 10, up - 11, wall + 46, up - 40, 'wood'))
  parts.push(h('path', { d: `M${wall + 24} ${up - 40}V${y(top) + 2}M${wall + 31} ${up - 40}V${y(top) + 2}`, class: 'thin' }), gap(wall + 12, wall + 44, y(top) + 2))
  return parts
}

function layers(stick, stand, mm, now, y, from, wall, foot) {
  const parts = []
  const joist = (from + wall) / 2 - 16
  const deckTop = -stick.felt
  parts.push(h('rect', { x: joist, y: y(deckTop - stick.deck), width: 32, height: y(foot) - y(deckTop - stick.deck), class: 'thin a-wood' }), gap(joist - 6, joist + 38, y(foot)))
  if (!stick.lifts) parts.push(band(from, y(deckTop - stick.deck), wall, y(deckTop), 'deck'))
  let z = deckTop - (stick.lifts ? stick.deck : 0)
  for (const c of stand?.courses ?? [{ name: 'board', mm: stick.taken }, { name: 'sheet', mm: 2 }]) {
    const thick = c.name === 'board' ? c.mm + mm - stick.taken : c.mm
    if (c.name === 'VCL') parts.push(h('path', { d: `M${from} ${y(z)}H${wall}`, class: 'night' }))
    else if (c.name !== 'sheet') {
      parts.push(band(from, y(z), wall, y(z + thick), HATCH[c.name] ?? 'wood'))
      const px = y(z) - y(z + thick)
      if (px > THIN) parts.push(text((from + wall) / 2, (y(z) + y(z + thick)) / 2 + 6, `${c.name} ${whole(thick)}`, { class: `m ${c.name === 'board' ? 't-b' : ''}`, 'font-size': c.name === 'board' ? 17 : 14 }))
    }
    z += thick
  }
  const up = stand && !FREE.includes(stand.kind) ? `V${y(now.must)}` : ''
  parts.push(h('path', { d: `M${from} ${y(now.sheet)}H${wall - 2}${up}`, class: 'cut sheet' }))
  parts.push(gapAt(from, y(now.sheet) - 10, y(deckTop - stick.deck) + 8))
  return parts
}

const gapAt = (x, y0, y1) => {
  const m = (y0 + y1) / 2
  return h('path', { d: `M${x} ${y0}V${m - 5}l-6 3l12 4l-6 3V${y1}`, class: 'thin', fill: 'none' })
}

function old(stick, was, now, mm, y, from, wall) {
  const parts = [
    h('path', { d: `M${STAFF + 18} ${y(0)}H${wall}`, class: 'was' }),
    text(from - 6, y(0) + 16, 'old felt', { class: 'e t-pen' }),
  ]
  if (mm !== stick.taken) {
    parts.push(h('path', { d: `M${STAFF + 18} ${y(was.sheet)}H${wall}`, class: 'was' }))
    if (Math.abs(y(was.sheet) - y(now.sheet)) > 15) parts.push(text(from + 8, y(was.sheet) + 15, `was ${whole(was.sheet)}`, { class: 't-pen' }))
  }
  return parts
}

function room(stand, now, y, from, wall, top) {
  const { height, must, sheet, left } = now
  const seen = height < top
  const at = seen ? y(height) : y(top) + 18
  const bad = left < 0
  const near = left < 15
  const parts = []
  if (seen) parts.push(h('path', { d: `M${STAFF + 18} ${at}H${wall}`, class: 'limit' }))
  const words = bad ? `${whole(-left)} too high` : `${whole(left)} left`
  const high = Math.min(at, y(must)) - 9
  parts.push(text(STAFF + 24, at - 8, `${stand.word} ${whole(height)}`, { class: 't-b' }))
  parts.push(text(wall - 20, high < 16 ? at + 20 : high, words, { class: `e ${near ? 't-red' : 't-b'}` }))
  const x = wall - 22
  if (stand.required * 1 > 8 && y(sheet) - y(must) > 18) {
    parts.push(h('path', { d: `M${x} ${y(sheet)}V${y(must)}M${x - 5} ${y(sheet) + 5}l10 -10M${x - 5} ${y(must) + 5}l10 -10`, class: 'thin' }))
    const mid = (y(sheet) + y(must)) / 2
    parts.push(text(x - 6, mid, y(sheet) - y(must) > 100 ? `${whole(stand.required)} upstand` : whole(stand.required), { class: 'm t-b', transform: `rotate(-90 ${x - 6} ${mid})` }))
  }
  if (Math.abs(left) > 1 && seen) {
    const [a, b] = [y(must), at].sort((p, q) => p - q)
    parts.push(h('rect', { x: x - 6, y: a, width: 12, height: Math.max(b - a, 1.5), class: near ? 'f-red' : 'a-room' }))
  }
  return parts
}

function staff(stick, stand, now, y, mm, top, foot, from, alone) {
  const x = STAFF
  const base = now.sheet - mm
  const limit = stand ? now.height - stand.required : Infinity
  const low = Math.max(foot, -40)
  const tube = (to, kind) => h('rect', { x: x - 12, y: y(top), width: 24, height: y(to) - y(top), class: kind })
  const parts = [tube(low, 'thin f-slip')]
  if (limit < top) {
    parts.push(tube(limit, 'forbid'), tube(limit, 'a-no'))
    parts.push(h('path', { d: `M${x - 12} ${y(limit)}h24`, class: 'red' }))
  }
  parts.push(tube(low, 'thin'))
  let d = ''
  for (let v = Math.ceil(low / 10) * 10; v <= top; v += 10) d += `M${x - 12} ${y(v)}h-${v % 100 === 0 ? 12 : v % 50 === 0 ? 8 : 4}`
  parts.push(h('path', { d, class: 'thin' }))
  for (let v = Math.ceil(low / 100) * 100; v <= top; v += 100) parts.push(h('text', { x: x - 28, y: y(v) + 5, class: 'e t-b' }, whole(v)))
  const last = y(now.sheet)
  const holes = [...stick.holes].sort((a, b) => Math.abs(a.mm - mm) - Math.abs(b.mm - mm))
  const shown = [last]
  for (const hole of holes) {
    const at = y(base + hole.mm)
    if (at < y(top) + 4 || shown.some(v => Math.abs(v - at) < APART)) continue
    shown.push(at)
    parts.push(h('circle', { cx: x, cy: at, r: 3.6, class: 'thin f-sheet' }))
  }
  parts.push(h('g', { class: 'clip' },
    h('path', { d: `M${x + 12} ${last}H${from}`, class: 'line' }),
    h('rect', { x: x - 19, y: last - 11, width: 38, height: 22, class: 'f-ink' }),
    h('path', { d: `M${x - 12} ${last - 4}h24M${x - 12} ${last + 4}h24`, class: 'groove' })))
  if (!alone) parts.push(text(from + 8, last - 8, `sheet ${whole(now.sheet)}`, { class: 't-b' }))
  return parts
}

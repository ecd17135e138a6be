// The roof as walked so far, drawn: what is taped in ink, what is guessed in pencil, what does not
// fit in chalk. A side being called is a tape pulled out.

import { h, keyed, put } from './dom.js'

const add = (p, q, k = 1) => [p[0] + q[0] * k, p[1] + q[1] * k]
const sub = (p, q) => [p[0] - q[0], p[1] - q[1]]
const size = (p) => Math.hypot(p[0], p[1])
const unit = (p) => { const s = size(p) || 1; return [p[0] / s, p[1] / s] }
const path = (...points) => points.map((p, i) => `${i ? 'L' : 'M'}${p[0].toFixed(1)} ${p[1].toFixed(1)}`).join('')

export class Plan {
  constructor(svg, chosen) {
    this.svg = svg
    this.chosen = chosen // (what) => void; what is {side} or {table, name} or {at: [x, y], side, along, in}
    svg.addEventListener('click', (press) => this.pressed(press))
  }

  // roof: as the desk tells it; now: {side | between, metres}: the tape in hand
  draw(roof, now = {}, picking = false) {
    const box = this.svg.getBoundingClientRect()
    const wide = Math.max(box.width, 200), high = Math.max(box.height, 160)
    this.roof = roof
    this.picking = picking
    this.scale(roof, wide, high)
    this.labels = []
    this.svg.setAttribute('viewBox', `0 0 ${wide} ${high}`)
    this.svg.setAttribute('aria-label', spoken(roof, now))
    const ring = roof.corners.map((c) => this.at(c.at))
    const parts = [h('path', { d: `${path(...ring)}Z`, class: picking ? 'ground picking' : 'ground' })]
    const knots = roof.corners.map((c, i) => this.corner(c, i, ring)) // their letters come first
    roof.sides.forEach((s, i) => parts.push(this.side(s, ring[i], ring[(i + 1) % ring.length], now)))
    for (const p of roof.placed) parts.push(this.placed(p))
    if (now.between && !roof.sides.some((s) => s.side === now.between)) parts.push(this.tape(now))
    for (const m of roof.misfits) parts.push(this.misfit(m))
    parts.push(...knots)
    parts.push(this.house(ring))
    put(this.svg, parts)
  }

  scale(roof, wide, high) {
    const xs = roof.corners.map((c) => c.at[0]), ys = roof.corners.map((c) => c.at[1])
    const [x0, x1, y0, y1] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)]
    const edge = wide < 500 ? 46 : 70
    const k = Math.min((wide - 2 * edge) / (x1 - x0 || 1), (high - 2 * edge) / (y1 - y0 || 1))
    this.k = k
    this.to = ([x, y]) => [wide / 2 + (x - (x0 + x1) / 2) * k, high / 2 - (y - (y0 + y1) / 2) * k]
    this.from = ([x, y]) => [(x - wide / 2) / k + (x0 + x1) / 2, (high / 2 - y) / k + (y0 + y1) / 2]
  }

  at(p) { return this.to(p) }

  // A point along a side and square in from it, in metres; nothing where there is no such side.
  spot(roof, side, along, into) {
    const i = roof.sides.findIndex((s) => s.side === side)
    if (i < 0) return null
    const a = roof.corners[i].at, u = unit(sub(roof.corners[(i + 1) % roof.corners.length].at, a))
    return add(add(a, u, along), [-u[1], u[0]], into)
  }

  side(s, a, b, now) {
    const u = unit(sub(b, a)), out = [-u[1], u[0]] // the roof lies to the left of a side; y runs down
    const here = now.between === s.side
    const guess = s.taped_m === null
    const g = h('g', {
      class: `side ${here ? 'here' : ''}`, tabindex: 0, role: 'button', 'data-side': s.side,
      'aria-label': `${s.side.replace('-', ' to ')}, ${words(s.kind)}${s.told ? '' : ', guessed'}, ${guess ? `about ${s.length_m.toFixed(1)} metres, not taped yet` : `${s.taped_m.toFixed(3)} metres`}`,
      'aria-current': here ? 'true' : undefined,
      keydown: keyed(() => this.chosen({ side: s.side })),
    }, h('path', { d: path(a, b), class: 'touch' }))
    if (s.kind === 'wall') g.append(h('path', { d: `${path(a, b, add(b, out, 15), add(a, out, 15))}Z`, class: 'a-wall thin' }))
    if (s.kind === 'eaves') g.append(h('path', { d: [6, 13].map((d) => path(add(a, out, d), add(b, out, d))).join(''), class: s.told ? 'thin' : 'pen' }))
    if (s.kind === 'parapet') g.append(h('path', { d: path(add(a, out, 9), add(b, out, 9)), class: 'cut' }))
    if (s.kind === 'verge' || s.kind === 'step' || s.kind === 'party_line') {
      const n = Math.max(2, Math.floor(size(sub(b, a)) / 12)), step = 1 / n
      let d = ''
      for (let i = 0.5; i < n; i++) { const p = add(a, sub(b, a), i * step); d += path(p, add(p, out, 8)) }
      g.append(h('path', { d, class: s.told ? 'thin' : 'pen' }))
    }
    g.append(h('path', { d: path(a, b), class: guess ? 'guess' : 'cut' }))
    if (here) g.append(this.pulled(a, b, now.metres, s.length_m))
    g.append(this.label(guess ? `about ${s.length_m.toFixed(1)}` : s.taped_m.toFixed(3), a, b, [-out[0], -out[1]], guess))
    return g
  }

  // The tape: as long as the number says, against the room that the drawing has for it.
  pulled(a, b, metres, room) {
    const u = unit(sub(b, a)), long = size(sub(b, a)), out = [-u[1], u[0]]
    const reach = metres === undefined ? 0 : Math.min(long, long * (metres / room))
    const end = add(a, u, Math.max(reach, 10))
    return h('g', { class: 'tape' },
      h('path', { d: path(a, end), class: 'blade' }), h('path', { d: path(add(a, u, 3), end), class: 'marks' }),
      h('path', { d: path(add(end, out, 13), add(end, out, -13)), class: 'cut' }))
  }

  tape(now) {
    const [a, b] = this.ends(now.between)
    if (!a || !b) return h('g')
    const room = size(sub(b, a)) / this.k
    return h('g', {}, h('path', { d: path(a, b), class: 'guess' }), this.pulled(a, b, now.metres, room),
      this.label(`about ${room.toFixed(1)}`, a, b, unit([sub(b, a)[1], -sub(b, a)[0]]), true))
  }

  ends(between) {
    const at = Object.fromEntries(this.roof.corners.map((c) => [c.name, this.at(c.at)]))
    return between.split(' ')[0].split('-').map((name) => at[name])
  }

  // Too long for its room it bows; too short it stops short of the corner. Drawn larger, in proportion.
  misfit(m) {
    const [a, b] = this.ends(m.between)
    if (!a || !b) return h('g')
    const u = unit(sub(b, a)), long = size(sub(b, a)), inside = [u[1], -u[0]]
    if (this.roof.misfits.length > 2) return h('path', { d: path(a, b), class: 'red suspect' }) // one of these
    const off = (m.read_m - m.fits_m) / m.fits_m
    const strong = Math.min(0.35, 0.06 + Math.abs(off) * 2)
    const middle = add(add(a, sub(b, a), 0.5), inside, off > 0 ? long * strong : 0)
    const end = off > 0 ? b : add(a, u, long * (1 - strong))
    const d = off > 0 ? `M${a}Q${add(middle, sub(middle, add(a, sub(b, a), 0.5)))} ${b}` : path(a, end)
    const g = h('g', { class: 'misfit' }, h('path', { d: path(a, b), class: 'was' }), h('path', { d, class: 'red' }))
    if (off < 0) g.append(h('path', { d: path(add(end, inside, 9), add(end, inside, -9)), class: 'red' }))
    const p = off > 0 ? add(middle, inside, 4) : add(add(a, sub(end, a), 0.5), inside, 16)
    g.append(this.text(`taped ${m.read_m.toFixed(3)}`, p, 't-red', 0), this.text(`room for ${m.fits_m.toFixed(3)}`, add(p, [0, 22]), 't-pen', 0))
    return g
  }

  placed(p) {
    const ring = p.ring.map((q) => this.at(q))
    const g = h('g', { class: 'placed', tabindex: 0, role: 'button', 'data-name': p.name,
      'aria-label': `${p.name}, ${words(p.kind)}`,
      keydown: keyed(() => this.chosen({ table: p.table, name: p.name })) })
    let middle = ring.reduce((s, q) => add(s, q, 1 / ring.length), [0, 0])
    if (p.table === 'openings') {
      g.append(h('path', { d: `${path(...ring)}Z`, class: 'line opening' }))
      if (p.kind === 'rooflight') g.append(h('path', { d: path(ring[0], ring[2]) + path(ring[1], ring[3]), class: 'hair' }))
      middle = [middle[0], Math.min(...ring.map((q) => q[1])) - 8]
    } else if (p.table === 'windows') {
      const out = unit([-(ring[1][1] - ring[0][1]), ring[1][0] - ring[0][0]])
      g.append(h('path', { d: path(ring[0], ring[1], add(ring[1], out, 15), add(ring[0], out, 15)) + 'Z', class: 'opening line' }),
        h('path', { d: path(add(ring[0], out, 7), add(ring[1], out, 7)), class: 'thin' }))
      middle = add(middle, out, 30)
    } else {
      g.append(h('path', { d: `M${middle[0] - 5} ${middle[1]}h10M${middle[0]} ${middle[1] - 5}v10`, class: 'thin' }))
      middle = add(middle, [0, 17])
    }
    const shown = p.table === 'levels' ? null : this.text(p.table === 'readings' ? p.kind : p.name, middle, 't-pen', 0)
    if (shown) g.append(shown)
    return g
  }

  corner(c, i, ring) {
    const p = ring[i], n = ring.length
    const a = unit(sub(ring[(i + n - 1) % n], p)), b = unit(sub(ring[(i + 1) % n], p))
    const turn = (b[0] * a[1] - b[1] * a[0]) // inside the angle, unless the roof turns in
    let way = unit(add(a, b))
    if (!Number.isFinite(way[0]) || size(add(a, b)) < 0.1) way = [a[1], -a[0]]
    const far = turn > 0 ? 24 : -24
    const q = add(p, way, far)
    this.labels.push([q[0] - 9, q[1] - 10, q[0] + 9, q[1] + 10])
    const turning = this.roof.corners.length > 4 && !c.held
    return h('g', { class: 'corner', 'data-corner': turning ? c.name : undefined, tabindex: turning ? 0 : undefined, role: turning ? 'button' : undefined,
      'aria-label': turning ? `Corner ${c.name}: press where the roof turns the other way` : undefined,
      keydown: turning && keyed(() => this.chosen({ corner: c.name })) },
      turning && h('circle', { cx: p[0], cy: p[1], r: 1, class: 'touch' }),
      h('circle', { cx: p[0], cy: p[1], r: 5.5, class: `knot ${c.held ? '' : 'loose'}` }),
      h('text', { x: q[0], y: q[1] + 7, class: `m halo t-b letter ${c.held ? '' : 't-pen'}` }, c.name))
  }

  house(ring) {
    const s = this.roof.sides[0]
    if (s.kind !== 'wall') return h('g')
    const p = add(add(ring[0], sub(ring[1], ring[0]), 0.5), [0, 36])
    return this.text('the house, at your back', p, 't-pen', 0) ?? h('g')
  }

  label(words, a, b, inside, guess) {
    const mid = add(add(a, sub(b, a), 0.5), inside, 20)
    let turn = Math.atan2(b[1] - a[1], b[0] - a[0]) * 180 / Math.PI
    if (turn > 89 || turn < -91) turn -= Math.sign(turn) * 180
    return this.text(words, mid, guess ? 't-pen' : 't-b', Math.round(turn)) ?? h('g')
  }

  // Lettering that would lie over other lettering is left out; the list says it too.
  text(words, [x, y], kind, turn) {
    const long = words.length * 8.6 + 6, high = 20
    const [w, k] = Math.abs(turn % 180) < 45 ? [long, high] : [high, long]
    const box = [x - w / 2, y - k / 2, x + w / 2, y + k / 2]
    if (this.labels.some((o) => box[0] < o[2] && box[2] > o[0] && box[1] < o[3] && box[3] > o[1])) return null
    this.labels.push(box)
    return h('text', { transform: `translate(${x.toFixed(1)} ${y.toFixed(1)}) rotate(${turn})`, y: 6, class: `m halo ${kind}` }, words)
  }

  pressed(press) {
    const side = press.target.closest?.('[data-side]')?.dataset.side
    const name = press.target.closest?.('[data-name]')?.dataset.name
    if (!this.roof) return
    const corner = press.target.closest?.('[data-corner]')?.dataset.corner
    if (corner && !this.picking) return this.chosen({ corner })
    if (name && !this.picking) return this.chosen({ name, table: this.roof.placed.find((p) => p.name === name)?.table })
    if (side && !this.picking) return this.chosen({ side })
    if (!this.picking) return
    const box = this.svg.getBoundingClientRect()
    this.chosen(this.where(this.from([press.clientX - box.left, press.clientY - box.top])))
  }

  // Along the nearest side, and square in from it.
  where(p) {
    let best
    this.roof.sides.forEach((s, i) => {
      const a = this.roof.corners[i].at, b = this.roof.corners[(i + 1) % this.roof.corners.length].at
      const u = unit(sub(b, a)), w = sub(p, a), long = size(sub(b, a))
      const along = Math.min(long, Math.max(0, w[0] * u[0] + w[1] * u[1]))
      const off = size(sub(p, add(a, u, along)))
      const into = u[0] * w[1] - u[1] * w[0]
      if (!best || off < best.off) best = { side: s.side, along, in: Math.max(0, into), off }
    })
    return best
  }
}

export const words = (kind) => ({ wall: 'house wall', party_line: 'boundary line' })[kind] ?? String(kind).replace(/[_-]/g, ' ')

function spoken(roof, now) {
  const taped = roof.sides.filter((s) => s.taped_m !== null).length
  const wrong = roof.misfits.length ? ` Tape ${roof.misfits.map((m) => m.between).join(', ')} does not fit.` : ''
  const calling = now.between ? ` Now ${now.between.replace('-', ' to ')}.` : ''
  return `The roof so far, ${roof.corners.length} corners, ${taped} of ${roof.sides.length} sides taped, about ${roof.area_m2.toFixed(1)} square metres.${wrong}${calling}`
}

// The rise stick: a clip on a staff with a hole at each thickness on sale; it stops where the sash would jam.
import { attempt, change, desk, drawn as picture } from './desk.js'
import { button, figure, find, fold, follow, h, put, say, whole } from './dom.js'
import { marked } from './fields.js'
import { STAFF, levels, section } from './section.js'

let place = '' // id of a stand, or side:A-B
let mm = 0 // where the clip stands, taken or not
let jam = ''
let drawn = null
let settle = 0
let asking = null
let wait = 0
let tried = null

const data = () => desk.state.stick
const holes = () => data().holes
const hole = (at = mm) => holes().find(x => x.mm === at)
const thickest = () => Math.max(...holes().filter(x => x.fits).map(x => x.mm), holes()[0]?.mm ?? 0)
const SIDE = 'side:'
const sided = () => place.startsWith(SIDE) && place.slice(SIDE.length)
const stand = () => data().stands.find(x => x.id === place) ?? (sided() ? null : data().stands[0])

/** Draw the stick again after a change. */
export function stick() {
  if (!desk.state) return
  tried = null
  places()
  leave()
}

/** The clip goes back to what is taken. */
function leave() {
  clearTimeout(settle)
  mm = data().taken
  jam = ''
  show()
}

function show() {
  draw()
  text()
}

function places() {
  const { stands } = data()
  if (place && !sided() && !stands.some(x => x.id === place)) place = ''
  const at = place || stands[0]?.id || `side:${desk.state.edges[0].name}`
  put(find('#place'),
    stands.length > 0 && h('optgroup', { label: 'beside the roof' }, stands.map(x => h('option', { value: x.id, selected: x.id === at }, `${x.name}, ${x.word}, ${x.margin < 0 ? `${whole(-x.margin)} too high` : `${whole(x.margin)} left`}`))),
    h('optgroup', { label: 'the edges' }, desk.state.edges.map(e => h('option', { value: `side:${e.name}`, selected: `side:${e.name}` === at }, `${e.name}, ${e.kind}`))))
  place = at
}

/** Look at a stand or a side. */
export function look(id) {
  place = id
  const side = sided()
  place = data().stands.find(x => x.side === side)?.id ?? id
  places()
  show()
  return side || stand()?.side
}

const lookedAt = () => sided() || stand()?.side

function draw() {
  const box = find('#section')
  const wide = Math.max(300, Math.min(box.clientWidth, 460))
  const at = stand()
  const title = sided() ? `At ${sided()}` : at ? `At the ${at.name}` : 'At the edge'
  find('#rise-at').textContent = title
  const high = Math.round(Math.min(wide * 1.12, 430))
  drawn = section(data(), at, mm, sided() ? STAFF + 44 : wide, high)
  put(find('#drawn'), drawn.svg)
  slider()
  const side = find('#at-side')
  heat()
  if (!sided()) { put(side); return }
  picture(`section@${sided()}`, Math.max(240, Math.min(360, box.clientWidth - 130))).then(svg => {
    if (!sided()) return
    side.innerHTML = svg
    const told = side.querySelector('desc')?.textContent
    if (told) side.append(h('p', { class: 'small' }, told))
  }).catch(() => put(side))
}

/** Lines of one temperature at this edge, fetched when they are asked for. */
function heat() {
  const side = lookedAt()
  const edge = desk.state.edges.find(e => e.name === side)
  const box = find('#edge')
  if (!edge?.solved) { put(box); return }
  if (box.dataset.side === side && box.dataset.worked === `${desk.state.worked}`) return
  const open = box.querySelector('details')?.open
  Object.assign(box.dataset, { side, worked: desk.state.worked })
  const inside = h('div', { class: 'edges' })
  const details = fold(`Heat at this edge, ${side}`, inside, h('p', { class: 'small' }, 'Thin lines: one temperature. Arrows: the way of the heat. Ring: the coldest spot inside. Red line: where it is colder, mould begins.'))
  details.addEventListener('toggle', () => {
    if (details.open && !inside.firstChild) picture(`edge@side:${side}`, 380).then(svg => { inside.innerHTML = svg })
  })
  put(box, details)
  if (open) details.open = true
}

function slider() {
  const el = find('#clip')
  const now = levels(data(), stand(), mm)
  const all = holes()
  el.hidden = all.length === 0
  if (!all.length) return
  const valued = { min: all[0].mm, max: thickest(), now: mm, text: `${hole()?.boards ?? mm} mm, heat lost ${hole()?.u ?? ''}, ${stand() ? now.left < 0 ? `${whole(-now.left)} mm too high` : `${whole(now.left)} mm left` : ''}${jam ? `. ${jam}` : ''}` }
  for (const [what, told] of Object.entries(valued)) el.setAttribute(`aria-value${what}`, told)
  el.style.left = `${STAFF - 26}px`
}

// --- moving the clip ---

function move(to, quiet) {
  const at = hole(to)
  if (!at) return
  if (at.fits || to <= mm) { mm = to; jam = '' } else jam = tooHigh(to)
  show()
  ask()
  if (!quiet) { clearTimeout(settle); settle = setTimeout(take, 900) }
}

function tooHigh(to) {
  const tight = data().stands.map(x => ({ x, over: -levels(data(), x, to).left })).sort((a, b) => b.over - a.over)[0]
  if (!tight || tight.over <= 0) return `It does not fit at ${to}.`
  const word = tight.x.kind === 'sash' ? 'It jams: the upstand would stand' : 'It stops here: the upstand would stand'
  return `${word} ${Math.ceil(tight.over)} past the ${tight.x.word} of the ${tight.x.name} at ${to}.`
}

function step(by) {
  const all = holes().map(x => x.mm)
  const next = all[Math.min(all.length - 1, Math.max(0, all.indexOf(mm) + by))]
  if (next !== undefined && next !== mm) move(next)
}

/** Take the thickness where the clip stands. */
export async function take() {
  clearTimeout(settle)
  clearTimeout(wait)
  asking?.abort()
  const at = hole()
  if (!at || mm === data().taken) return
  try {
    await change(at.changes, `boards ${at.boards} for ${hole(data().taken)?.boards ?? data().taken}`)
  } catch (e) { refused(e) }
}

/** Ask what this thickness would cost in all, once the thumb rests. */
function ask() {
  clearTimeout(wait)
  asking?.abort()
  tried = null
  if (mm === data().taken) return
  wait = setTimeout(async () => {
    asking = new AbortController()
    const at = mm
    try {
      const told = await attempt(hole().changes, asking.signal)
      if (at === mm) { tried = told; text() }
    } catch { /* the change itself will say what is wrong */ }
  }, 350)
}

// --- what is read off ---

function text() {
  const at = hole()
  const was = hole(data().taken)
  const next = holes()[holes().indexOf(at) + 1]
  const moved = at && was && at !== was
  put(find('#governs'), h('b', {}, jam || data().governs), ' ', more(at, next))
  find('#because').textContent = data().why
  find('#asked').textContent = data().asked
  if (document.activeElement !== find('#typed')) find('#typed').value = at?.boards ?? ''
  if (!at) { put(find('#reads'), h('p', { class: 'empty' }, 'No board of this kind is in the rates. Add one, and the stick has its holes.')); return }
  const line = (name, key, unit = '', bad = false) => h('div', { class: bad && 'bad' }, h('dt', {}, name),
    h('dd', {}, figure({ text: `${key(at)}${unit}`, id: '', bad }, moved ? `${key(was)}${unit}` : null)))
  const left = x => { const { left: l } = levels(data(), stand(), x.mm); return l < 0 ? `${whole(-l)} too high` : whole(l) }
  put(find('#reads'), h('dl', { class: 'hangs' },
    line('boards, from the deck up', x => x.boards, ' mm'),
    line('heat lost', x => x.u, ' W/m²K', !at.warm),
    stand() && line(`left at the ${stand().name}`, left, ' mm', levels(data(), stand(), mm).left < 0 && !stand().agreed),
    data().mould > 0 && line(`coldest spot, factor; mould under ${data().mould.toFixed(2)}`, x => x.spot.toFixed(2), '', at.spot < data().mould),
    line('winter water in the roof', x => x.wet, '', at.wet === 'stays'),
    line('boards and fixing', x => x.cost, ' a m²'),
    line('saves against the old roof', x => x.saves, ' kWh a year'),
    line('pays back what it costs over the next thinner', x => x.pays, /\d/.test(at.pays) ? ' years' : ''),
    line('screws that reach and harm nothing', x => x.screws, /\d/.test(at.screws) ? ' mm' : ''),
    line('weight against the old felt', x => x.weight, ' kg/m²')),
  moved && h('p', { class: 'presses' },
    button({ class: 'press', click: take }, `Take ${at.boards}`),
    button({ class: 'word', click: leave }, 'leave it'),
    h('span', { class: 'small' }, tried ? told(tried) : 'working out the price…')))
  put(find('#every'), every('As chosen', holes()), data().others.length > 0 && every('In the other number of layers', data().others))
}

function more(at, next) {
  if (!at || !next || jam) return ''
  const area = desk.state.numbers['plan.gross']?.value ?? 0
  const pounds = Math.round((next.pence - at.pence) * area / 100)
  return `${next.mm - at.mm} mm more: about £${pounds} in boards and fixing, ${Math.round(next.saves - at.saves)} kWh a year saved${next.fits ? '.' : ', and it would not fit.'}`
}

/** Say what a trial moved: price, days, stops. */
export function told({ before, after }) {
  const parts = []
  const pence = after.total_pence - before.total_pence
  parts.push(pence === 0 ? 'same price' : `${pence > 0 ? '+' : '−'}£${Math.abs(Math.round(pence / 100)).toLocaleString('en-GB')} with VAT`)
  const days = after.days - before.days
  parts.push(`${days > 0 ? '+' : days < 0 ? '−' : ''}${Math.abs(days)} day${Math.abs(days) === 1 ? '' : 's'}`)
  if (before.margin_mm != null && after.margin_mm != null && Math.round(after.margin_mm - before.margin_mm)) parts.push(height(after.margin_mm - before.margin_mm))
  const digits = [2, 3, 4].find(n => after.u.toFixed(n) !== before.u.toFixed(n))
  if (digits) parts.push(`heat ${before.u.toFixed(digits)} → ${after.u.toFixed(digits)}`)
  const stops = after.stops - before.stops
  if (stops) parts.push(`${Math.abs(stops)} stop${Math.abs(stops) === 1 ? '' : 's'} ${stops > 0 ? 'more' : 'less'}`)
  return parts.join(', ')
}
const height = by => `${whole(Math.abs(by))} mm ${by < 0 ? 'less' : 'more'} height left`

function every(caption, rows) {
  return h('div', { class: 'wide', role: 'region', tabindex: '0', 'aria-label': `${caption}: every thickness` },
    h('table', { class: 'all' }, h('caption', {}, caption),
      h('thead', {}, h('tr', {}, ['boards, mm', 'W/m²K', '£/m²', 'kWh saved', 'kg CO₂ saved', 'pays, years', 'winter water', 'coldest', 'kg/m²', 'screws, mm', ''].map(t => h('th', { scope: 'col' }, t)))),
      h('tbody', {}, [...rows].reverse().map(r => h('tr', { class: r.taken && 'taken' },
        h('th', { scope: 'row' }, r.boards), [r.u, r.cost, r.saves, r.carbon, r.pays, r.wet, r.spot.toFixed(2), r.weight, r.screws].map(c => h('td', {}, c)),
        h('td', { class: 'verdict' }, [r.taken && 'taken', ...r.against].filter(Boolean).join(', ')))))))
}

// --- typed ---

function typed(e) {
  e.preventDefault()
  const field = find('#typed')
  const want = field.value.replace(/mm/i, '').trim()
  const all = [...holes(), ...data().others]
  const found = all.find(x => x.boards.replaceAll(' ', '') === want.replaceAll(' ', '') || `${x.mm}` === want)
  if (!want) return
  if (!found) {
    const near = holes().map(x => x.mm).sort((a, b) => Math.abs(a - parseFloat(want)) - Math.abs(b - parseFloat(want))).slice(0, 2).sort((a, b) => a - b)
    wrong(/\d/.test(want) ? `${want} is not on sale here. ${near.join(' and ')} are.` : `“${want}” is no thickness. Type millimetres, such as ${data().taken}.`, near.map(n => [`${n} mm`, hole(n)]))
  } else if (!found.fits) wrong(tooHigh(found.mm), [[`Take ${found.boards} all the same`, found]])
  else choose(found)
}

async function choose(found) {
  wrong('')
  mm = hole(found.mm) ? found.mm : mm
  draw()
  try { await change(found.changes, `boards ${found.boards}`) } catch (e) { refused(e) }
}

const wrong = (words, answers = []) => marked(find('#typed'), find('#typed-why'), words, answers.map(([label, found]) => [label, () => choose(found)]))

/** A conflict of two pages is told at the head of the sheet; all else beside the entry. */
const refused = e => e.status !== 409 && wrong(e.message)

/** Keys and thumb. */
export function ready(chosen) {
  const el = find('#clip')
  const KEYS = { ArrowUp: 1, ArrowRight: 1, ArrowDown: -1, ArrowLeft: -1, PageUp: 3, PageDown: -3 }
  el.addEventListener('keydown', e => {
    if (e.key in KEYS) step(KEYS[e.key])
    else if (e.key === 'Home') move(holes()[0].mm)
    else if (e.key === 'End') move(thickest())
    else if (e.key === 'Enter') take()
    else if (e.key === 'Escape') leave()
    else return
    e.preventDefault()
  })
  el.addEventListener('pointerdown', e => {
    el.setPointerCapture(e.pointerId)
    el.focus({ preventScroll: true })
    clearTimeout(settle)
    const drag = ev => {
      const svg = find('#drawn svg')
      const box = svg.getBoundingClientRect()
      const at = (ev.clientY - box.top) / box.height * svg.viewBox.baseVal.height
      const base = drawn.now.sheet - mm
      const near = [...holes()].sort((a, b) => Math.abs(drawn.y(base + a.mm) - at) - Math.abs(drawn.y(base + b.mm) - at))[0]
      if (!near) return
      if (near.fits) { if (near.mm !== mm || jam) move(near.mm, true) } else {
        mm = thickest()
        jam = tooHigh(near.mm)
        show()
        ask()
      }
    }
    follow(el, drag, () => {
      if (jam) say(jam)
      take()
    })
    drag(e)
    e.preventDefault()
  })
  find('#place').addEventListener('change', e => chosen(look(e.target.value)))
  find('#typing').addEventListener('submit', typed)
  find('#typed').addEventListener('focus', e => e.target.select())
  let wide = 0
  new ResizeObserver(() => {
    if (!desk.state || find('#section').clientWidth === wide) return
    wide = find('#section').clientWidth
    draw()
  }).observe(find('#section'))
}

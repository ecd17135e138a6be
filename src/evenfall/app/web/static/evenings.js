// The evenings: small roofs at dusk in a row; a day is moved by hand, and the programme is proved again.
import { change, desk, drawn } from './desk.js'
import { button, find, follow, h, put, say } from './dom.js'
import { pull, tonight } from './roll.js'

const WIDE = 132
const HIGH = 104
const DAY = 86400000

/** Draw the row. */
export function evenings() {
  if (!desk.state) return
  const { evenings: days, evenings_say: says } = desk.state
  find('#evenings-say').textContent = says
  find('#night-key').hidden = !days.length
  put(find('#days'), days.length ? days.map(one) : h('li', { class: 'empty' }, 'When the programme has days, each stands here as the roof at dusk. Set a first day under “crew and days”.'))
  for (const d of days) {
    drawn(`evening@${d.number}`, WIDE, HIGH).then(svg => {
      const box = find(`#evening-${d.number}`)
      if (box) box.innerHTML = svg
    }).catch(() => {})
  }
}

function one(d) {
  const here = tonight() === d.number
  const moved = was(d)
  return h('li', { 'aria-current': here && 'date', 'data-day': d.number },
    button({ class: 'day', 'data-keep': `day-${d.number}`, 'aria-pressed': String(here), click: () => see(d.number), 'aria-keyshortcuts': 'Shift+ArrowLeft Shift+ArrowRight', keydown: e => keys(e, d), pointerdown: e => drag(e, d) },
      h('span', { class: 'top' }, moved && h('span', { class: 'from' }, moved, ' → '), h('b', {}, d.day)),
      d.rain && h('span', { class: 'rain' }, strokes(d.strokes), d.rain),
      h('span', { class: 'dusk', id: `evening-${d.number}` }),
      h('span', { class: 'says' }, d.says),
      h('span', { class: 'small' }, d.hands, h('br'), d.closed, h('br'), d.water)),
    here && h('div', { class: 'presses move' },
      button({ class: 'word', 'data-keep': `earlier-${d.number}`, click: () => shift(d, -1) }, 'a day earlier'),
      button({ class: 'word', 'data-keep': `later-${d.number}`, click: () => shift(d, 1) }, 'a day later'),
      h('p', { class: 'why-wrong', id: 'move-why', hidden: true })))
}

/** Rain: five slanted strokes, one heavy for each chance in five. */
const strokes = heavy => h('span', { 'aria-hidden': 'true' }, [1, 2, 3, 4, 5].map(n => h('i', { class: n <= heavy && 'heavy' })))

let before = new Map()
const was = d => before.get(d.number) !== d.day ? before.get(d.number) : null

function see(number) {
  pull('tonight', number)
  evenings()
}

const iso = t => new Date(t).toISOString().slice(0, 10)

/** Move a day: days that it skips are days off; the programme is worked and proved again. */
async function shift(d, by) {
  const { calendar } = desk.state.chosen
  const days = desk.state.evenings
  const off = new Set(calendar.days_off), holidays = new Set(desk.state.holidays)
  const idle = t => !works(t, off, calendar) || holidays.has(iso(t))
  const changes = []
  let at = Date.parse(d.on)
  if (d.number === 1) {
    let start = at + by * DAY
    while (idle(start)) start += Math.sign(by) * DAY
    changes.push({ path: 'calendar.start_on', value: iso(start) })
  } else if (by > 0) {
    for (let left = by; left > 0; at += DAY) if (!idle(at)) { off.add(iso(at)); left-- }
    changes.push({ path: 'calendar.days_off', value: [...off].sort() })
  } else {
    const previous = Date.parse(days[d.number - 2].on)
    const free = [...off].filter(x => Date.parse(x) > previous && Date.parse(x) < at).sort()
    if (!free.length) { refuse(`${days[d.number - 2].day} is worked, and nothing lies between. Move the days before it first.`); return }
    for (const x of free.slice(by)) off.delete(x)
    changes.push({ path: 'calendar.days_off', value: [...off].sort() })
  }
  before = new Map(days.map(x => [x.number, x.day]))
  try {
    await change(changes, `day ${d.number} moved by ${by}`)
  } catch (e) { if (e.status !== 409) refuse(e.message) }
}

function works(t, off, calendar) {
  const week = new Date(t).getUTCDay()
  return week !== 0 && (week !== 6 || calendar.saturdays) && !off.has(iso(t))
}

function refuse(words) {
  const el = find('#move-why')
  if (el) { el.textContent = words; el.hidden = false }
  say(words)
}

const HOLD_MS = 350 // a thumb that rests so long lifts the day; a quicker one draws the row along
const SLIP = 8 // px that a pointer may slip before it drags
let lifted = null

/** Draw a day along the row: a width is a day. */
function drag(e, d) {
  const li = e.currentTarget.closest('li'), from = e.clientX
  const lift = () => { lifted = li; li.classList.add('dragged') }
  const resting = e.pointerType === 'touch' && setTimeout(lift, HOLD_MS)
  let by = 0
  const move = ev => {
    const off = ev.clientX - from
    if (!lifted && Math.abs(off) > SLIP) { if (resting) return end(); lift() }
    if (!lifted) return
    by = Math.round(off / li.clientWidth)
    li.style.setProperty('--by', `${off}px`)
  }
  const end = follow(window, move, ev => {
    clearTimeout(resting)
    li.classList.remove('dragged')
    li.style.removeProperty('--by')
    const moved = lifted && by && ev?.type === 'pointerup'
    lifted = null
    if (moved) { see(d.number); shift(d, by) }
  })
}

/** A day that is lifted moves, and the row stays. */
export function ready() {
  const row = find('#days')
  for (const what of ['touchmove', 'contextmenu']) row.addEventListener(what, e => { if (lifted) e.preventDefault() }, { passive: false })
}

/** Arrows go from day to day; with Shift they move the day. */
function keys(e, d) {
  const by = { ArrowLeft: -1, ArrowRight: 1 }[e.key]
  if (!by) return
  e.preventDefault()
  if (e.shiftKey) { see(d.number); shift(d, by) } else find(`[data-keep="day-${d.number + by}"]`)?.focus()
}

// The evenings: small roofs at dusk in a row; a day is moved by hand, and the programme is proved again.
import { drawing } from './api.js'
import { change, desk } from './desk.js'
import { button, find, h, put, say } from './dom.js'
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
    drawing(desk.job, desk.state.worked, `evening@${d.number}`, WIDE, HIGH).then(svg => {
      const box = find(`#evening-${d.number}`)
      if (box) box.innerHTML = svg
    }).catch(() => {})
  }
}

function one(d) {
  const here = tonight() === d.number
  const moved = was(d)
  return h('li', { 'aria-current': here && 'date', 'data-day': d.number },
    button({ class: 'day', 'data-keep': `day-${d.number}`, 'aria-pressed': String(here), click: () => see(d.number), pointerdown: e => drag(e, d) },
      h('span', { class: 'top' }, moved && h('span', { class: 'from' }, moved, ' → '), h('b', {}, d.day)),
      h('span', { class: 'dusk', id: `evening-${d.number}` }),
      h('span', { class: 'says' }, d.says),
      h('span', { class: 'small' }, d.hands, h('br'), d.closed, h('br'), d.water)),
    here && h('div', { class: 'presses move' },
      button({ class: 'word', 'data-keep': `earlier-${d.number}`, click: () => shift(d, -1) }, 'a day earlier'),
      button({ class: 'word', 'data-keep': `later-${d.number}`, click: () => shift(d, 1) }, 'a day later'),
      h('p', { class: 'why-wrong', id: 'move-why', hidden: true })))
}

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
  const off = new Set(calendar.days_off)
  const changes = []
  let at = Date.parse(d.on)
  if (d.number === 1) {
    let start = at + by * DAY
    while (!works(start, off, calendar)) start += Math.sign(by) * DAY
    changes.push({ path: 'calendar.start_on', value: iso(start) })
  } else if (by > 0) {
    for (let left = by; left > 0; at += DAY) if (works(at, off, calendar)) { off.add(iso(at)); left-- }
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

/** Drag a day along the row: a width is a day. */
function drag(e, d) {
  if (e.pointerType === 'touch') return // the row itself is drawn along by the thumb; the words move a day
  const from = e.clientX
  const li = e.currentTarget.closest('li')
  const wide = li.clientWidth
  let by = 0
  const move = ev => {
    by = Math.round((ev.clientX - from) / wide)
    li.classList.toggle('dragged', Math.abs(ev.clientX - from) > 8)
    li.style.setProperty('--by', `${ev.clientX - from}px`)
  }
  const end = () => {
    removeEventListener('pointermove', move)
    removeEventListener('pointerup', end)
    li.classList.remove('dragged')
    li.style.removeProperty('--by')
    if (by) { see(d.number); shift(d, by) }
  }
  addEventListener('pointermove', move)
  addEventListener('pointerup', end)
}

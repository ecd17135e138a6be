// The day in the hand: today, hold points, what is found, the record, and stop. One thing at a time.
import { act, choose, find, h, list, row, say, show } from './kit.js'
import { found, stop, stopped } from './found.js'
import { hold, holds, known, line } from './holds.js'
import { LITTLE } from './little.js'
import { inMemory } from './memory.js'
import { changes, record, unread, unreturned } from './record.js'
import { hatches, key, roof } from './roof.js'
import { begin, here, holdState, refresh, remember, remembered, standing, stops, write } from './state.js'
import { askWho } from './who.js'

const PLACES = [['today', 'Today'], ['holds', 'Hold points'], ['found', 'Found'], ['record', 'Record'], ['stop', 'STOP']]
const LIGHTS = ['sun', 'dusk']

/** Begin with an open box; `sheet` is the number of the day where the page is a file of its own. */
export async function start(root, bundle, box, { sheet = null, news = null } = {}) {
  let kept = box
  if (sheet) try { await box.open(bundle.job.reference) } catch { kept = inMemory() }
  await begin(bundle, kept, sheet)
  here.news = news
  pickDay(sheet)
  light(remembered('light', 'sun'))
  root.replaceChildren(hatches(), h('header', { id: 'head' }), h('div', { id: 'bars' }), h('main', { id: 'screen' }), h('nav', { id: 'foot', 'aria-label': 'Places' }), h('p', { id: 'said', class: 'away', role: 'status', 'aria-live': 'polite' }))
  here.changed = frame
  kept.onchange(async () => { await refresh(); frame() })
  addEventListener('hashchange', () => draw())
  addEventListener('beforeunload', event => { if (!here.kept && unreturned()) event.preventDefault() })
  frame()
  while (!here.who) await askWho()
  draw()
}

/** The desk has worked the records in: what they changed, and the days as they are now. */
export function moved(news, bundle) {
  here.news = news
  if (here.bundle) {
    const day = here.day && here.day.number
    here.bundle = bundle
    here.day = bundle.days.find(d => d.number === day) || here.day
    frame()
    if (news.last.length) say(`The desk has worked it out again: ${news.last[0]}`)
  }
}

/** Today by the calendar, the day of the sheet, else the first that is not past. */
function pickDay(sheet) {
  const { days } = here.bundle, today = new Date().toLocaleDateString('en-CA')
  here.day = days.find(d => d.number === sheet) || days.find(d => d.date >= today) || days[days.length - 1] || null
}

function light(name) {
  document.documentElement.dataset.light = name
  remember('light', name)
}

/** Go to a place; the telephone's own back button goes back the same way. */
export function go(place) {
  if (place === 'back') return history.length > 1 && remembered('came', '') ? go(remembered('came', 'today')) : go('today')
  if (location.hash === `#${place}`) draw()
  else location.hash = place
}

function draw() {
  frame()
  const [place, a, b] = (location.hash.slice(1) || 'today').split('/')
  if (place === 'today' || place === 'holds') remember('came', place)
  if (place === 'hold' && here.bundle.holds[+a]) hold(+a, +b || null, go)
  else if (place === 'holds') holds(go)
  else if (place === 'found') found(go)
  else if (place === 'record') record(go)
  else if (place === 'stop') stop(go)
  else if (place === 'changed') changes(go)
  else today()
}

/** What stands round each screen: whose roof and which day, what is stopped, where one can go. */
function frame() {
  const { day, bundle } = here, now = location.hash.slice(1).split('/')[0] || 'today', lit = document.documentElement.dataset.light
  const other = LIGHTS.find(l => l !== lit) || 'sun', left = here.sheet ? unreturned() : here.waiting
  find('#head').replaceChildren(h('p', { class: 'of' }, h('strong', {}, day ? `Day ${day.number} of ${day.of}` : 'The roof'), ` ${day ? day.on : ''}`, h('span', {}, `${bundle.job.reference}, ${bundle.job.title}`)),
    h('button', { type: 'button', 'aria-label': `Light: ${lit}. Change to ${other}`, click: () => { light(other); frame() } }, other))
  find('#bars').replaceChildren(
    ...here.wrong ? [h('p', { class: 'bar stop', role: 'alert' }, here.wrong)] : [],
    ...stops().map(e => h('button', { type: 'button', class: 'bar stop', click: () => stopped(e.danger, go) }, `● STOPPED: ${e.danger}. Nobody works there until it is cleared.`)),
    ...unread() ? [h('button', { type: 'button', class: `bar${here.news.last.some(t => t.startsWith('stop')) ? ' stop' : ''}`, click: () => go('changed') }, `Worked out again: ${here.news.last[0].replace(/^(stop, )?new: /, '')}${here.news.last.length > 1 ? ` And ${here.news.last.length - 1} more.` : ''}`)] : [],
    ...here.kept ? [] : [h('button', { type: 'button', class: 'bar', click: () => go('record') }, 'This telephone keeps nothing once the page is closed. Hand over the file before that.')],
    ...bundle.job.invented ? [h('p', { class: 'bar quiet' }, 'Invented roof.')] : [])
  find('#foot').replaceChildren(...PLACES.map(([place, name]) => h('button', { type: 'button', class: place === 'stop' ? 'stop' : '', 'aria-current': now.startsWith(place.replace(/s$/, '')) && 'page', click: () => go(place) },
    name, place === 'record' && left > 0 && h('span', { class: 'count', 'aria-label': `, ${left} not handed over` }, left))))
}

function today() {
  const { day } = here
  if (!day) return show('No day is planned', h('p', {}, 'The desk has no programme for this roof yet.'))
  const next = day.holds.find(d => { const s = holdState(d.hold, d.bay); return !s || s.outcome === 'stopped' })
  const marks = standing('photo').filter(e => e.place).map((e, i) => ({ place: e.place, sign: `${i + 1}` }))
  const folded = (title, open, ...inside) => h('details', { open }, h('summary', {}, title), inside)
  show(day.says, h('p', { class: 'facts' }, `${day.where} ${day.people} people, ${day.start} to ${day.until}.`),
    roof(day, marks), key(day),
    next && [h('h2', {}, 'Next hold point'), h('div', { class: 'rows' }, line(next, go))],
    h('section', { class: 'tonight' }, h('h2', {}, 'Tonight'), h('p', {}, day.night.cover), h('dl', { class: 'sums' }, [
      ['Closed by', day.night.closed_by], ['Dusk', day.night.dusk], ['Water leaves by', day.night.water], ['Cover to hand', day.night.cover_m[0] > 0 && `${day.night.cover_m[0]} × ${day.night.cover_m[1]} m`]]
      .filter(r => r[1]).map(([a, b]) => h('div', {}, h('dt', {}, a), h('dd', {}, b)))), day.night.line && h('p', {}, day.night.line)),
    day.gates.length > 0 && folded(`Before you open or bond: ${day.gates.length}`, true, list(day.gates)),
    folded(`Work: ${day.work.filter(w => doneOf(w)).length} of ${day.work.length} done`, false, h('div', { class: 'rows' }, day.work.map(work))),
    day.holds.length > 0 && folded(`Hold points today: ${day.holds.filter(d => known(d.hold, d.bay)[0] === '✓').length} of ${day.holds.length}`, false, h('div', { class: 'rows' }, day.holds.map(d => line(d, go)))),
    day.cautions.length > 0 && folded(`Beware: ${day.cautions.length}`, false, h('dl', { class: 'beware' }, day.cautions.map(c => [h('dt', {}, c.risk), h('dd', {}, c.says)]))),
    h('h2', {}, 'Write down'), h('div', { class: 'two' }, LITTLE.map(([, name, ask]) => act(name, async () => {
      const n = here.log.length
      try { await ask(); if (here.log.length > n) say('Kept.') } finally { draw() }
    }))),
    h('div', { class: 'rows' }, row('Who holds the telephone', here.who, async () => { await askWho(); draw() }),
      here.bundle.days.length > 1 && row('Another day', `of ${day.of}`, async () => {
        const picked = await choose('Which day?', here.bundle.days.map(d => [d, `${d.number}  ${d.on}`, d.says]))
        if (picked) here.day = picked
        draw()
      })))
}

const doneOf = w => standing('done').some(e => e.task === w.id)

/** A piece of work; one touch says that it is done. */
function work(w) {
  const done = doneOf(w)
  return row(`${w.says}${w.where ? `, ${w.where}` : ''}`, done ? '✓ done' : w.hours >= 0.05 ? `○ ${w.hours.toFixed(1)} person-hours` : '○', async () => {
    if (done) return say('Done already.')
    await write('done', { task: w.id, bay: +(/^bay (\d+)$/.exec(w.where) || [])[1] || null })
    const open = [...document.querySelectorAll('details')].map(d => d.open)
    draw()
    document.querySelectorAll('details').forEach((d, i) => { d.open = open[i] })
  })
}

// First call: the questions to ask before driving. Each answer shows at once what follows.

import { ask } from './api.js'
import { button, find, h, lights, put } from './dom.js'

const said = {}
function question({ key, ask: words, entry, pick: answers, why, several }) {
  const box = h('fieldset', {}, h('legend', {}, words), why ? h('p', { class: 'why' }, why) : null)
  if (entry) {
    const field = h('input', { type: entry === 'number' ? 'text' : entry, inputmode: entry === 'number' ? 'decimal' : undefined, name: key, 'aria-label': words, autocomplete: 'off',
      change: () => { const v = field.value.trim(); say(key, v === '' ? undefined : entry === 'number' ? Number(v.replace(',', '.')) : v) } })
    box.append(field)
  } else {
    box.append(h('div', { class: 'picks' }, answers.map(([value, name]) => button({ 'aria-pressed': 'false', click: (e) => {
      const had = several ? (said[key] ?? []).includes(value) : said[key] === value
      if (!several) for (const b of e.currentTarget.parentElement.children) b.setAttribute('aria-pressed', 'false')
      e.currentTarget.setAttribute('aria-pressed', String(!had))
      if (several) say(key, had ? said[key].filter((v) => v !== value) : [...(said[key] ?? []), value])
      else say(key, had ? undefined : value)
    } }, name))))
  }
  return box
}

let turn = 0
let band = null // of the answers that it was worked for
let soon
async function say(key, value) {
  if (value === undefined) delete said[key]
  else said[key] = value
  turn += 1
  const mine = turn
  try {
    const told = await ask('/api/call', { answers: said })
    if (mine !== turn) return
    show(told)
    clearTimeout(soon)
    soon = setTimeout(async () => {
      const found = said.area_m2 ? (await ask('/api/call/band', { answers: said })).band : null
      if (mine === turn) { band = found; show(told, true) }
    }, 400)
  } catch (wrong) {
    if (mine === turn) put(find('#verdict'), h('p', { class: 'why', role: 'alert' }, wrong.message))
  }
}

const WORDS = { visit: 'Visit', refer: 'Refer first', decline: 'Decline' }
const part = (head, all) => all.length > 0 && [h('h3', {}, head), h('ul', {}, all.map((w) => h('li', {}, w)))]

function show(told, fresh) {
  put(find('#verdict'), h('h2', {}, WORDS[told.verdict] ?? 'What follows'), h('ul', {}, told.reasons.map((r) => h('li', {}, r.says))),
    band ? [h('p', { class: fresh ? 'band' : 'band stale' }, `£${(band.low_pence / 100).toLocaleString('en-GB')} to £${(band.high_pence / 100).toLocaleString('en-GB')}`), h('p', {}, band.says), part('Why so wide', band.why)] : h('p', {}, said.area_m2 ? 'Rough price: working it out…' : 'No rough price before the size is told.'),
    part('Bring, and ask first', told.bring), part('Not asked yet', told.ask), part('Photos still to come', told.photos),
    h('p', {}, button({ class: 'go', click: begin }, 'make it a job')))
}

async function begin() {
  try { location.href = `/job/${(await ask('/api/call/begin', { answers: said })).id}/walk` } catch (wrong) { find('#verdict').append(h('p', { class: 'why', role: 'alert' }, wrong.message)) }
}

put(find('#card'), (await ask('/api/call')).map(question))
find('#card').addEventListener('submit', (e) => e.preventDefault())
lights()
show({ verdict: '', reasons: [{ says: 'Ask down the card; what follows stands here.' }], bring: [], ask: [], photos: [] })

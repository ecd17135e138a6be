// Under the sheet: price, crew and rates, the order, the papers as they print, all workings, history.
import { days } from './days.js'
import { desk, of, step } from './desk.js'
import { amounts, button, failed, figure, find, fold, formula, h, moment, put, say, table } from './dom.js'
import { choice, clock, field, tick } from './fields.js'
import { open, paper } from './head.js'

const LONG = 160 // letters of a note, above which it is folded

/** Draw what lies under the sheet. */
export function under() {
  if (!desk.state) return
  price()
  crew()
  order()
  papers()
  issued().catch(() => {})
  rooms()
}

function price() {
  const { state } = desk
  const sum = id => { const n = state.numbers[id]; return h('tr', {}, h('th', { scope: 'row' }, n.label), h('td', { class: 'num' }, figure(n, desk.was.get(id), open))) }
  put(find('#price'),
    h('div', { class: 'columns' },
      h('div', {},
        h('table', { class: 'amounts' }, h('caption', {}, 'Together'), h('tbody', {}, ['price.net', 'price.vat', 'price.total', 'price.per_m2'].map(sum))),
        amounts('In groups, without VAT', state.groups)),
      h('div', {},
        amounts('Paid in', state.stages),
        state.provisional.length > 0 && amounts('Agreed in advance for what cannot be known yet; not in the price', state.provisional),
        h('p', { class: 'small' }, `It holds until ${state.valid_until}. ${state.rates}`))),
    h('h3', {}, 'Options'),
    state.offers.length
      ? h('div', { class: 'options' }, table('Options beside the job as it stands', ['option', 'with VAT', 'more', 'days', 'W/m²K', 'findings'], state.offers.map(o => [o.says, o.total, o.more, o.days, o.u, o.stops]), [0, 1, 1, 1, 1, 0]))
      : h('p', { class: 'empty' }, state.no_offers),
    keep('owner', fold('For the owner: cost and margin',
      amounts('From cost to price', state.owner.sums),
      amounts('What is kept', state.owner.kept),
      table('What would eat the profit', ['should it happen', 'costs', 'left, if you bear it', 'left, if charged as agreed'], state.owner.mishaps.map(m => [m.says, m.costs, m.left, m.charged]), [0, 1, 1, 1]),
      table('Lines of cost', ['group', 'what', 'quantity', 'rate', 'cost'], state.owner.lines.map(l => [l.block, l.says, l.quantity, l.rate, l.amount]), [0, 0, 1, 1, 1]),
      state.owner.workings.map(w => paper(w)))))
}

const unfolded = new Set()

/** A folded part stays open when it is drawn again. */
function keep(name, details) {
  details.id = `fold-${name}`
  details.open = unfolded.has(name)
  details.addEventListener('toggle', () => { if (details.open) unfolded.add(name); else unfolded.delete(name) })
  return details
}

function crew() {
  const { crew: c, calendar: k, design: d } = desk.state.chosen
  put(find('#crew'),
    h('div', { class: 'fields' },
      field({ path: 'crew.people', label: 'people', value: c.people, least: 1, most: 8, whole: true }),
      field({ path: 'crew.hours_a_day', label: 'hours a day', unit: 'h', value: c.hours_a_day, least: 4, most: 12 }),
      field({ path: 'crew.start_hour', label: 'start in the morning', unit: 'o’clock', value: c.start_hour, least: 5, most: 11, kind: 'clock', show: clock }),
      field({ path: 'calendar.start_on', label: 'first day', value: k.start_on, kind: 'date' }),
      tick({ path: 'calendar.saturdays', label: 'Saturdays are worked', value: k.saturdays }),
      tick({ path: 'calendar.works_holidays', label: 'public holidays are worked', value: k.works_holidays }),
      choice({ path: 'design.hold_boards_by', label: 'boards are held by', value: d.hold_boards_by, of: [['adhesive', 'adhesive'], ['screws', 'screws']] }),
      choice({ path: 'design.layers', label: 'layers of boards', value: d.layers, of: [[1, 'one'], [2, 'two, joints staggered']] })),
    keep('rates', rates()))
}

function rates() {
  const inside = h('div', {}, h('p', { class: 'small' }, 'looking them up…'))
  const details = fold('Rates: outputs, money, terms', inside)
  const fetched = async () => {
    if (!details.open || details.dataset.worked === `${desk.state.worked}`) return
    details.dataset.worked = desk.state.worked
    try {
      const r = await of('rates')
      put(inside,
        h('p', { class: 'small' }, desk.state.own_rates ? r.rates.name : `${r.rates.name}: invented. The first number that you change gives this job rates of its own.`),
        h('div', { class: 'fields' },
          pounds('rates.terms.labour_pence_hour', 'labour', '£ an hour', r.terms.labour_pence_hour),
          field({ path: 'rates.terms.overhead_percent', label: 'overhead', unit: '%', value: r.terms.overhead_percent, least: 0, most: 100 }),
          field({ path: 'rates.terms.margin_percent', label: 'margin', unit: '%', value: r.terms.margin_percent, least: 0, most: 100 }),
          field({ path: 'rates.terms.heat_price_pence_kwh', label: 'heat', unit: 'pence a kWh', value: r.terms.heat_price_pence_kwh, least: 0.1, most: 200 })),
        h('h3', {}, 'Materials and hire: what the firm pays, without VAT'),
        PRICED.map(([list, title]) => keep(`rates-${list}`, fold(title, h('div', { class: 'fields' }, r[list].flatMap(e => prices(e).map(([at, label, unit, value]) => pounds(`rates.${list}[${e.name}].${at}`, label, unit, value))))))),
        h('div', { class: 'fields' }, pounds('rates.screw.price_pence_pack', 'screws and tubes', `£ a pack of ${r.screw.pack}`, r.screw.price_pence_pack)),
        h('h3', {}, 'Outputs: hours of one person'),
        h('div', { class: 'fields' }, r.outputs.map(o => field({ path: `rates.outputs[${o.task}].typical`, label: o.task.replaceAll('-', ' '), unit: `h for one ${o.unit === 'each' ? 'piece' : o.unit.replaceAll('_', ' ').replace('m2', 'm²')}`, value: o.typical, least: o.low, most: o.high }))))
    } catch (e) { failed(inside)(e) }
  }
  details.addEventListener('toggle', fetched)
  queueMicrotask(fetched)
  return details
}

const PRICED = [['boards', 'Boards'], ['sheets', 'Sheets'], ['vcls', 'VCL'], ['items', 'What comes in packs'], ['lengths', 'What comes in lengths'], ['charges', 'Hire, access and waste']]

/** Every price of an entry of the rates: where it stands, what it is, for how much of it, pence. */
function prices(e) {
  const [says] = (e.says ?? e.name).split(/[,;]/)
  if (e.sizes) return e.sizes.map((z, i) => [`sizes[${i}].price_pence`, `${e.name.replaceAll('-', ' ')}, ${z.thickness_mm} mm`, '£ a board', z.price_pence])
  if (e.packs) return e.packs.map((z, i) => [`packs[${i}].price_pence`, e.says, e.unit !== 'each' ? `£ for ${z.size} ${e.unit.replace('m2', 'm²')}` : z.size === 1 ? '£ each' : `£ for ${z.size}`, z.price_pence])
  if ('price_pence_m2' in e) return [['price_pence_m2', says, '£ a m²', e.price_pence_m2]]
  if ('price_pence_m' in e) return [['price_pence_m', e.says, '£ a metre', e.price_pence_m]]
  return [['price_pence', e.says, e.width_mm ? '£ a roll' : `£ a ${{ m2: 'm²', m3: 'm³', each: 'piece' }[e.unit] ?? e.unit}`, e.price_pence]]
}

/** An entry in pounds; the rates keep pence. */
const pounds = (path, label, unit, value) => field({ path, label, unit, value, show: v => (v / 100).toFixed(2), keep: v => Math.round(v * 100), least: 0 })

/** A note under a line of the order; a long list of cuts is folded. */
function note(words) {
  return words.length > LONG ? fold('cuts', h('span', { class: 'more' }, words)) : h('span', { class: 'more' }, words)
}

function order() {
  const { order: groups } = desk.state
  put(find('#order'), !groups.length ? h('p', { class: 'empty' }, 'Nothing is to be ordered.')
    : h('table', { class: 'order' }, h('caption', { class: 'away' }, 'Order list, in packs'),
      h('thead', {}, h('tr', {}, h('th', { scope: 'col' }, 'what'), h('th', { scope: 'col', class: 'num' }, 'need'), h('th', { scope: 'col' }, 'buy'))),
      groups.map(g => h('tbody', {}, h('tr', {}, h('th', { scope: 'rowgroup', colspan: 3 }, g.title)),
        g.lines.map(l => h('tr', {}, h('td', {}, l.says, l.note && note(l.note)), h('td', { class: 'num' }, l.need), h('td', {}, l.buy)))))))
}

// --- papers ---

function papers() {
  put(find('#papers'),
    h('ul', { class: 'papers' }, desk.state.papers.map(p => h('li', {},
      h('b', {}, p.title), h('span', { class: 'small' }, ` ${p.says}`),
      h('span', { class: 'presses' },
        /\.pdf$/.test(p.name) && button({ class: 'word', 'data-keep': `see-${p.name}`, click: () => see(p), 'aria-label': `Look at the ${p.title.toLowerCase()} as it prints` }, 'look at it'),
        button({ class: 'word', 'data-keep': `sent-${p.name}`, click: e => keepAsSent(e, p), 'aria-label': `Keep the ${p.title.toLowerCase()} as sent` }, 'keep as sent'),
        h('a', { class: 'word', href: `${desk.at}/papers/${p.name}`, download: p.name, 'aria-label': `Download ${p.name}` }, 'download'))))),
    h('div', { id: 'issued' }),
    h('p', { class: 'presses' }, h('a', { class: 'press', href: `${desk.at}/papers.zip`, download: true }, 'Download all, with the plans')),
    days())
}

async function keepAsSent(e, p) {
  const button = e.currentTarget
  button.disabled = true
  try {
    await of('issued', { body: { paper: p.name } })
    say(`${p.title} is kept as it was sent.`)
    await issued()
  } catch (wrong) { say(wrong.message) }
  button.disabled = false
}

/** What was sent stays byte for byte, whatever the job becomes. */
async function issued() {
  const { issued: sent } = await of('issued')
  put(find('#issued'), sent.length > 0 && [h('h3', {}, 'Kept as sent'), h('ul', { class: 'papers' }, sent.map(i => h('li', {},
    h('b', {}, i.paper), h('span', { class: 'small' }, ` ${moment(i.at)}, revision ${i.revision}`),
    h('span', { class: 'presses' }, h('a', { class: 'word', href: `${desk.at}/issued/${i.id}`, download: i.paper, 'aria-label': `Download ${i.paper} as sent with revision ${i.revision}` }, 'as it was sent')))))])
}

let page = 1
async function see(p, number = 1) {
  page = number
  const box = find('#preview')
  put(box, h('p', { class: 'small', role: 'status' }, `setting the ${p.title.toLowerCase()}…`))
  box.scrollIntoView({ block: 'nearest' })
  try {
    const told = await of(`preview/${p.name}?page=${page}`)
    const turn = by => button({ class: 'word', 'data-keep': `turn${by}`, disabled: page + by < 1 || page + by > told.pages, click: () => see(p, page + by) }, by < 0 ? 'the page before' : 'the next page')
    const img = h('img', { src: `${desk.at}/preview/${p.name}.svg?page=${page}&r=${desk.state.worked}`, alt: `${p.title}, page ${page} of ${told.pages}, as it prints`, width: 595, height: 842 })
    put(box, h('p', { class: 'presses' }, h('b', {}, `${p.title}, page ${page} of ${told.pages}`), turn(-1), turn(1), button({ class: 'word', click: () => put(box) }, 'put it away')), img)
  } catch (e) { failed(box)(e) }
}

// --- all workings ---

function rooms() {
  const box = find('#rooms')
  const opened = new Set([...box.querySelectorAll('details[open]')].map(d => d.id))
  put(box, desk.state.note && h('p', { class: 'small' }, `Note on the job: ${desk.state.note}`), desk.state.rooms.map(r => {
    const inside = h('div')
    const d = h('details', { class: 'room', id: `room-${r.key}` }, h('summary', {}, r.title), inside)
    d.addEventListener('toggle', () => { if (d.open && !inside.firstChild) room(r.key, inside) })
    d.open = opened.has(d.id)
    return d
  }))
}

async function room(key, inside) {
  put(inside, h('p', { class: 'small' }, 'looking it up…'))
  try {
    const r = await of(`rooms/${key}`)
    const shown = h('div', { class: 'edges' })
    put(inside, r.why_empty && h('p', { class: 'empty' }, r.why_empty),
      r.facts.length > 0 && h('dl', { class: 'facts' }, r.facts.map(f => h('div', {}, h('dt', {}, f.name), h('dd', {}, f.number, f.told && h('span', { class: 'more' }, ` ${f.told}`))))),
      r.grids.map(g => table(g.source ? `${g.title} (${g.source} · ${g.basis})` : g.title, g.columns, g.rows, g.numeric)), shown,
      r.workings.length > 0 && h('ul', { class: 'workings' }, r.workings.map(w => h('li', {}, h('b', {}, w.title), ' ', h('span', { class: 'formula' }, formula(w.formula), ` ${w.numbers} = ${w.answer}`), ' ', h('span', { class: 'more' }, `${w.source} · ${w.basis}`)))))
    if (r.drawing) shown.innerHTML = await of(`drawings/${r.drawing}.svg?width=660`)
  } catch (e) { failed(inside)(e) }
}

// --- history ---

export async function history() {
  const box = find('#history')
  if (!find('#fold-history').open) return
  try {
    const { revisions } = await of('history')
    put(box, h('ol', { class: 'history' }, revisions.slice(0, 60).map(r => h('li', {},
      h('b', {}, `${r.number}`), ' ', r.why || r.kind, r.changes.length > 0 && h('span', { class: 'more' }, r.changes.slice(0, 3).map(c => `${c.path}${c.remove ? ' taken out' : ` = ${short(c.value)}`}`).join(', ')),
      h('span', { class: 'small' }, ` ${moment(r.at)}${r.who ? `, ${r.who}` : ''}`),
      r.number === desk.revision ? h('i', {}, ' as it stands') : button({ class: 'word', 'data-keep': `r-${r.number}`, click: () => back(r.number), 'aria-label': `Take up revision ${r.number} again` }, 'take it up again')))))
  } catch (e) { failed(box)(e) }
}
const short = v => { const t = typeof v === 'string' ? v : JSON.stringify(v); return t.length > 40 ? `${t.slice(0, 38)}…` : t }

async function back(to) {
  try {
    await step('restore', { to })
    say(`Revision ${to} stands again.`)
  } catch (e) { say(e.message) }
}


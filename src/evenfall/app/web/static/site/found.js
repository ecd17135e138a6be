// What nobody could know: rot, a second felt, wet quilt; and dangers, at which everything stops.
import { NAMED, act, choose, clock, dayOf, h, list, plainly, pounds, row, say, show, spoken, sure, unit, words } from './kit.js'
import { number } from './pad.js'
import { take, thumbs } from './photo.js'
import { bay as askBay } from './roof.js'
import { sign, signature } from './sign.js'
import { here, standing, stops, unsigned, write } from './state.js'

const WHAT = [['rot', 'Rot', 'in the deck or a joist'], ['second_felt', 'A second felt', 'an older roof under the first'],
  ['wet_quilt', 'Wet quilt', 'to come out'], ['cable', 'A cable', 'stops the work'], ['other', 'Something else', '']]
const RATES = { rot: /deck|joist/, second_felt: /felt/, wet_quilt: /quilt/ }
const DANGERS = [['asbestos', 'Asbestos suspected'], ['gas', 'Gas'], ['cable', 'A cable'], ['structure', 'It gives way'], ['other', 'Something else']]

/** What a find costs: what the price holds already is taken off first. */
export function slip(rate, quantity, before) {
  const { money } = here.bundle
  const used = before.filter(e => e.rate === rate.name).reduce((sum, e) => sum + e.quantity, 0)
  const left = rate.left == null ? 0 : Math.max(+(rate.left - used).toFixed(2), 0)
  const charged = Math.max(+(quantity - left).toFixed(2), 0)
  const net = Math.round(charged * rate.pence), vat = Math.round(net * money.vat_percent / 100)
  const days = rate.unit === 'day' ? charged : charged * rate.hours / (money.people * money.hours_a_day)
  return { left, charged, net, vat, whole: net + vat, days }
}

/** The new total and the new last day with one find more, where all signed before it stands. */
export function ahead(rate, quantity, before, signed, id) {
  const { money, slips } = here.bundle
  if (slips[id]) return slips[id]
  const now = slip(rate, quantity, before)
  let total = money.total_pence + now.whole, days = money.days + now.days
  before.forEach((e, i) => {
    const other = here.bundle.rates.find(r => r.name === e.rate)
    if (!other || !signed.has(e.id)) return
    const was = slip(other, e.quantity, before.slice(0, i))
    total += was.whole
    days += was.days
  })
  for (const other of Object.keys(slips)) if (!slips[other].signed && signed.has(other)) { total += slips[other].whole; days += slips[other].days }
  const extra = Math.ceil(+(days - money.days).toFixed(6))
  return { ...now, total, finish: money.finish[extra] || null }
}

/** Finds of this telephone that the job's own figures do not hold yet. */
const open = () => standing('found').filter(e => !here.bundle.slips[e.id])

export function found(go) {
  const waiting = unsigned()
  show('Found', h('p', {}, 'What is it? A photo is taken before anything is mended.'),
    h('div', { class: 'rows' }, WHAT.map(([what, says, more]) => row(says, more, () => what === 'cable' ? stopped('cable', go) : begin(what, go)))),
    waiting.length > 0 && [h('h2', {}, 'Not signed: do not go on there'), h('div', { class: 'rows' }, waiting.map(e => row(words1(e), 'have it signed', () => signing(e, go))))])
}

const words1 = e => { const r = here.bundle.rates.find(x => x.name === e.rate); return `${e.where}: ${plainly(e.quantity)} ${unit(r ? r.unit : '')}` }

async function begin(what, go) {
  const back = () => go('found')
  const fits = here.bundle.rates.filter(r => RATES[what] && RATES[what].test(r.name)), offered = fits.length ? fits : here.bundle.rates
  const rate = offered.length === 1 ? offered[0] : await choose('Which agreed rate?', offered.map(r => [r, r.says, `${pounds(r.pence)} for ${r.unit === 'each' ? 'one' : `1 ${unit(r.unit).replace(/s$/, '')}`}, without VAT`]))
  if (!rate) return back()
  const sha = await take({ title: 'Photo before anything is mended', about: `${says(what)}, before it is mended` })
  if (!sha) return back()
  const quantity = await number(rate.says, { unit: rate.unit, above: 0, highest: 100000, says: rate.left ? `The price holds ${plainly(rate.left)} ${unit(rate.unit)} of it already.` : '' })
  if (!quantity) return back()
  const at = await askBay('Where?')
  if (at === null) return back()
  const where = await words('Where exactly?', { quick: places(at) })
  if (!where) return back()
  const entry = await write('found', { what, rate: rate.name, quantity, where, photos: [sha], bay: at })
  await signing(entry, go)
}

const says = what => WHAT.find(w => w[0] === what)[1]
const places = at => {
  const names = here.bundle.plan.openings.map(o => `beside the ${spoken(o.name)}`)
  return [...here.bundle.plan.sides.slice(0, 6).map(i => `along ${i.name}`), ...names.slice(0, 4)].map(w => at ? `${w}, bay ${at}` : w)
}

/** The slip for extra work: quantity, price, new total, new last day, signature. */
async function signing(entry, go) {
  const rate = here.bundle.rates.find(r => r.name === entry.rate)
  const signed = new Set(standing('signed').map(e => e.of)), before = open().filter(e => e.id !== entry.id && new Date(e.at) <= new Date(entry.at))
  const now = ahead(rate, entry.quantity, before, signed, entry.id)
  const lines = [['Found', `${plainly(entry.quantity)} ${unit(rate.unit)}`], ...now.left ? [['In the price already', `${plainly(now.left)} ${unit(rate.unit)}`]] : [],
    ['Charged', `${plainly(now.charged)} ${unit(rate.unit)} at ${pounds(rate.pence)}`], ['Without VAT', pounds(now.net)], ['VAT', pounds(now.vat)], ['This work', pounds(now.whole)],
    ['New total with VAT', pounds(now.total)], ['Done by', now.finish ? dayOf(now.finish) : 'the office tells the new day']]
  const done = () => go('found')
  show('Slip for extra work', h('p', {}, `${rate.says}: ${entry.where}.`), h('dl', { class: 'sums' }, lines.map(([a, b]) => h('div', {}, h('dt', {}, a), h('dd', {}, b)))),
    thumbs(entry.photos || []),
    h('p', { class: 'trouble' }, 'The work does not go on there before this is signed.'),
    act('The client signs now', async () => {
      const got = await sign('Sign for the extra work', `${rate.says}, ${entry.where}: ${pounds(now.whole)} with VAT. New total ${pounds(now.total)}${now.finish ? `, done by ${dayOf(now.finish)}` : ''}.`, [])
      if (!got) return signing(entry, go)
      await write('signed', { of: entry.id, by: got.by, strokes: got.strokes, bay: entry.bay })
      say('Signed. Kept.')
      show('Signed', h('p', {}, `${got.by}, ${clock(new Date())}. The work goes on.`), signature(got.strokes), act('Go on', done))
    }), act('Not now: it waits', done, { class: 'act plain' }))
}

/** The stop card of a danger: large, with whom to ring; the stop is kept before it is shown. */
export async function stopped(danger, go) {
  const open1 = stops().find(e => e.danger === danger)
  const entry = open1 || await write('stop', { danger, bay: here.bay })
  card(entry, go)
}

function card(entry, go) {
  const about = here.bundle.stops.find(c => c.danger === entry.danger)
  show(`STOP: ${about.says}`,
    h('div', { class: 'card' }, h('ol', {}, about.do.map(d => h('li', {}, d))),
      h('h2', {}, 'Ring'),
      about.ring.map(r => h('a', { class: 'act ring', href: `tel:${r.telephone.replace(/[^\d+]/g, '')}` }, h('strong', {}, r.telephone), h('span', {}, r.who, r.basis === 'from memory' && ' (from memory)'))),
      h('p', { class: 'note' }, `Stopped at ${clock(entry.at)} by ${entry.who}. Goes on only after: ${about.cleared_by}.`),
      h('p', { class: 'note' }, `Source: ${about.source}${about.basis === 'from memory' ? ', from memory' : ''}.${about.ring.some(r => r.basis === 'from memory') ? ' Numbers from memory: try them before you rely on them.' : ''}`)),
    act('Photo, from a safe place', async () => { await take({ title: 'Photo, from a safe place', about: about.says }); card(entry, go) }, { class: 'act plain' }),
    act('Write what was seen', async () => {
      const note = await words('What was seen, and where?')
      if (!note) return card(entry, go)
      const again = await write('stop', { danger: entry.danger, note, replaces: entry.id, bay: entry.bay })
      card(again, go)
    }, { class: 'act plain' }),
    act('It is cleared', async () => {
      const by = await words('Who has cleared it?', { label: `Name of ${about.cleared_by}`, most: 80, go: 'Next', line: { ...NAMED, autocomplete: 'off' } })
      if (!by || !await sure('Cleared?', `${by} has looked and says that the work may go on. This is written down.`, 'Yes, the work goes on')) return card(entry, go)
      await write('clear', { of: entry.id, by })
      say('Cleared. Kept.')
      go('today')
    }, { class: 'act plain' }), act('Back', () => go('today'), { class: 'act plain' }))
}

/** Ask which danger it is. One touch more and the stop stands. */
export function stop(go) {
  const standing1 = stops()
  if (standing1.length === 1) return card(standing1[0], go)
  show('Stop: what is it?', standing1.length > 0 && h('p', { class: 'trouble' }, `Stopped already: ${standing1.map(e => e.danger).join(', ')}.`),
    h('div', { class: 'rows' }, DANGERS.map(([danger, text]) => row(text, '', () => stopped(danger, go), { class: 'row danger' }))),
    list(['Touch one: the work is marked as stopped, with the time and your name.']), act('Back', () => go('today'), { class: 'act plain' }))
}

// Hold points: nothing goes on before somebody has looked, and said what he saw.
import { NUMBERED, act, choose, clock, find, h, list, plainly, row, say, show, spoken, unit, words } from './kit.js'
import { limits, number, outside } from './pad.js'
import { take, thumbs } from './photo.js'
import { sign } from './sign.js'
import { here, holdState, remember, remembered, standing, stops, write } from './state.js'
import { askWho } from './who.js'

const SAID = { passed: 'passed', stopped: 'STOPPED', put_right: 'put right', agreed: 'agreed in writing' }
const MARKS = { passed: '✓', stopped: '●', put_right: '✓', agreed: '◯' }
const NEGATIVE = ['degC', 'K'] // what may lie below nought
const part = bay => bay ? `, bay ${bay}` : ''
const key = (hold, bay) => `draft:${here.bundle.job.reference}:${hold}:${bay || 0}`

/** What is known of a hold point, in a few words. */
export function known(hold, bay) {
  const state = holdState(hold, bay)
  if (state) return `${MARKS[state.outcome]} ${SAID[state.outcome]} ${clock(state.at)}, ${state.who}`
  const draft = remembered(key(hold, bay), null)
  return draft && (draft.values.length || draft.photos.length) ? '◔ begun' : '○ not looked at yet'
}

export const line = ({ hold, bay }, go) => row(`${here.bundle.holds[hold].when}${part(bay)}`, known(hold, bay), () => go(`hold/${hold}/${bay || 0}`), { sign: hold })

/** All of them: those of today, then the rest. */
export function holds(go) {
  const due = here.day ? here.day.holds : [], same = a => due.some(b => b.hold === a.hold && b.bay === a.bay)
  const all = here.bundle.dues.filter(d => !same(d))
  show('Hold points', due.length > 0 && [h('h2', {}, 'Due today'), h('div', { class: 'rows' }, due.map(d => line(d, go)))],
    all.length > 0 && [h('h2', {}, due.length ? 'On other days' : 'All'), h('div', { class: 'rows' }, all.map(d => line(d, go)))])
}

/** One hold point, filled in row by row. */
export function hold(hold, bay, go) {
  const point = here.bundle.holds[hold], state = holdState(hold, bay)
  const draft = remembered(key(hold, bay), { values: [], batches: [], photos: [], looked: false, note: null })
  const again = () => { remember(key(hold, bay), draft); drafts.set(key(hold, bay), draft); screen() }
  if (drafts.has(key(hold, bay))) Object.assign(draft, drafts.get(key(hold, bay)))

  const of = ask => draft.values.filter(v => v.what === ask.what)
  const worst = ask => of(ask).find(v => outside(v.value, ask))
  const missing = () => [
    ...point.asks.filter(a => a.needed && !of(a).length).map(a => a.says),
    ...(point.photo && !draft.photos.length ? ['a photo'] : []),
    ...(point.batches.length && !draft.batches.length ? ['a batch number'] : []),
    ...(draft.looked ? [] : ['the tick that you have looked']),
  ]

  async function value(ask) {
    const before = of(ask)
    if (before.length && await choose(spoken(ask.what), [['more', 'Another reading'], ['new', 'Instead of what stands there']]) === 'new') draft.values = draft.values.filter(v => v.what !== ask.what)
    const read = await number(ask.says, { ...ask, says: '', negative: NEGATIVE.includes(ask.unit), whole: ask.unit === 'places' })
    if (read != null) draft.values.push({ what: ask.what, value: read })
    again()
  }

  async function photo() {
    const sha = await take({ title: `Photo for hold point ${hold}`, says: point.photo, hold, bay })
    if (sha && !draft.photos.includes(sha)) draft.photos.push(sha)
    again()
  }

  async function batch() {
    const found = await askBatch(point.batches)
    if (found) draft.batches.push(found)
    again()
  }

  async function keep(outcome, more = {}) {
    const entry = await write('hold', { hold, bay, outcome, values: draft.values, batches: draft.batches, photos: draft.photos, note: draft.note, ...more })
    remember(key(hold, bay), null)
    drafts.delete(key(hold, bay))
    say(`Hold point ${hold} ${SAID[outcome]}. Kept.`)
    return entry
  }

  /** Refuse what is empty, and lead to what is missing. */
  function complete(wrong) {
    const left = missing()
    if (!left.length) return true
    wrong.textContent = `Not yet. Still missing: ${left.join('; ')}.`
    const first = find('#screen .row.missing')
    if (first) first.focus()
    return false
  }

  async function putRight() {
    await seen('stopped')
    for (const ask of point.asks.filter(worst)) {
      for (;;) {
        const read = await number(`${ask.says}, put right: read again`, { ...ask, says: '', negative: NEGATIVE.includes(ask.unit), whole: ask.unit === 'places' })
        if (read == null) return again()
        if (!outside(read, ask)) { draft.values = [...draft.values.filter(v => v.what !== ask.what), { what: ask.what, value: read }]; break }
        say('Still outside its limit.')
      }
    }
    await keep('put_right')
    go('back')
  }

  /** Write what was seen before it is put right, and keep what stands here. */
  const seen = outcome => write('hold', { hold, bay, outcome, values: draft.values, batches: draft.batches, photos: draft.photos, note: draft.note })

  async function agreed() {
    const out = point.asks.filter(worst).map(a => `${a.says} ${plainly(worst(a).value)} ${unit(a.unit)}, ${limits(a)}`).join('; ')
    const signed = await sign('Agreed in writing', `Hold point ${hold}${part(bay)}: ${out}. I have seen this and agree that the work goes on.`, here.people)
    if (!signed) return again()
    const entry = await keep('agreed', { by: signed.by })
    await write('signed', { of: entry.id, by: signed.by, strokes: signed.strokes, bay })
    go('back')
  }

  async function stopped() {
    const note = draft.note || await words('What is wrong, and what happens now?', { quick: ['waiting to dry', 'the office is rung', 'to be done again'] })
    if (!note) return again()
    draft.note = note
    await keep('stopped')
    go('back')
  }

  function ends() {
    const wrong = h('p', { class: 'wrong', role: 'alert' }), out = point.asks.filter(worst)
    if (out.length) return [
      h('p', { class: 'trouble' }, out.map(a => `${a.says}: ${plainly(worst(a).value)} ${unit(a.unit)}, ${outside(worst(a).value, a)}. `), 'It cannot be passed. One of these:'),
      wrong, act('● Stop here', () => (of(out[0]).length ? stopped() : complete(wrong)), { class: 'act stop' }),
      act('✓ Put right now, read again', () => complete(wrong) && putRight()), act('◯ Agreed in writing', () => complete(wrong) && agreed())]
    const name = state && state.outcome === 'stopped' ? 'put_right' : 'passed'
    return [wrong, act(name === 'passed' ? '✓ Passed' : '✓ Put right', async () => {
      if (stops().length) { wrong.textContent = 'The work is stopped. Clear the stop first.'; return }
      if (!complete(wrong)) return
      await keep(name)
      go('back')
    }), act('● Stop here', stopped, { class: 'act plain' })]
  }

  function screen() {
    const need = ok => ok ? {} : { class: 'row missing' }
    show(`Hold point ${hold}: ${point.when}${part(bay)}`,
      state && h('p', { class: state.outcome === 'stopped' ? 'trouble' : 'told' }, known(hold, bay), state.note && `: ${state.note}`, state.by && `, by ${state.by}`),
      h('p', {}, point.passes),
      point.values.length > 0 && h('details', { open: true }, h('summary', {}, 'On this roof'), list(point.values)),
      h('div', { class: 'rows' },
        point.asks.map(a => row(a.says, of(a).length ? [of(a).map(v => `${outside(v.value, a) ? '● ' : '✓ '}${plainly(v.value)}`).join(', '), ` ${unit(a.unit)}`, a.again_above != null && of(a).some(v => v.value > a.again_above && !outside(v.value, a)) && '; read again next day'] : `○ ${limits(a) || unit(a.unit)}${a.needed ? '' : ', if tried'}`, () => value(a), need(!a.needed || of(a).length))),
        row('Photo', draft.photos.length ? `✓ ${draft.photos.length}` : point.photo ? '○ wanted' : 'none yet', photo, need(!point.photo || draft.photos.length)),
        draft.photos.length > 0 && thumbs(draft.photos),
        (point.batches.length || draft.batches.length) > 0 && row('Batch number', draft.batches.map(b => `✓ ${b.product} ${b.batch}`).join(', ') || `○ of ${point.batches.join(' and ')}`, batch, need(draft.batches.length)),
        row('I have looked at all of it', draft.looked ? '✓ yes' : '○ not yet', () => { draft.looked = !draft.looked; again() }, { ...need(draft.looked), 'aria-pressed': String(draft.looked) }),
        row('Looked at by', here.who, async () => { await askWho(); again() }),
        row('Note', draft.note || 'none', async () => { draft.note = await words('Note', { was: draft.note || '' }) || draft.note; again() })),
      ends(), act('Back', () => go('back'), { class: 'act plain' }))
  }
  screen()
}

const drafts = new Map() // for a telephone that remembers nothing

/** Ask a product and the number on its label. */
export async function askBatch(wanted = []) {
  const fits = p => wanted.some(w => p.toLowerCase().includes(w)), all = here.bundle.products
  const product = await choose('Which product?', [...all.filter(fits), ...all.filter(p => !fits(p))].map(p => [p, p]))
  if (!product) return null
  const used = [...standing('batch'), ...standing('hold').flatMap(e => e.batches || [])].filter(b => b.product === product).map(b => b.batch)
  const batch = await words(`${product}: number on the label`, { quick: [...new Set(used)].slice(0, 4), most: 80, line: { ...NUMBERED } })
  return batch && { product, batch }
}

// All that was written, the newest first; what is kept here and what is at the desk; the way back.
import { act, clock, dayOf, h, list, plainly, row, say, show, spoken, unit, words } from './kit.js'
import { returned, save, shares } from './returned.js'
import { shown, thumbs } from './photo.js'
import { signature } from './sign.js'
import { here, remember, remembered, write } from './state.js'

const MAY = ['hold', 'reading', 'weather', 'cover', 'hours', 'batch', 'done', 'photo', 'note']
const OWN = ['id', 'device', 'n', 'at', 'who', 'replaces', 'note', 'kind']

/** An entry in words. */
export function said(e) {
  const bay = e.bay ? `, bay ${e.bay}` : ''
  const task = name => { const t = here.bundle.tasks.find(x => x.name === name.replace(/[@/].*/, '')); return t ? t.says : spoken(name) }
  switch (e.kind) {
    case 'hold': return `Hold point ${e.hold}${bay}: ${spoken(e.outcome)}${e.by ? ` by ${e.by}` : ''}${(e.values || []).map(v => `; ${spoken(v.what)} ${plainly(v.value)}`).join('')}`
    case 'reading': return `${spoken(e.what)}${e.name ? ` ${spoken(e.name)}` : ''}${bay}: ${plainly(e.value)} ${unit(e.unit)}`
    case 'weather': return `Weather, ${e.when}: ${e.sky}, ${e.wind}, ${plainly(e.air_c)} °C`
    case 'cover': return `Cover ${plainly(e.length_m)} × ${plainly(e.width_m)} m: ${{ ready: 'ready', on: 'laid', gone: 'taken away' }[e.lies]}`
    case 'hours': return `${task(e.task)}: ${e.people} × ${plainly(e.hours)} h`
    case 'batch': return `${e.product}: batch ${e.batch}`
    case 'done': return e.task ? `Done: ${task(e.task)}${bay}` : `Done${bay}`
    case 'found': return `Found: ${spoken(e.what)}, ${plainly(e.quantity)}, ${e.where}`
    case 'stop': return `STOP: ${e.danger}`
    case 'clear': return `Stop cleared by ${e.by}`
    case 'signed': return `Signed by ${e.by}`
    case 'photo': return `Photo${e.hold != null ? `, hold point ${e.hold}` : ''}${bay}: ${e.about}${e.marks && e.marks.length ? `, ${e.marks.length} drawn on it` : ''}`
    case 'note': return `Note${e.by ? `, agreed with ${e.by}` : e.about === 'other' ? '' : `, ${e.about}`}${bay}`
    default: return e.kind
  }
}

const key = () => `returned:${here.bundle.job.reference}`
/** How many records are not in a file that was handed over yet. */
export const unreturned = () => { const gone = new Set(remembered(key(), [])); return here.log.filter(e => !gone.has(e.id)).length }

/** Whether the desk has told something of the last records that nobody here has read. */
export const unread = () => !!here.news && here.news.last.length > 0 && remembered('read', '') !== here.news.at

/** What the records changed, in the desk's words. */
export function changes(go) {
  const news = here.news || { last: [], all: [] }
  remember('read', news.at || '')
  show('What the roof changed', h('p', { class: 'told' }, news.at ? `The last records came from ${news.by}, ${dayOf(news.at)}, ${clock(news.at)}.` : 'The desk has told nothing yet.'),
    news.last.length ? list(news.last) : news.at && h('p', {}, 'They changed nothing in the calculation or the days.'),
    news.all.length > 0 && `${news.all}` !== `${news.last}` && [h('h2', {}, 'All together, against the plan'), list(news.all)],
    h('p', { class: 'note' }, 'The days on this telephone are those of after it.'), act('Back', () => go('record'), { class: 'act plain' }))
  here.changed()
}

/** Records that the desk would not take; they stay here. */
async function refused(box) {
  const all = here.box.refused ? await here.box.refused() : []
  if (!all.length || !box.isConnected) return
  box.append(h('h2', {}, 'Not taken by the desk'), list(all.map(i => `${i.entry ? said(i.entry) : 'A photo'}: ${i.error ? `${i.error.what}${i.error.expected ? `, expected ${i.error.expected}` : ''}` : 'no reason told'}.`)),
    h('p', { class: 'note' }, 'They stay on this telephone. Write what is right as a new record, and tell the office.'))
}

export function record(go) {
  const apart = h('section', { 'aria-label': 'Not taken' })
  refused(apart)
  const replaced = new Set(here.log.map(e => e.replaces).filter(Boolean))
  const all = here.log.filter(e => e.kind !== 'clock').sort((a, b) => new Date(b.at) - new Date(a.at) || b.n - a.n)
  show('Record', here.sheet ? back() : h('p', { class: 'told' }, here.waiting ? `${here.waiting} kept on this telephone, not yet at the desk.` : 'All of it is at the desk.'),
    apart, here.news && h('div', { class: 'rows' }, row('What the roof changed', here.news.last.length ? `${here.news.last.length} by the last records` : 'nothing by the last records', () => go('changed'))),
    all.length ? h('div', { class: 'rows' }, all.map(e => row([replaced.has(e.id) ? h('s', {}, said(e)) : said(e), e.note && h('em', {}, ` ${e.note}`)],
      `${clock(e.at)}, ${e.who}`, () => one(e, go)))) : h('p', {}, 'Nothing is written yet. What you keep here is never changed; a correction is a new record.'))
}

/** The file that goes back, offered and told plainly. */
function back() {
  const wrong = h('p', { class: 'wrong', role: 'alert' }), many = here.log.length, left = unreturned()
  const make = async way => {
    wrong.textContent = ''
    try {
      const file = await returned()
      if (way === 'share' && shares(file)) await navigator.share({ files: [file], title: file.name })
      else save(file)
      remember(key(), here.log.map(e => e.id))
      here.changed()
      told.textContent = `${many} records are in ${file.name}. It stays here until the desk has it.`
      say(told.textContent)
    } catch (error) {
      if (error.name !== 'AbortError') wrong.textContent = `The file could not be made: ${error.message}`
    }
  }
  const told = h('p', { class: 'told', role: 'status' }, left ? `${left} of ${many} records are not handed over yet.` : many ? 'All of it was handed over.' : 'Nothing to hand over yet.')
  return h('section', { 'aria-label': 'Hand over' }, told, wrong, many > 0 && [navigator.canShare && act('Send the day’s file', () => make('share')),
    act('Save the day’s file', () => make('save'), { class: navigator.canShare ? 'act plain' : 'act' })])
}

/** One record: what it says, its photos; a note is written as a new record in its place. */
function one(e, go) {
  const again = () => go('record'), replaced = here.log.some(o => o.replaces === e.id)
  show(said(e), list([`${dayOf(e.at)}, ${clock(e.at)}`, e.who, e.note, e.place && `on the plan at ${plainly(e.place.x_m)}, ${plainly(e.place.y_m)} m`].filter(Boolean)),
    e.kind === 'photo' ? shown(e) : thumbs(e.photos || []), e.strokes && signature(e.strokes),
    replaced ? h('p', { class: 'told' }, 'Put right by a later record.')
      : MAY.includes(e.kind) && act(e.note ? 'Write the note anew' : 'Write a note to it', async () => {
        const note = await words('Note', { was: e.note || '' })
        if (!note) return one(e, go)
        const same = {}
        for (const name of Object.keys(e)) if (!OWN.includes(name)) same[name] = e[name]
        await write(e.kind, { ...same, replaces: e.id, note })
        again()
      }), act('Back', again, { class: 'act plain' }))
}

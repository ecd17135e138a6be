// The record of a roof on the desk: asked again every few seconds, drawn where it has moved.
import { call } from './api.js'
import { find, h, moment, put } from './dom.js'

const EVERY_MS = 5000
const job = document.body.dataset.job, at = `/api/jobs/${encodeURIComponent(job)}`
let drawn = ''

const line = text => h('li', { class: /^stop/i.test(text) ? 'stop' : text[0] === ' ' && 'under' }, text.trim())
const lines = (box, all, none) => put(find(box), all.length ? all.map(line) : h('li', {}, none))

function refused(one) {
  return h('li', {}, h('b', {}, one.says || `record ${one.id.slice(0, 8)}`), `: ${one.why}. `, h('span', { class: 'small' }, `Brought by ${one.came.replace(/, (\d{4}-.*)$/, (_, t) => `, ${moment(t)}`)}.`),
    one.differs.length > 0 && h('table', {}, h('caption', { class: 'away' }, 'Where the two differ'),
      h('thead', {}, h('tr', {}, ['', 'kept', 'refused'].map(t => h('th', { scope: 'col' }, t)))),
      h('tbody', {}, one.differs.map(d => h('tr', {}, h('th', { scope: 'row' }, d.what), h('td', {}, d.kept), h('td', {}, d.sent))))))
}

function photo(p, i) {
  const src = `/api/photos/${p.sha}`, words = `${p.head}. ${p.says}`
  return h('li', {}, `${words}`, p.here ? h('a', { href: src }, h('img', { src, loading: 'lazy', alt: `Photo ${i + 1}. ${words}` })) : h('span', { class: 'none' }, 'still to come from the telephone'))
}

async function look() {
  try {
    const told = await call(`${at}/roof`), text = JSON.stringify(told)
    find('#state').textContent = told.records ? '' : 'Nothing has come from the roof yet. Pair a phone, or load the file that a day sheet gave back.'
    if (text === drawn) return
    drawn = text
    find('#brought').textContent = told.at ? `Brought by ${told.by}, ${moment(told.at)}.` : ''
    lines('#last', told.last, 'Nothing in the calculation, the price or the days.')
    lines('#all', told.all, 'Nothing: as it was planned.')
    lines('#told', told.told, 'Nothing is recorded yet.')
    put(find('#refused'), told.refused.length ? told.refused.map(refused) : h('li', {}, 'None.'))
    put(find('#photos'), told.photos.map(photo))
    find('#copies').hidden = !told.photos.some(p => p.here)
  } catch (wrong) {
    find('#state').textContent = wrong.message
  }
}

look()
setInterval(() => { if (!document.hidden) look() }, EVERY_MS)

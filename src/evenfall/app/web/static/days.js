// The days for a telephone without signal: out as files, and back again.
import { desk, of, work } from './desk.js'
import { find, h, put, say } from './dom.js'

let news = [] // stays while the page is drawn again

/** Draw the files of the days, and the way back for what a telephone gave back. */
export function days() {
  const told = h('p', { class: 'small', role: 'status', id: 'returned-says' }, news)
  const back = h('input', { type: 'file', class: 'away', accept: '.json,application/json', 'data-keep': 'returned', change: e => load(e.currentTarget) })
  return [h('h3', {}, 'The days on a telephone'),
    h('p', {}, 'Each day is one file. Send it to the telephone, open it there in the browser: it works without signal, keeps what is written, and gives one file back.'),
    h('p', { class: 'presses' }, desk.state.evenings.map(e => h('a', { class: 'word', href: `${desk.at}/papers/days/day-${e.number}.html`, download: `day-${e.number}.html` }, `day ${e.number}`))),
    h('p', { class: 'presses' }, h('label', { class: 'press' }, 'Load a day that came back', back)), told]
}

async function load(input) {
  const [file] = input.files, body = new FormData()
  if (!file) return
  body.append('day', file)
  input.value = ''
  const tell = (...says) => { news = says; put(find('#returned-says'), says) }, was = desk.revision
  tell('Loading…')
  try {
    const done = await of('returned', { body })
    const says = `${done.new} new records, ${done.before} there before, ${done.photos} new photos.${done.to_come ? ` ${done.to_come} photos still to come.` : ''}`
    tell(says, done.refused.map(r => h('span', { class: 'bad' }, ` Not taken: ${r.why}.`)))
    say(says)
    if (done.new) await work(was)
  } catch (wrong) {
    tell(h('span', { class: 'bad' }, `${wrong.message}. ${wrong.do ?? ''}`))
    say(wrong.message)
  }
}

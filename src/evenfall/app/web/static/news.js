// What the roof has just changed, told at the head of the sheet; looked for while the sheet is open.
import { desk, job, look, of, watch } from './desk.js'
import { find, h, moment, put, say } from './dom.js'

const EVERY_MS = 5000, MOST = 4
let drawn = -1, heard = ''

async function ask() {
  const told = await of('roof'), more = told.last.length - MOST
  const when = told.at && moment(told.at)
  put(find('#from-roof'), h('section', { class: 'from-roof', 'aria-label': 'From the roof' },
    h('p', {}, h('b', {}, 'From the roof'), told.at && `, ${told.by}, ${when}: `, !told.last.length && (told.at ? 'nothing in the numbers has moved. ' : ` ${told.records} records. `)),
    told.last.length > 0 && h('ul', {}, told.last.slice(0, MOST).map(t => h('li', {}, t))),
    h('p', {}, more > 0 && `${more} more. `, told.refused.length > 0 && `${told.refused.length} refused. `, h('a', { href: `/job/${encodeURIComponent(job)}/roof` }, 'the whole record'))))
  if (heard && told.at !== heard && told.last.length) say(`From the roof: ${told.last.slice(0, MOST).join('. ')}`)
  heard = told.at || 'begun'
}

/** Begin to look and to tell. */
export function news() {
  watch(() => {
    if (!desk.state || desk.stale || desk.state.worked === drawn) return
    drawn = desk.state.worked
    if (desk.state.records) ask().catch(() => { drawn = -1 })
    else heard = 'begun'
  })
  setInterval(look, EVERY_MS)
}

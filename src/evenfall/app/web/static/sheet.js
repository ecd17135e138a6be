// The open job: one sheet, drawn again wherever the job has moved.
import { desk, look, open, stop, watch } from './desk.js'
import * as row from './evenings.js'
import { find } from './dom.js'
import * as head from './head.js'
import { marks, show } from './marks.js'
import { news } from './news.js'
import * as roll from './roll.js'
import * as stick from './stick.js'
import { history, under } from './under.js'

head.ready()
news()
row.ready()
stick.ready(side => roll.chosen(side))
roll.ready((kind, name) => {
  if (kind === 'finding') show(name)
  else if (kind === 'pick') {
    roll.chosen(stick.look(`side:${name}`))
    if (matchMedia('(max-width: 1099px)').matches) find('#rise').scrollIntoView({ block: 'start' })
  } else {
    const at = desk.state.stick.stands.find(x => x.name.replaceAll(' ', '-') === name || x.id.endsWith(`:${name}`))
    if (at) roll.chosen(stick.look(at.id))
  }
})
find('#stop').addEventListener('click', stop)
find('#fold-history').addEventListener('toggle', history)
addEventListener('visibilitychange', look)
addEventListener('focus', look)

let drawn = -1
watch(() => {
  head.head()
  document.body.classList.toggle('stale', desk.stale)
  if (!desk.state || desk.state.worked === drawn) return
  drawn = desk.state.worked
  roll.plan()
  stick.stick()
  marks()
  row.evenings()
  under()
  history()
  document.body.classList.add('ready')
})

const known = find('#known')
if (!known) roll.outline().catch(() => {}) // the work says what is wrong
open(known ? JSON.parse(known.textContent) : null)

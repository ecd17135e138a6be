// Chalk marks: what is wrong, heaviest first; what clears it and what that costs; or agreed in writing.
import { attempt, change, desk } from './desk.js'
import { button, find, fold, h, put, say } from './dom.js'
import { marked } from './fields.js'
import { told } from './stick.js'

const OPEN = 6
const costs = new Map() // key of a mark at a revision -> what its remedy would move
let asking = null

/** The mark itself: its shape says how much it weighs. */
export function sign(level, number) {
  const shape = {
    stop: [h('circle', { cx: 17, cy: 16, r: 13, class: 'f-red' }), h('path', { d: 'M4 35H30', class: 'red cut' })],
    agree: [h('path', { d: 'M21.5 28.2A13 13 0 1 1 29.2 20.4', class: 'red' })],
    note: [h('path', { d: 'M8 27H26', class: 'red' })],
    fine: [h('path', { d: 'M9 17L15 24L26 8', class: 'line' })],
  }[level]
  return h('svg', { class: 'mark', viewBox: '0 0 34 40', width: 34, height: 40, 'aria-hidden': 'true' }, shape,
    number ? h('text', { x: 17, y: 21.5, class: level === 'stop' ? 'on' : 'off' }, number) : null)
}

const key = f => `${f.code}:${f.subject}`

const asksEngineer = f => f.level === 'stop' && f.by_engineer
const mayAgree = f => f.level === 'agree' || asksEngineer(f)

/** Draw the margin. */
export function marks() {
  if (!desk.state) return
  const { findings } = desk.state
  const heavy = findings.filter(f => f.level === 'stop' || f.level === 'agree')
  const notes = findings.filter(f => f.level === 'note')
  const fine = findings.filter(f => f.level === 'fine')
  const open = Math.max(OPEN, heavy.filter(f => f.level === 'stop').length)
  const opened = new Set([...document.querySelectorAll('#marks details.fold[open]')].map(d => d.dataset.of))
  const more = (of, title, list) => {
    const d = fold(title, h('ol', {}, list.map(line)))
    d.dataset.of = of
    d.open = opened.has(of)
    return list.length > 0 && d
  }
  const count = level => findings.filter(f => f.level === level).length
  find('#count').textContent = `${count('stop')} to stop for, ${count('agree')} to agree, ${count('note')} to note; ${fine.length} checked and fine`
  put(find('#marks'),
    heavy.length ? h('ol', {}, heavy.slice(0, open).map(line)) : h('p', { class: 'empty' }, 'Nothing to stop for and nothing to agree.'),
    more('agree', `${heavy.length - open} more to agree`, heavy.slice(open)),
    more('note', `${notes.length} to note`, notes),
    more('fine', `${fine.length} checked and fine`, fine))
  for (const li of document.querySelectorAll('[data-sign]:not(:has(svg))')) li.prepend(sign(li.dataset.sign))
  price(findings.filter(f => f.changes.length))
}

function line(f) {
  const cost = costs.get(`${desk.state.worked} ${key(f)}`)
  return h('li', { class: f.level, id: `mark-${f.number || f.code}`, 'data-mark': key(f), tabindex: '-1' }, sign(f.level, f.number),
    h('div', {},
      h('p', {}, h('span', { class: 'away' }, `${f.level}${f.number ? `, mark ${f.number}` : ''}: `), f.says),
      f.remedy && h('p', { class: 'remedy' }, f.remedy),
      f.changes.length > 0 && h('p', { class: 'cost', 'data-cost': key(f) }, cost ?? 'working out what it costs…'),
      h('div', { class: 'presses' },
        f.changes.length > 0 && button({ class: 'word', 'data-keep': `take-${key(f)}`, click: e => takeIt(e, f), 'aria-label': `Take the remedy of mark ${f.number}` }, 'Take it'),
        mayAgree(f) && button({ class: 'word', 'data-keep': `agree-${key(f)}`, 'aria-expanded': 'false', click: e => agreeing(e, f), 'aria-label': `Mark ${f.number}: ${asksEngineer(f) ? 'the engineer’s word' : 'agreed in writing'}` }, asksEngineer(f) ? 'The engineer’s word…' : 'Agreed in writing…'),
        h('details', { class: 'why' }, h('summary', {}, 'why', h('span', { class: 'away' }, ` mark ${f.number || f.code}`)), h('p', {}, f.why)))))
}

async function takeIt(e, f) {
  const button = e.currentTarget
  button.disabled = true
  try {
    await change(f.changes.map(({ path, value }) => ({ path, value })), `remedy of ${f.code}, ${f.subject}`)
    say(`The remedy of mark ${f.number} is taken.`)
  } catch (wrong) {
    button.disabled = false
    if (wrong.status !== 409) button.after(h('span', { class: 'why-wrong' }, wrong.message))
  }
}

/** Ask who agreed and when, in the margin itself. */
function agreeing(e, f) {
  const button = e.currentTarget
  const li = button.closest('li')
  const there = find('form', li)
  button.setAttribute('aria-expanded', String(!there))
  if (there) { there.remove(); return }
  const why = h('p', { class: 'why-wrong', hidden: true, id: 'agree-why' })
  const who = h('input', { name: 'by', type: 'text', autocomplete: 'off', required: true, 'aria-describedby': 'agree-why' })
  const on = h('input', { name: 'on', type: 'date', required: true, value: desk.state.on })
  const under = asksEngineer(f) && h('input', { name: 'reference', type: 'text', autocomplete: 'off', required: true, 'aria-describedby': 'agree-why' })
  const form = h('form', { class: 'agree', novalidate: true, submit: async ev => {
    ev.preventDefault()
    const missing = !who.value.trim() ? [who, 'Who agreed? A name, so that it can be asked again.'] : !on.value ? [on, 'When? The day on the letter.']
      : under && !under.value.trim() ? [under, 'Under what number? It stands on the engineer’s letter or calculation.'] : null
    for (const box of [who, on, under]) if (box) marked(box, why, '')
    if (missing) { marked(missing[0], why, missing[1]); missing[0].focus(); return }
    try {
      await change([{ path: 'record.agreed[+]', value: { finding: f.code, subject: f.subject, by: who.value.trim(), on: on.value, ...(f.value == null ? {} : { value: f.value }), ...(under ? { reference: under.value.trim() } : {}) } }], `agreed: ${f.code}, ${f.subject}`)
      say(`Mark ${f.number} is agreed; it comes back if it gets worse.`)
    } catch (wrong) { marked(who, why, wrong.message) }
  } },
  h('label', {}, under ? 'structural engineer ' : 'who agreed ', who), h('label', {}, 'on ', on), under && h('label', {}, 'reference ', under), why,
  h('p', { class: 'small' }, 'It holds for the number as it is now, and lapses when that changes.'),
  h('button', { class: 'press' }, 'Keep it'))
  find('.presses', li).after(form)
  who.focus()
}

/** Try each remedy beside the job, one after another, while nothing else is asked. */
async function price(list) {
  asking?.abort()
  const mine = asking = new AbortController()
  await new Promise(done => setTimeout(done, 1200))
  for (const f of list) {
    if (mine.signal.aborted || desk.stale) return
    const name = `${desk.state.worked} ${key(f)}`
    if (costs.has(name)) continue
    let words
    try {
      words = told(await attempt(f.changes, mine.signal))
    } catch (e) {
      if (e.name === 'AbortError') return
      words = 'what it costs could not be worked out'
    }
    costs.set(name, words)
    const el = find(`[data-cost="${CSS.escape(key(f))}"]`)
    if (el) el.textContent = words
  }
}

/** Show the line of a mark that was pressed on the plan. */
export function show(number) {
  const li = find(`#mark-${CSS.escape(number)}`)
  if (!li) return
  for (let d = li.closest('details'); d; d = d.parentElement.closest('details')) d.open = true
  for (const other of document.querySelectorAll('#marks .shown')) other.classList.remove('shown')
  li.classList.add('shown')
  li.focus({ preventScroll: true })
  li.scrollIntoView({ block: 'center', behavior: matchMedia('(prefers-reduced-motion: reduce)').matches ? 'auto' : 'smooth' })
}


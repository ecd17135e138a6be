// Small hands: elements, drawings, sentences for the screen reader.

const SVG = new Set(['svg', 'g', 'path', 'circle', 'rect', 'text', 'title', 'line'])
const there = c => c !== false && c != null && c !== ''

/** Make an element, of a drawing where it is one: h('p', {class: 'why'}, 'text', child). A function is a
 * listener, false is left out; no markup is ever read from text. */
export function h(tag, traits = {}, ...children) {
  const el = SVG.has(tag) ? document.createElementNS('http://www.w3.org/2000/svg', tag) : document.createElement(tag)
  for (const [name, value] of Object.entries(traits)) {
    if (value === false || value == null) continue
    if (typeof value === 'function') el.addEventListener(name, value)
    else if (name === 'value') el.value = value
    else el.setAttribute(name, value === true ? '' : value)
  }
  el.append(...children.flat(Infinity).filter(there))
  return el
}

export const button = (traits, ...children) => h('button', { type: 'button', ...traits }, ...children)

/** What Enter and the space bar do on a part of a drawing, as a press would. */
export const keyed = press => e => {
  if (e.key !== 'Enter' && e.key !== ' ') return
  e.preventDefault()
  e.stopPropagation()
  press()
}

/** Follow a pointer until it is lifted; gives what ends it before. */
export function follow(el, move, done) {
  const followed = new AbortController(), { signal } = followed
  const end = e => { followed.abort(); done(e) }
  el.addEventListener('pointermove', move, { signal })
  for (const what of ['pointerup', 'pointercancel']) el.addEventListener(what, end, { signal })
  return end
}

/** The moment of a revision or a paper, in words. */
export const moment = at => new Date(at).toLocaleString('en-GB', { dateStyle: 'medium', timeStyle: 'short' })

export const find = (what, within = document) => within.querySelector(what)

/** Put children in the place of what is there, and keep the keyboard where it was. */
export function put(el, ...children) {
  const active = document.activeElement
  const kept = el.contains(active) && (active.dataset.keep || active.id)
  const caret = kept && active.selectionStart
  const typed = kept && active.dataset.was !== undefined && active.value !== active.dataset.was ? active.value : null
  el.replaceChildren(...children.flat(Infinity).filter(there))
  if (!kept) return
  const again = el.querySelector(`[data-keep="${CSS.escape(kept)}"], #${CSS.escape(kept)}`)
  if (typed != null && again) again.value = typed // what is being typed stays
  again?.focus({ preventScroll: true })
  if (caret != null && again?.setSelectionRange) try { again.setSelectionRange(caret, caret) } catch { /* a number has no caret */ }
}

/** Put what went wrong in the place of what was asked for. */
export const failed = el => e => put(el, h('p', { class: 'empty' }, e.message))

/** Say something once, politely. */
export function say(text) {
  const place = find('#said')
  place.textContent = ''
  setTimeout(() => { place.textContent = text }, 60)
}

/** A number that came out of a working, with what it was before in pencil. */
export function figure(n, was, open) {
  return [
    was != null && was !== n.text && h('span', { class: 'from' }, was, h('span', { 'aria-hidden': 'true' }, ' → '), h('span', { class: 'away' }, ' to ')),
    open
      ? button({ class: `worked${n.bad ? ' bad' : ''}`, 'data-number': n.id, 'data-keep': `n-${n.id}`, 'aria-expanded': 'false', 'aria-label': `${n.text} ${n.label}, show the working`, click: open }, n.text)
      : h('span', { class: `num${n.bad ? ' bad' : ''}`, 'data-number': n.id }, n.text),
  ]
}

/** A formula with its indices lowered. */
export function formula(text) {
  const parts = []
  let start = 0
  for (const m of text.matchAll(/(?<![\p{L}\d_])(\p{L}{1,2})_([\p{L}\d_]+)|([\p{L}\d]+_[\p{L}\d_]+)/gu)) {
    parts.push(text.slice(start, m.index))
    if (m[3]) parts.push(m[3].replaceAll('_', ' '))
    else parts.push(m[1], h('sub', {}, m[2].replaceAll('_', ',')))
    start = m.index + m[0].length
  }
  return [...parts, text.slice(start)]
}

/** A table; `numeric` says which columns are numbers. */
export function table(caption, heads, rows, numeric = [], hidden = false) {
  return h('div', { class: 'wide', role: 'region', tabindex: '0', 'aria-label': caption },
    h('table', {},
      h('caption', { class: hidden && 'away' }, caption),
      h('thead', {}, h('tr', {}, heads.map((t, i) => h('th', { scope: 'col', class: numeric[i] && 'num' }, t)))),
      h('tbody', {}, rows.map(r => h('tr', {}, r.map((c, i) => h('td', { class: numeric[i] && 'num', 'data-head': heads[i] }, c)))))))
}

/** Words and amounts of money. */
export function amounts(caption, lines) {
  return h('table', { class: 'amounts' },
    h('caption', {}, caption),
    h('tbody', {}, lines.map(l => h('tr', {},
      h('th', { scope: 'row' }, l.says, l.more && h('span', { class: 'more' }, ` ${l.more}`)),
      h('td', { class: 'num' }, l.amount)))))
}

/** A thing that is folded away until asked for. */
export function fold(summary, ...inside) {
  return h('details', { class: 'fold' }, h('summary', {}, summary), ...inside)
}

export const whole = mm => `${Math.round(mm)}`.replace('-', '−')

const YEAR_S = 365 * 24 * 3600

/** Let a light be taken at once, and kept where the server reads it before it draws the next page. */
export function lights() {
  find('#lights').addEventListener('click', e => {
    const name = e.target.closest('a')?.dataset.lightOf
    if (!name) return
    e.preventDefault()
    const html = document.documentElement, machine = name === 'machine'
    if (machine) delete html.dataset.light
    else html.dataset.light = name
    document.cookie = `light=${name}; path=/; max-age=${machine ? 0 : YEAR_S}; samesite=strict`
    for (const a of e.currentTarget.querySelectorAll('a')) {
      if (a.dataset.lightOf === name) a.setAttribute('aria-current', 'true')
      else a.removeAttribute('aria-current')
    }
  })
}

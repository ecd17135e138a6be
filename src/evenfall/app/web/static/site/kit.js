// Small hands of the telephone's page: elements, one screen at a time, what is asked by touch.

export function h(tag, traits, ...children) {
  return fill(document.createElement(tag), traits, children)
}

export function s(tag, traits, ...children) {
  return fill(document.createElementNS('http://www.w3.org/2000/svg', tag), traits, children)
}

function fill(el, traits, children) {
  for (const name of Object.keys(traits || {})) {
    const value = traits[name]
    if (value === false || value == null) continue
    if (typeof value === 'function') el.addEventListener(name, value)
    else if (name === 'value') el.value = value
    else el.setAttribute(name, value === true ? '' : value)
  }
  el.append(...children.flat(9).filter(c => c !== false && c != null && c !== ''))
  return el
}

export const find = what => document.querySelector(what)

/** Say something once, politely, to whoever listens to the page. */
export function say(text) {
  const place = find('#said')
  place.textContent = ''
  setTimeout(() => { place.textContent = text }, 60)
}

/** Show one thing: its heading takes the focus, so that it is read out. */
export function show(title, ...inside) {
  document.body.classList.toggle('asking', asked)
  asked = false
  const head = h('h1', { tabindex: '-1' }, title)
  find('#screen').replaceChildren(head, ...inside.flat(9).filter(c => c !== false && c != null && c !== ''))
  scrollTo(0, 0)
  head.focus({ preventScroll: true })
}

/** A main act. The `sign` is a word or a mark that stands before it. */
export function act(text, click, traits) {
  return h('button', { type: 'button', class: 'act', click, ...traits }, text)
}

/** A row that leads on: what, and what is known of it. */
export function row(what, known, click, { sign, ...traits } = {}) {
  return h('button', { type: 'button', class: 'row', click, ...traits }, sign != null && h('span', { class: 'sign' }, sign),
    h('span', { class: 'what' }, what), known && h('span', { class: 'known' }, known))
}

export const list = (items, kind = 'ul') => h(kind, {}, items.map(i => h('li', {}, i)))

let asked = false

/** Ask one thing on the whole screen; what was there is drawn anew by whoever asked. */
export function asking(title, draw, back = true) {
  return new Promise(done => {
    const inside = draw(done)
    asked = true
    show(title, inside, back && act('Back', () => done(null), { class: 'act plain' }))
  })
}

/** Choose by one touch. An option is `[value, words, more]`. */
export function choose(title, options, says) {
  return asking(title, done => [says && h('p', {}, says),
    h('div', { class: 'rows' }, options.map(([value, words, more]) => row(words, more, () => done(value))))])
}

/** Words that cannot be tapped are typed; those used before are offered. */
export function words(title, { quick = [], was = '', most = 400, label = title, go = 'Keep', back = true, line = null } = {}) {
  return asking(title, done => {
    const entry = h(line ? 'input' : 'textarea', { id: 'entry', ...line ? { type: 'text', ...line, enterkeyhint: 'done' } : { rows: '3' }, maxlength: most, value: was, 'aria-label': label })
    const wrong = h('p', { class: 'wrong', role: 'alert' })
    const keep = () => {
      const text = entry.value.trim().replace(/\s+/g, ' ')
      if (text) done(text)
      else { wrong.textContent = 'Nothing is written yet.'; entry.focus() }
    }
    if (line) entry.addEventListener('keydown', event => { if (event.key === 'Enter') { event.preventDefault(); keep() } })
    return [quick.length > 0 && h('div', { class: 'rows' }, quick.map(q => row(q, '', () => done(q)))),
      h('label', { for: 'entry', class: label === title && !quick.length && 'away' }, quick.length ? 'or write' : label), entry, wrong, act(go, keep)]
  }, back)
}

/** A name is one line, and the telephone offers its holder's; a number on a label is one line too. */
export const NAMED = { autocomplete: 'name', autocapitalize: 'words', spellcheck: 'false' }
export const NUMBERED = { autocomplete: 'off', autocapitalize: 'characters', spellcheck: 'false' }

export const sure = (title, says, yes, no = 'Back') => asking(title, done => [
  h('p', {}, says), act(yes, () => done(true)), no !== 'Back' && act(no, () => done(false))])

/** Say a number with no more figures than it has. */
export const plainly = n => `${+n.toFixed(3)}`.replace('-', '−')

export const pounds = pence => `£${(Math.round(pence) / 100).toLocaleString('en-GB', { minimumFractionDigits: 2, maximumFractionDigits: 2 })}`

const UNITS = { m2: 'm²', m3: 'm³', each: 'pieces', person_day: 'person-days', day: 'days', l: 'litres', '%': '%', N: 'N', K: '°C', degC: '°C', min: 'minutes' }
export const unit = u => UNITS[u] || u

export const clock = at => new Date(at).toLocaleTimeString('en-GB', { hour: '2-digit', minute: '2-digit' })
export const dayOf = at => new Date(at).toLocaleDateString('en-GB', { weekday: 'short', day: 'numeric', month: 'short', year: 'numeric' })
export const spoken = name => name.replace(/[-_]/g, ' ')

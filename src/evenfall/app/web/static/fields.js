// Entries that are saved as they are left: label, unit, and in red what is wrong and the likely cure.
import { change } from './desk.js'
import { button, h, put, say } from './dom.js'

const CLOCK = /^(\d{1,2})(?::([0-5]\d))?$/
export const clock = v => { const m = Math.round(v * 60); return [Math.floor(m / 60), m % 60].map(n => String(n).padStart(2, '0')).join(':') }
const NUMBER = /^[-−+]?\d+([.,]\d+)?$/

/** Strike an entry and say beside it what is wrong, with answers to press; or take that back. */
export function marked(input, why, words, answers = []) {
  input.setAttribute('aria-invalid', Boolean(words))
  put(why, words, ' ', answers.map(([text, click]) => button({ class: 'word', click }, text)))
  why.hidden = !words
  if (words) say(words)
}

const named = path => `f-${path.replace(/[^\w]+/g, '-')}`

/** An entry for one place of the job or the rates. */
export function field({ path, label, unit = '', value, kind = 'number', least, most, whole = false, show = v => v, keep = v => v }) {
  const id = named(path)
  const why = h('p', { class: 'why-wrong', id: `${id}-why`, hidden: true })
  const wrong = (words, answers = []) => marked(input, why, words, answers.map(([text, v]) => [text, () => { input.value = v; save() }]))
  const read = () => {
    if (kind === 'date' || kind === 'text') return input.value || null
    if (kind === 'clock') {
      const [found, hours, minutes = 0] = CLOCK.exec(input.value.trim()) ?? []
      if (!found) { wrong(`“${input.value}” is no time. Type hours and minutes, such as ${show(value)}.`); return undefined }
      return within(Number(hours) + minutes / 60)
    }
    const text = input.value.trim().replace(/[£\s]/g, '').replace(/,(?=\d{3}\b)/g, '').replace(',', '.').replace('−', '-')
    if (!NUMBER.test(text)) { wrong(`“${input.value}” is no number. Type ${whole ? 'a whole number' : 'a number'}${unit ? ` of ${unit}` : ''}, such as ${show(value)}.`); return undefined }
    const n = Number(text)
    if (whole && !Number.isInteger(n)) { wrong(`${input.value} is not whole.`, [[`Make it ${Math.round(n)}`, Math.round(n)]]); return undefined }
    return within(n)
  }
  const within = n => {
    const [words, end] = n < least ? ['too little; at least', least] : n > most ? ['too much; at most', most] : []
    if (!words) return n
    wrong(`${input.value} is ${words} ${end}${unit && ` ${unit}`}.`, [[`Make it ${end}`, end]])
  }
  const save = async () => {
    if (`${input.value}` === `${show(value)}`) { wrong(''); return }
    const n = read()
    if (n === undefined) return
    wrong('')
    try {
      const answer = await change([{ path, value: keep(n) }], label)
      const about = (answer.problems ?? []).find(p => p.where && path.startsWith(p.where.split('[')[0]))
      if (about) wrong([about.what, about.expected && `; expected ${about.expected}.`, about.do && ` ${about.do}`].filter(Boolean).join(''))
    } catch (e) {
      if (e.status !== 409) wrong(e.message)
    }
  }
  const input = h('input', {
    id, 'data-keep': id, type: kind === 'date' ? 'date' : 'text', inputmode: kind === 'number' ? 'decimal' : false, autocomplete: 'off',
    'data-was': show(value), value: show(value), 'aria-describedby': `${id}-why`, change: save, keydown: e => { if (e.key === 'Escape') { input.value = show(value); wrong('') } },
  })
  return h('div', { class: 'field' }, h('label', { for: id }, label, unit && h('small', {}, `, ${unit}`)), input, why)
}

const labelled = (label, input) => h('div', { class: 'field' }, h('label', { for: input.id }, label), input)

/** A choice between two, saved as it is pressed. */
export function tick({ path, label, value }) {
  const id = named(path)
  return labelled(label, h('input', { id, 'data-keep': id, type: 'checkbox', checked: value, change: e => change([{ path, value: e.target.checked }], label).catch(w => say(w.message)) }))
}

/** A choice of one of several words. */
export function choice({ path, label, value, of }) {
  const id = named(path)
  return labelled(label,
    h('select', { id, 'data-keep': id, change: e => change([{ path, value: Number.isNaN(+e.target.value) ? e.target.value : +e.target.value }], label).catch(w => say(w.message)) },
      of.map(([v, words]) => h('option', { value: v, selected: v === value }, words))))
}


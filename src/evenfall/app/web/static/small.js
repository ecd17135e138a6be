// What the list, the first call and the walk share.

import { call, keepLight } from './api.js'

// Ask the desk; what is wrong is told with what to do.
export const ask = (url, body, method) => call(url, { body, method }).catch((e) => {
  if (e.do) e.message += `; ${e.do}`
  throw e
})

const SVG = new Set(['svg', 'g', 'path', 'circle', 'rect', 'text', 'title', 'defs', 'pattern', 'line'])

// No markup is ever read from text.
export function make(tag, has = {}, ...within) {
  const e = SVG.has(tag) ? document.createElementNS('http://www.w3.org/2000/svg', tag) : document.createElement(tag)
  for (const [key, value] of Object.entries(has)) {
    if (value === undefined || value === null || value === false) continue
    if (key.startsWith('on')) e.addEventListener(key.slice(2), value)
    else if (key in e && tag !== 'svg' && !SVG.has(tag) && typeof value !== 'string') e[key] = value
    else e.setAttribute(key, value === true ? '' : value)
  }
  e.append(...within.flat(9).filter((w) => w !== null && w !== undefined && w !== false))
  return e
}

export const button = (has, ...within) => make('button', { type: 'button', ...has }, ...within)
export const fill = (at, ...within) => at.replaceChildren(...within.flat(9).filter(Boolean))

const FOOT = 304.8
const INCH = 25.4
const UNITS = { m: 1000, mm: 1, cm: 10 }

// Read what was called or typed. Gives {value, text} in the unit asked, or {ask, value, text} where
// it is only likely, or {wrong}. Lengths in m or mm; other units are plain numbers.
export function read(typed, unit) {
  const text = typed.trim().replace(/\s+/g, ' ').replace('−', '-').toLowerCase()
  if (!text) return { wrong: 'Nothing typed yet.' }
  if (!(unit === 'm' || unit === 'mm')) {
    const found = /^(?:1 ?: ?|1 in )?(-?\d+(?:[.,]\d+)?) ?[a-z%°/²³£ ]*$/.exec(text)
    return found ? plain(Number(found[1].replace(',', '.')), unit) : { wrong: 'A number, please.' }
  }
  const feet = /^(?:(\d+(?:\.\d+)?) ?(?:'|’|′|ft|feet|foot) ?)?(?:(\d+(?:\.\d+)?) ?(?:"|”|″|''|ins?|inch|inches)?)?$/.exec(text)
  if (feet && /['’′"”″fi]/.test(text)) {
    const mm = Number(feet[1] ?? 0) * FOOT + Number(feet[2] ?? 0) * INCH
    return { ask: `That is feet and inches. ${typed.trim()} is ${said(mm, unit)}?`, ...length(mm, unit) }
  }
  const both = /^(-?\d+) ?m ?(\d{1,3}) ?(cm|mm)?$/.exec(text)
  if (both) {
    const part = both[3] === 'mm' || both[2].length === 3 ? 1 : 10
    return length(Number(both[1]) * 1000 + Number(both[2]) * part, unit)
  }
  const one = /^(-?\d+(?:[.,]\d+)?|-?[.,]\d+) ?(mm|cm|m)?$/.exec(text)
  if (!one) return { wrong: 'A length, please: 3.45, 3450 or 3 m 45.' }
  const n = Number(one[1].replace(',', '.'))
  const whole = Number.isInteger(n)
  if (one[2]) return length(n * UNITS[one[2]], unit)
  if (unit === 'm') return length(whole && Math.abs(n) >= 100 ? n : n * 1000, unit)
  return length(!whole && Math.abs(n) < 6 ? n * 1000 : n, unit)
}

const plain = (value, unit) => ({ value, text: unit ? `${value} ${unit}` : `${value}` })
const said = (mm, unit) => (unit === 'm' ? `${(mm / 1000).toFixed(3)} m` : `${Math.round(mm * 10) / 10} mm`)
const length = (mm, unit) => ({
  value: unit === 'm' ? Math.round(mm) / 1000 : Math.round(mm * 10) / 10, text: said(mm, unit),
})

// The lights of the desk: paper, dusk, sun, or as the machine has it.
export function lights() {
  const kept = () => document.documentElement.dataset.light ?? 'machine'
  const set = (name) => {
    keepLight(name)
    for (const b of row.children) b.setAttribute('aria-pressed', b.value === name)
  }
  const row = make('div', { class: 'lights', role: 'group', 'aria-label': 'Light' },
    ['paper', 'dusk', 'sun'].map((name) => button({
      value: name, 'aria-pressed': String(kept() === name),
      onclick: () => set(kept() === name ? 'machine' : name),
    }, name)))
  return row
}

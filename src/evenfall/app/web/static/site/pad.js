// A number by thumb: large keys, the unit beside it, its limit said before it is kept.
import { act, asking, h, plainly, say, unit } from './kit.js'

const MOST_SIGNS = 9

/** How a value lies to its limits: nothing where it is within them. */
export function outside(value, { least, most }) {
  if (most != null && value > most) return `over ${plainly(most)}`
  if (least != null && value < least) return `under ${plainly(least)}`
  return ''
}

/** Say the limits in words. */
export function limits({ least, most, unit: of }) {
  const u = of ? ` ${unit(of)}` : ''
  if (least != null && most != null) return `${plainly(least)} to ${plainly(most)}${u}`
  if (most != null) return `at most ${plainly(most)}${u}`
  return least != null ? `at least ${plainly(least)}${u}` : ''
}

/** Ask a number. `negative` allows a minus, `whole` leaves the point out, `above` must be passed. */
export function number(title, about = {}) {
  return asking(title, done => {
    let typed = about.was != null ? String(about.was) : ''
    const shown = h('output', { 'aria-live': 'polite' })
    const told = h('p', { class: 'wrong', role: 'status' })
    const put = text => {
      typed = text.slice(0, MOST_SIGNS)
      shown.replaceChildren(typed.replace('-', '−') || '–', h('span', { class: 'unit' }, ` ${unit(about.unit || '')}`))
      const out = typed && isFinite(typed) ? outside(+typed, about) : ''
      told.textContent = out ? `${out}: outside the limit.` : ''
    }
    const press = key => {
      if (key === 'back') return put(typed.slice(0, -1))
      if (key === '-') return put(typed[0] === '-' ? typed.slice(1) : `-${typed}`)
      if (key === '.' && typed.includes('.')) return
      put(typed === '0' && key !== '.' ? key : typed + key)
    }
    const keep = () => {
      const value = +typed
      if (!typed || !isFinite(value)) { told.textContent = 'No number is there yet.'; say(told.textContent); return }
      if (about.above != null && value <= about.above) { told.textContent = `It must be more than ${about.above}.`; return }
      if (about.highest != null && value > about.highest) { told.textContent = `At most ${about.highest} can be written here.`; return }
      done(value)
    }
    const keys = ['1', '2', '3', '4', '5', '6', '7', '8', '9', about.whole ? '' : '.', '0', about.negative ? '-' : '']
    const names = { '-': 'minus', '.': 'point', back: 'rub out' }
    const signs = { '-': '±', back: '⌫' }
    const button = k => k ? h('button', { type: 'button', 'aria-label': names[k], click: () => press(k) }, signs[k] || k) : h('span', {})
    put(typed)
    const all = h('div', {}, about.says && h('p', {}, about.says), h('div', { class: 'figure' }, button('back'), shown),
      h('p', { class: 'limit' }, limits(about)), told, h('div', { class: 'pad' }, keys.map(button)), act('Keep', keep))
    function hear(event) {
      const key = event.key === ',' ? '.' : event.key
      if (/^\d$/.test(key) || (key === '.' && !about.whole) || (key === '-' && about.negative)) press(key)
      else if (key === 'Backspace') press('back')
      else if (key === 'Enter' && (event.target.tagName !== 'BUTTON' || /^\d$/.test(event.target.textContent))) keep()
      else return
      event.preventDefault(); event.stopPropagation()
    }
    document.onkeydown = event => { if (all.isConnected) hear(event); else document.onkeydown = null }
    return all
  })
}

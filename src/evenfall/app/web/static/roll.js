// The roll: tracing paper pulled along the words of the job; where its core stands is what you see.
import { desk, drawn, of } from './desk.js'
import { failed, find, follow, h, keyed, put, say } from './dom.js'

const CLOSER = [1, 1.6, 2.4]
let leaf = 'finished'
let day = 1
let near = 0
let asked = 0
let pick = () => {}

const roll = () => find('#roll')
const names = () => desk.state.leaves.map(l => l.name)
const at = () => names().indexOf(leaf)

/** Before the job is worked, draw what its tapes say. */
export async function outline() {
  const [wide, high] = room()
  const svg = await of(`outline.svg?width=${wide}${high ? `&height=${high}` : ''}`)
  if (!desk.state) find('#paper').innerHTML = svg
}

/** Draw the words of the roll and the sheet under it. */
export function plan() {
  if (!desk.state) return
  if (!roll().querySelector('input')) words()
  stand()
  show()
}

function words() {
  const el = find('#words')
  put(el, names().map(name => h('span', { class: 'pull' },
    h('input', { class: 'away', type: 'radio', name: 'leaf', id: `leaf-${name}`, value: name, checked: name === leaf, change: () => pull(name) }),
    h('label', { for: `leaf-${name}` }, name))))
  find('#core').addEventListener('pointerdown', drag)
}

/** Put the core where the word of the leaf ends. */
function stand() {
  find(`#leaf-${leaf}`).checked = true
  roll().style.setProperty('--out', end(at()))
  const told = desk.state.leaves[at()].says
  const today = desk.state.evenings[day - 1]
  find('#leaf-says').textContent = leaf === 'tonight' && today ? `${today.day}: ${told}` : told
}

/** Where a word ends, as a share of the roll. */
function end(i) {
  const box = roll().getBoundingClientRect()
  const words = find('#words').children
  return i === words.length - 1 ? 1 : (words[i].getBoundingClientRect().right - box.left) / box.width
}

/** Pull the roll to a word. */
export function pull(name, number) {
  leaf = name
  if (number) day = number
  stand()
  show()
}

export const tonight = () => leaf === 'tonight' ? day : 0

function drag(e) {
  const el = roll()
  const core = e.currentTarget
  core.setPointerCapture(e.pointerId)
  const move = ev => {
    const box = el.getBoundingClientRect()
    const share = Math.min(1, Math.max(0, (ev.clientX - box.left) / box.width))
    el.style.setProperty('--out', Math.max(share, 0.04))
    const name = names().find((_, i) => end(i) >= share - 0.02) ?? names().at(-1)
    if (name !== leaf) { leaf = name; find(`#leaf-${leaf}`).checked = true; show() }
  }
  follow(core, move, stand)
  e.preventDefault()
}

// --- the sheet ---

function room() {
  const el = find('#paper')
  const wide = Math.floor(el.clientWidth / 20) * 20
  const high = wide < 480 ? null : Math.round(Math.min(Math.max(wide * 0.77, 420), 760))
  return [wide * CLOSER[near], high && high * CLOSER[near]]
}

async function show() {
  const mine = ++asked
  const el = find('#paper')
  const [wide, high] = room()
  const called = name => name === 'tonight' ? `leaf-tonight@${day}` : `leaf-${name}`
  el.setAttribute('aria-busy', 'true')
  try {
    const svg = await drawn(called(leaf), wide, high)
    if (mine !== asked) return
    const from = [el.scrollLeft, el.scrollTop]
    const kept = el.contains(document.activeElement) && document.activeElement.dataset.key
    el.innerHTML = svg
    stops(el)
    el.scrollTo(...from)
    if (kept) el.querySelector(`[data-key="${CSS.escape(kept)}"]`)?.focus({ preventScroll: true })
    el.removeAttribute('aria-busy')
    for (const next of [names()[at() + 1], names()[at() - 1]]) {
      if (next) requestIdleCallback(() => drawn(called(next), wide, high).catch(() => {}), { timeout: 4000 })
    }
  } catch (e) {
    if (mine === asked) failed(el)(e)
  }
}

/** Make each side, opening and mark a stop of the keyboard, and open its section or its line. */
function stops(el) {
  el.querySelector('svg')?.setAttribute('role', 'group')
  for (const g of el.querySelectorAll('[data-key]')) {
    const [kind, ...rest] = g.dataset.key.split(':')
    if (!['pick', 'finding', 'opening', 'height', 'window'].includes(kind)) continue
    g.setAttribute('tabindex', '0')
    g.setAttribute('role', 'button')
    g.classList.add('stop', `of-${kind}`)
    const open = () => pick(kind, rest.join(':'))
    g.addEventListener('click', open)
    g.addEventListener('keydown', keyed(open))
  }
}

/** Mark the side that the section is taken at. */
export function chosen(side) {
  for (const g of document.querySelectorAll('#paper .of-pick')) g.classList.toggle('here', g.dataset.key === `pick:${side}`)
}

/** What is done when something on the plan is pressed. */
export function ready(f) {
  pick = f
  let late = 0
  let wide = 0
  new ResizeObserver(() => {
    if (find('#paper').clientWidth === wide) return
    wide = find('#paper').clientWidth
    clearTimeout(late)
    late = setTimeout(() => { if (desk.state) { stand(); show() } }, 120)
  }).observe(find('#paper'))
  find('#closer').addEventListener('click', () => {
    near = (near + 1) % CLOSER.length
    find('#closer').textContent = near === CLOSER.length - 1 ? 'whole roof' : 'closer'
    find('#paper').classList.toggle('near', near > 0)
    say(near ? `Drawn ${CLOSER[near]} times as large` : 'The whole roof')
    show()
  })
}

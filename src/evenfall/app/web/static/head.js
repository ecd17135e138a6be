// The head of the sheet: the quiet numbers, the slip behind each, trouble and conflict, undo.
import { clash, desk, look, of, settle, step } from './desk.js'
import { button, figure, find, formula, h, lights, put, say } from './dom.js'

/** Draw the head again. */
export function head() {
  const { state } = desk
  put(find('#trouble'), trouble(), conflict())
  if (!state) return
  find('#title').textContent = state.title
  find('#about').textContent = `${state.about}${state.invented ? ' · an invented job' : ''}`
  find('#worked').textContent = `${state.worked_on}, ${state.prices}`
  put(find('#figures'), state.head.map(id => {
    const n = state.numbers[id]
    return h('div', { class: n.bad && 'bad' },
      h('dt', {}, n.label, desk.stale && ', working…'),
      h('dd', {}, figure(n, desk.stale ? null : desk.was.get(id), open)))
  }))
  if (desk.stale) for (const el of document.querySelectorAll('#figures .worked')) el.classList.add('stale')
  put(find('#cautions'), state.cautions.map(c => h('li', {}, c)))
  find('#cautions').hidden = !state.cautions.length
  find('#undo').disabled = find('#redo').disabled = desk.revision < 2
}

function trouble() {
  if (!desk.trouble.length) return []
  const [first] = desk.trouble
  return h('section', { class: 'trouble', role: 'alert' },
    h('h2', {}, 'This cannot be worked out as it stands'),
    h('p', {}, 'What you typed is kept. The numbers below are those of before.'),
    h('ul', {}, desk.trouble.slice(0, 6).map(t => h('li', {},
      t.where && h('b', {}, `${t.where}: `), t.what ?? '', t.expected && `; expected ${t.expected}`, t.nearest && `; did you mean “${t.nearest}”?`, t.do && ` ${t.do}`))),
    first && desk.revision > 1 && h('p', {}, button({ class: 'word', click: () => step('undo') }, 'Take the last change back')))
}

const shown = v => v === null || v === undefined ? 'nothing' : typeof v === 'object' ? JSON.stringify(v) : String(v)

function conflict() {
  if (!clash) return []
  return h('section', { class: 'trouble', role: 'alert', id: 'clash' },
    h('h2', {}, 'Another page has changed this job since'),
    h('table', {},
      h('thead', {}, h('tr', {}, h('th', { scope: 'col' }, 'where'), h('th', { scope: 'col' }, 'yours'), h('th', { scope: 'col' }, 'the other'))),
      h('tbody', {}, clash.yours.map((y, i) => h('tr', {},
        h('th', { scope: 'row' }, y.path), h('td', {}, shown(y.value)), h('td', {}, shown(clash.theirs.find(t => t.path === y.path)?.value ?? clash.theirs[i]?.value)))))),
    h('p', { class: 'presses' },
      button({ class: 'press', click: () => settle(true) }, 'Yours'),
      button({ class: 'press', click: () => settle(false) }, 'The other')))
}

// --- slips ---

/** Open the working of a number under it; the same press, or Escape, closes it. */
export async function open(event) {
  const button = event.currentTarget
  const was = button.getAttribute('aria-expanded') === 'true'
  close()
  if (was) return
  button.setAttribute('aria-expanded', 'true')
  const slip = h('section', { class: 'slip', id: 'slip', 'aria-label': `Working of ${button.getAttribute('aria-label').replace(', show the working', '')}`, tabindex: '-1' }, h('p', {}, 'looking it up…'))
  button.closest('#figures > div, td, p, li, div').append(slip)
  button.setAttribute('aria-controls', 'slip')
  place(button, slip)
  try {
    const told = await of(`slips/${encodeURIComponent(button.dataset.number)}`)
    put(slip, paper(told))
  } catch (e) {
    put(slip, h('p', {}, e.message))
  }
  place(button, slip)
}

/** Keep a slip on the sheet, its corner at its number. */
function place(button, slip) {
  slip.style.removeProperty('--shift')
  const b = button.getBoundingClientRect()
  const wide = document.documentElement.clientWidth
  const r = slip.getBoundingClientRect()
  const over = Math.max(0, r.right - (wide - 12)) - Math.max(0, 12 - r.left)
  slip.style.setProperty('--shift', `${-over}px`)
  slip.style.setProperty('--corner', `${Math.max(10, b.left + b.width / 2 - r.left + over - 9)}px`)
}

export function close() {
  const slip = find('#slip')
  const button = find('[aria-controls="slip"]')
  slip?.remove()
  button?.setAttribute('aria-expanded', 'false')
  button?.removeAttribute('aria-controls')
  return button
}

/** One working as a slip of paper; a working inside it lies folded below. */
export function paper(slip, depth = 0) {
  return h('div', { class: 'paper' },
    !depth && h('p', { class: 'what' }, h('b', {}, slip.title)),
    slip.formula && h('p', { class: 'formula' }, formula(slip.formula)),
    slip.numbers && h('p', { class: 'formula' }, slip.numbers),
    slip.rows.length > 0 && h('table', {},
      h('caption', { class: 'away' }, `What went into ${slip.title}`),
      h('tbody', {}, slip.rows.map(r => h('tr', {},
        h('th', { scope: 'row' }, formula(r.name)), h('td', { class: 'num' }, r.number), h('td', { class: 'told' }, r.told))))),
    h('p', { class: 'sum' }, h('b', {}, slip.answer), ' ', h('span', {}, `${slip.source} · no better than: ${slip.basis}`)),
    slip.rows.filter(r => r.slip).map(r => h('details', { class: 'deeper' },
      h('summary', {}, formula(r.name), `: ${r.slip.title}`), paper(r.slip, depth + 1))))
}

/** Keys and presses of the head. */
export function ready() {
  for (const what of ['undo', 'redo']) {
    find(`#${what}`).addEventListener('click', () => go(what))
  }
  document.addEventListener('keydown', e => {
    if (e.key === 'Escape') {
      const button = close()
      if (button) { button.focus(); e.preventDefault() }
    }
    if ((e.ctrlKey || e.metaKey) && !e.target.closest('input, textarea, select')) {
      const what = e.key.toLowerCase() === 'z' ? (e.shiftKey ? 'redo' : 'undo') : e.key.toLowerCase() === 'y' ? 'redo' : ''
      if (what) { e.preventDefault(); go(what) }
    }
  })
  document.addEventListener('pointerdown', e => {
    if (find('#slip') && !e.target.closest('#slip, .worked')) close()
  })
  lights()
}

async function go(what) {
  try {
    await step(what)
    say(what === 'undo' ? 'The last change is taken back.' : 'The change stands again.')
  } catch (e) {
    find('#undo-says').textContent = e.status === 400 ? `There is nothing to ${what}.` : e.status === 409 ? `Another page has changed this job since. Look, then press ${what} again.` : e.message
    if (e.status === 409) look()
    setTimeout(() => { find('#undo-says').textContent = '' }, 4000)
  }
}

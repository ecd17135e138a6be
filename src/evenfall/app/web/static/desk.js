// The desk works without this script. It spares a page load for a light, closes slips, and joins
// the marks on the plan with the marks in the margin.

const root = document.documentElement

for (const link of document.querySelectorAll('[data-light-of]')) {
  link.addEventListener('click', (press) => {
    if (press.metaKey || press.ctrlKey || press.shiftKey) return
    press.preventDefault()
    const name = link.dataset.lightOf
    const chosen = name !== 'machine'
    if (chosen) root.dataset.light = name
    else delete root.dataset.light
    const kept = chosen ? 365 * 24 * 3600 : 0
    document.cookie = `light=${name}; path=/; max-age=${kept}; samesite=strict`
    for (const other of document.querySelectorAll('[data-light-of]')) {
      if (other === link) other.setAttribute('aria-current', 'true')
      else other.removeAttribute('aria-current')
    }
  })
}

const slips = () => document.querySelectorAll('details[name="slip"][open]')

document.addEventListener('keydown', (key) => {
  if (key.key !== 'Escape') return
  for (const slip of slips()) {
    slip.open = false
    slip.querySelector('summary').focus()
  }
})

document.addEventListener('pointerdown', (press) => {
  for (const slip of slips()) if (!slip.contains(press.target)) slip.open = false
})

for (const slip of document.querySelectorAll('details[name="slip"]')) {
  slip.addEventListener('toggle', () => {
    const paper = slip.querySelector('.slip')
    paper.classList.remove('from-left')
    if (slip.open && paper.getBoundingClientRect().left < 0) paper.classList.add('from-left')
  })
}

function show(number) {
  const mark = document.getElementById(`mark-${number}`)
  if (!mark) return
  for (const old of document.querySelectorAll('.shown')) old.classList.remove('shown')
  for (let at = mark.parentElement; at; at = at.parentElement) {
    if (at.tagName === 'DETAILS') at.open = true
  }
  mark.classList.add('shown')
  mark.scrollIntoView({ block: 'nearest' })
}

for (const mark of document.querySelectorAll('[data-key^="finding:"]')) {
  mark.addEventListener('click', () => show(mark.dataset.key.split(':')[1]))
}

// Lettering was placed by reckoned widths: where this machine's face runs wider, it is drawn closer.
function squeeze(drawing) {
  for (const text of drawing.querySelectorAll('text[data-room]')) {
    for (const line of text.childElementCount ? text.children : [text]) {
      if (line.getComputedTextLength() <= text.dataset.room) continue
      line.setAttribute('textLength', text.dataset.room)
      line.setAttribute('lengthAdjust', 'spacingAndGlyphs')
    }
  }
}

const squeezing = new ResizeObserver((seen) => { for (const { target } of seen) squeeze(target) })
for (const drawing of document.querySelectorAll('svg')) {
  if (drawing.querySelector('text[data-room]')) squeezing.observe(drawing)
}

// Walking the roof: the house wall at your back, round to the right, calling each tape.

import { ask, lines } from './api.js'
import { read } from './called.js'
import { button, find, h, lights, put } from './dom.js'
import { Plan, words } from './plan.js'

const id = document.documentElement.dataset.job
const LONG_M = 20
const { groups: GROUPS, side: SIDE, things: THINGS, shapes: SHAPES, kinds: KINDS } = await ask('/api/asks')

let job // what the desk keeps: document, roof, filled, aside, problems, choices, revision
let at = { tab: 'walk' } // where we are: a tab, and the question in hand
let typed = ''
let wrong = null // what is said beside the entry
let saving = Promise.resolve()
let matters = null
const plan = new Plan(find('#plan'), chosen)

// ---- what is known ---------------------------------------------------------------------------

const value = (path) => {
  let here = job.document
  for (const [, word, name] of path.matchAll(/([^.[\]]+)|\[([^\]]+)\]/g)) {
    if (here === undefined || here === null) return undefined
    if (word !== undefined) here = here[word]
    else here = Array.isArray(here) ? here.find((e) => e.name === name || e.side === name || e.between === name) : undefined
  }
  return here
}
const filled = (path) => job.filled.find((f) => f.path === path)
const corners = () => job.roof.corners.map((c) => c.name)
const begun = () => value('survey.corners') !== undefined || (value('survey.tapes') ?? []).length > 0
const sides = () => job.roof.sides
const here = () => sides().find((s) => s.side === at.between) // the side in hand; a diagonal is none
const beyond = (by) => sides().at((sides().indexOf(here()) + by) % sides().length).side
const to = (between) => between.replace('-', ' to ')

async function load() {
  job = await ask(`/api/jobs/${id}/draft`)
  find('#name').textContent = job.name
  hang()
}

// A photo that was placed says where in words: "A-B, 1.20 m along, 0.80 m in".
let photos = []
const PLACED = /^(\w+-\w+), ([\d.]+) m along, ([\d.]+) m in$/
const spot = (side, along, into) => `${side}, ${along.toFixed(2)} m along, ${into.toFixed(2)} m in`

// Hang the photos that were placed where they belong.
function hang() {
  photos.forEach(({ about }, i) => {
    const [, side, along, into] = PLACED.exec(about) ?? []
    const at = side && plan.spot(job.roof, side, Number(along), Number(into))
    if (at) job.roof.placed.push({ table: 'photos', name: `photo-${i + 1}`, kind: 'photo', ring: [at] })
  })
}

async function look() {
  photos = (await ask(`/api/jobs/${id}/photos`)).photos
  await load()
}

async function save(changes, why) {
  wrong = null
  const sent = saving.then(async () => {
    try {
      await ask(`/api/jobs/${id}`, { from: job.revision, changes, who: 'on the roof', why }, 'PATCH')
    } catch (refused) {
      if (!(refused.status === 409 && refused.body.apart)) throw refused
      await ask(`/api/jobs/${id}`, { from: refused.body.revision, changes, who: 'on the roof', why }, 'PATCH')
    }
    matters = null
    await load()
  })
  saving = sent.catch(() => {})
  try { await sent } catch (refused) {
    if (refused.status !== 409) { wrong = { says: refused.message }; return false }
    const { theirs, yours, revision } = refused.body
    wrong = {
      says: `Changed in another window. Yours: ${tell(yours)}; the other: ${tell(theirs)}.`,
      answers: [['keep yours', async () => { job.revision = revision; await save(changes, why); show() }],
        ['take the other', async () => { wrong = null; await load(); show() }]],
    }
    return false
  }
  figures()
  return true
}
const tell = (changes) => changes.map((c) => JSON.stringify(c.value ?? 'nothing')).join(', ')

// ---- the questions ---------------------------------------------------------------------------

// The next thing to ask on the walk: the shape, each side, the diagonals that help, then no more.
function next() {
  if (!begun()) return { shape: true }
  const side = sides().find((s) => s.taped_m === null && !skipped.has(s.side))
  if (side) return { between: side.side }
  const tape = job.roof.ask
  return tape && !skipped.has(tape.between) ? { between: tape.between } : { done: true }
}
const skipped = new Set()

function go(question) {
  at = { tab: at.tab, ...question }
  typed = ''
  wrong = null
  show()
}

function chosen(what) {
  if (at.put) return place(at.put, what)
  if (what.table === 'photos') return go({ tab: 'on it', photo: photos[what.name.split('-')[1] - 1] })
  if (what.corner) return turnIn(what.corner)
  if (what.side) return go({ tab: 'walk', between: what.side })
  const thing = THINGS.find((t) => t.table === what.table && (what.table !== 'openings' && what.table !== 'heights' || t.kind === value(`survey.${what.table}[${what.name}].kind`))) ?? THINGS.find((t) => t.table === what.table)
  go({ tab: 'on it', thing: { ...thing, path: `survey.${what.table}[${what.name}]`, title: what.name } })
}

// A corner that was touched turns in, or out again.
async function turnIn(corner) {
  const inner = value('survey.inner_corners') ?? []
  const next_ = inner.includes(corner) ? inner.filter((c) => c !== corner) : [...inner, corner]
  await save([{ path: 'survey.inner_corners', value: next_ }], `corner ${corner} turns ${inner.includes(corner) ? 'out' : 'in'}`)
  show()
}

// ---- placing things --------------------------------------------------------------------------

async function place(thing, where) {
  if (thing.file) return keep(thing.file, where)
  const listed = value(`survey.${thing.table}`) ?? []
  let n = 1
  const name = thing.name.replaceAll(' ', '-')
  while (listed.some((e) => e.name === `${name}-${n}`)) n += 1
  const entry = { name: `${name}-${n}`, side: where.side, ...(thing.kind ? { kind: thing.kind } : {}) }
  const path = `survey.${thing.table}[${entry.name}]`
  if (!await save([{ path: `survey.${thing.table}[+]`, value: entry }], `${entry.name} placed`)) return show()
  const guess = where.along === undefined ? {} : { along_m: where.along.toFixed(2), in_m: (where.in ?? 0).toFixed(2) }
  const [first, ...queue] = thing.asks.map((a) => ({ ...a, path: `${path}.${a.path}`, title: entry.name, guess: guess[a.path] }))
  go({ tab: at.tab === 'walk' && thing.beside ? 'walk' : 'on it', one: first, queue, back: at.between ? { tab: 'walk', between: at.between } : { tab: 'on it' } })
}

// ---- answering -------------------------------------------------------------------------------

const TYPED = new Set(['words', 'date']) // asked for by letters, not by the pad
const unit = () => (at.one ? at.one.unit : 'm')

async function taped(sure = false) {
  if (at.one && typed === '' && at.one.guess) typed = at.one.guess
  const found = read(typed, unit())
  if (found.wrong) { wrong = { says: found.wrong }; return show() }
  if (found.ask && !sure) { wrong = { says: found.ask, answers: [[`Yes, ${found.text}`, () => taped(true)]] }; return show() }
  if (unit() === 'm' && at.between && found.value > LONG_M && !sure) {
    const likely = read(`${found.value / 10}`, 'm')
    wrong = { says: `${found.text} is long for a roof.`, answers: [[`Yes, ${found.text}`, () => taped(true)], [`No, ${likely.text}`, () => { typed = String(likely.value); taped(true) }]] }
    return show()
  }
  if (at.one) return answer(found.value)
  const between = at.between
  const old = (value('survey.tapes') ?? []).find((t) => same(t.between, between))
  const agrees = old && at.again && Math.abs(old.length_m - found.value) <= 0.01 // a second reading
  const changes = old && !agrees ? [{ path: `survey.tapes[${old.between}].length_m`, value: found.value }] : [{ path: 'survey.tapes[+]', value: { between, length_m: found.value } }]
  if (await save(changes, `${to(between)} called`)) {
    const misfit = job.roof.misfits.some((m) => same(m.between, between))
    go(misfit ? { between } : next())
  } else show()
}
const same = (a, b) => a === b || a.split('-').reverse().join('-') === b

async function answer(given) {
  const { one, queue = [], back } = at
  if (one.corners) return given >= 3 && given <= 30 ? shape({ name: `${given} corners`, corners: given, inner: [] }) : (wrong = { says: 'From 3 to 30 corners.' }, show())
  if (!await save([{ path: one.path, value: given }], one.ask)) return show()
  proceed(queue, back)
}

function proceed(queue = [], back) {
  const [first, ...rest] = queue
  if (first) go({ one: first, queue: rest, back })
  else go(back?.between ? { between: back.between } : { tab: at.tab })
}

async function kind(side, given) {
  const entry = value(`survey.sides[${side}]`)
  await save(entry ? [{ path: `survey.sides[${side}].kind`, value: given }] : [{ path: 'survey.sides[+]', value: { side, kind: given } }], `${to(side)}: ${words(given)}`)
  show()
}

async function shape(s) {
  const names = Array.from({ length: s.corners }, (_, i) => String.fromCharCode(65 + i))
  const changes = [{ path: 'survey.corners', value: names }]
  if (s.inner.length) changes.push({ path: 'survey.inner_corners', value: s.inner.map((i) => names[i]) })
  if (await save(changes, s.name)) go(next())
  else show()
}

// ---- showing ---------------------------------------------------------------------------------

const TABS = [['walk', 'sides'], ['on it', 'on it'], ...GROUPS.map((g) => [g.name, g.name])]

const draw = () => plan.draw(job.roof, at.between ? { between: at.between, metres: metres() } : {}, Boolean(at.put))

function show() {
  draw()
  const taped_ = sides().filter((s) => s.taped_m !== null).length
  const number = sides().indexOf(here()) + 1
  find('#where').textContent = !begun() ? 'begin' : number ? `side ${number} of ${sides().length}` : `${taped_} of ${sides().length} taped`
  put(find('#tabs'), TABS.map(([tab, name]) => button({ 'aria-current': at.tab === tab ? 'page' : undefined, click: () => go(tab === 'walk' ? { tab, ...next() } : { tab }) }, name)))
  put(find('#marks'), notes())
  document.body.dataset.revision = job.revision
  document.body.dataset.mode = at.put ? 'put' : at.shape ? 'shape' : at.one && at.tab !== 'walk' ? 'one' : asking() ? 'ask' : 'list'
  put(find('#hand'), hand())
  put(find('#list'), list())
}

const asking = () => at.shape || at.between || at.one
const metres = () => read(typed, 'm').value

function hand() {
  if (at.put) return [h('p', { class: 'say' }, `Touch the roof where the ${at.put.name} ${at.put.beside ? 'stands' : 'is'}, or choose its side:`), picks(sides().map((s) => [s.side, `${to(s.side)}, ${words(s.kind)}`]), null, (side) => place(at.put, { side })), h('p', { class: 'extra' }, at.put.file && button({ click: () => keep(at.put.file, {}) }, 'keep it without a place'), backward()), why()]
  if (at.shape) return [h('p', { class: 'say' }, 'Stand with the house wall at your back. Which of these is the roof before you? The house is at the foot of each.'), shapes()]
  if (at.between) return [here() && kinds(), called(to(at.between), reason()), pad()]
  if (at.one) return one()
  if (at.done) return [h('p', { class: 'say' }, `Every side is taped and the corners are held${notes().length ? ', but a tape does not fit: see what is marked' : ''}. Now what stands on it and beside it; then the sheet.`), h('p', {}, button({ class: 'go wide', click: () => go({ tab: 'on it' }) }, 'windows, doors, pipes'), h('a', { class: 'to', href: `/job/${id}` }, 'to the sheet'))]
  return [why()]
}

function reason() {
  const [a] = at.between.split('-')
  const side = here()
  if (job.roof.ask?.between === at.between && !side) return job.roof.ask.says
  return `${side ? 'deck edge' : 'across the roof'}, hook at ${a}`
}

function kinds() {
  const side = here()
  const box = h('fieldset', { class: 'kinds' }, h('legend', { class: 'away' }, `What is ${to(side.side)}?`))
  for (const { kind: key, name, draw } of KINDS) {
    box.append(h('label', { class: side.kind === key && !side.told ? 'guessed' : '' },
      h('input', { class: 'away', type: 'radio', name: 'kind', value: key, checked: side.kind === key, click: () => kind(side.side, key) }),
      h('svg', { viewBox: '0 0 60 18', 'aria-hidden': 'true' }, draw.map(([d, c]) => h('path', { d, class: c }))), h('span', {}, name)))
  }
  return box
}
function shapes() {
  return h('div', { class: 'picks shapes' }, SHAPES.map((s) => button({ click: () => shape(s) },
    h('svg', { viewBox: '0 0 60 40', 'aria-hidden': 'true' }, h('path', { d: s.draw, class: 'cut' })), s.name)),
  button({ click: () => go({ one: { ask: 'How many corners? Then touch those that turn in.', unit: 'corners', pick: [], corners: true } }) }, 'another shape'))
}

function called(title, hint) {
  const found = typed ? read(typed, unit()) : {}
  const shown = typed || at.one?.guess || ''
  const own = found.text && found.text !== `${typed} ${unit()}` && Number(typed) !== found.value ? `= ${found.text}` : ''
  return [h('div', { class: `call ${wrong ? 'bad' : ''}` }, h('div', { class: 'what' }, h('b', {}, title), hint),
    h('output', { id: 'called', 'aria-live': 'polite', 'aria-describedby': wrong ? 'why' : undefined, 'aria-invalid': wrong ? 'true' : undefined, class: typed ? '' : 'guess' },
      h('span', {}, shown), h('i', { 'aria-hidden': 'true' }), h('small', {}, own || unit()))), why()]
}

const why = () => wrong && h('p', { class: 'why', id: 'why', role: 'alert' }, wrong.says, (wrong.answers ?? []).map(([name, act]) => button({ click: act }, name)))

function pad() {
  const key = (sign, name) => button({ 'aria-label': name, click: () => press(sign) }, sign)
  const follow = at.one ? (at.queue?.length ? `${at.queue.length} more` : '') : here() ? `then ${to(beyond(1))}` : ''
  return h('div', { class: 'pad', role: 'group', 'aria-label': 'Number pad' },
    key('1'), key('2'), key('3'),
    at.between ? button({ class: 'say', click: () => place(THINGS[0], { side: at.between }) }, 'a window here') : button({ class: 'say', click: leave }, at.queue?.length ? 'leave the rest' : 'back'),
    key('4'), key('5'), key('6'), button({ class: 'say', click: skip }, at.between ? 'can’t reach' : 'not known'),
    key('7'), key('8'), key('9'),
    button({ class: 'go', id: 'taped', click: () => taped() }, unit() === 'm' || unit() === 'mm' ? 'taped' : 'enter', h('small', {}, follow)),
    key('.', 'point'), key('0'), button({ class: 'rub', click: () => press('') }, 'rub out'))
}

function press(sign) {
  typed = sign ? (typed + sign).slice(0, 12) : typed.slice(0, -1)
  wrong = null
  refresh()
}

// A key changes the number and the tape in hand, no more: focus stays where it is.
function refresh() {
  const old = find('#hand .call')
  if (!old) return show()
  const [fresh] = called(old.querySelector('b').textContent, old.querySelector('.what').lastChild.textContent)
  old.replaceWith(fresh)
  find('#why')?.remove()
  if (at.between) draw()
}

const skip = () => { if (at.between) { skipped.add(at.between); go(next()) } else proceed(at.queue, at.back) }
const leave = () => proceed([], at.back)

function one() {
  const { one: q } = at
  if (q.corners) return [...called(q.ask, 'from 3 to 30'), pad()]
  const pick = options(q)
  if (pick.length) return [called(q.title ?? q.ask, q.title ? q.ask : standing(q)).slice(0, 1).map((c) => { c.querySelector('output').remove(); return c }), why(), picks(pick, value(q.path), answer, q.draw), extra()]
  if (TYPED.has(q.unit)) return [entry(q), why(), extra()]
  return [...called(q.title ?? q.ask, q.title ? q.ask : standing(q)), pad()]
}
const backward = () => button({ click: () => go({ tab: 'on it' }) }, 'back')
const extra = () => h('p', { class: 'extra' }, button({ click: skip }, 'not known'), button({ click: leave }, at.queue?.length ? 'leave the rest' : 'back'))

const standing = (q) => { const f = filled(q.path); return f ? `now ${shownValue(f.value, q)}: ${f.why}` : '' }

const options = (q) => (q.pick_of === 'sides' ? sides().map((s) => [s.side, `${to(s.side)}, ${words(s.kind)}`]) : q.pick_of ? job.choices[q.pick_of] : q.pick)

function picks(all, now, act, draw = []) {
  const drawn = Object.fromEntries(draw)
  return h('div', { class: 'picks' }, all.map(([key, name]) => button({ 'aria-pressed': String(now === key), click: () => act(key) },
    drawn[key] ? h('svg', { viewBox: '0 0 70 40', 'aria-hidden': 'true' }, h('path', { d: drawn[key], class: 'thin' })) : null, name)))
}

function entry(q) {
  const field = h('input', { type: q.unit === 'date' ? 'date' : 'text', id: 'entry', value: String(value(q.path) ?? ''), autocomplete: 'off' })
  return h('form', { class: 'entry', submit: (e) => { e.preventDefault(); if (field.value.trim()) answer(field.value.trim()) } },
    h('label', { for: 'entry' }, q.ask), field, h('button', { class: 'go' }, 'enter'))
}

// ---- what stands in the margin ---------------------------------------------------------------

function notes() {
  const found = job.roof.marks.filter((m) => m.level === 'stop' || m.code === 'tape-wrong')
  return found.map((m, i) => {
    const tape = /^tape:([^ ]+)/.exec(m.subject)?.[1] ?? /Tape (\w+-\w+)/.exec(m.do)?.[1] ?? job.roof.misfits[0]?.between.split(' ')[0]
    const fits = / (\d+\.\d+) would fit/.exec(m.says)?.[1]
    return h('li', {}, h('b', { class: 'disc' }, String(i + 1)), h('span', {}, m.says), tape && h('span', { class: 'cures' },
      button({ click: () => go({ tab: 'walk', between: tape, again: true }) }, `tape ${to(tape)}${(value('survey.tapes') ?? []).some((t) => same(t.between, tape)) ? ' again' : ''}`),
      fits && button({ click: async () => { at = { ...at, between: tape }; typed = fits; await taped(true) } }, `yes, ${fits} m`)))
  })
}

function list() {
  if (at.put || (asking() && at.tab === 'walk')) return []
  if (at.tab === 'on it') return onIt()
  const group = GROUPS.find((g) => g.name === at.tab)
  if (!group) return [sideList()]
  const some = group.asks.filter((a) => !a.more), more = group.asks.filter((a) => a.more)
  return [h('h2', {}, group.says), known(some), more.length ? h('details', { open: more.some((a) => a.path === at.one?.path) }, h('summary', {}, 'more'), known(more)) : null, weigh()]
}

function known(asks) {
  return h('ul', { class: 'known' }, asks.map((q) => {
    const f = filled(q.path), v = f ? f.value : value(q.path)
    const mark = matters?.[q.path]
    return h('li', {}, button({ 'aria-current': at.one?.path === q.path ? 'true' : undefined, click: () => go({ tab: at.tab, one: q, thing: at.thing, back: { tab: at.tab } }) },
      h('span', {}, q.ask), h('span', { class: f ? 'default' : 'num' }, v === undefined ? 'not said' : shownValue(v, q)),
      f && h('small', {}, f.why), mark && h('small', { class: mark.startsWith('matters') ? 'does' : '' }, mark)))
  }))
}

const BARE = new Set(['', 'words', 'date', 'year', 'zone', 'region'])

function shownValue(v, q) {
  if (Array.isArray(v)) return `${v.length} values`
  const named = options(q).find(([key]) => key === v)
  if (named) return named[1]
  return q.unit === 'm' ? `${Number(v).toFixed(3).replace(/0$/, '')} m` : `${v}${BARE.has(q.unit) ? '' : ` ${q.unit}`}`
}

function sideList() {
  return h('div', {}, h('h2', {}, 'The sides'), sides().map((s) => h('details', { open: at.one?.path?.startsWith(`survey.sides[${s.side}]`) }, h('summary', {}, `${to(s.side)}, ${words(s.kind)}, ${s.taped_m === null ? `about ${s.length_m.toFixed(1)}` : s.taped_m.toFixed(3)} m`),
    known(SIDE.filter((a) => !a.only.length || a.only.includes(s.kind)).map((a) => ({ ...a, title: to(s.side), path: `survey.sides[${s.side}].${a.path}` }))))))
}

function onIt() {
  const things = ['windows', 'heights', 'openings', 'levels', 'readings'].flatMap((table) => (value(`survey.${table}`) ?? []).map((e) => ({ e, table })))
  const bare = !things.length && h('p', { class: 'say' }, 'Nothing on it yet. Stand at the window, tape from the felt up to the sash: that one number decides the board.')
  if (at.thing) {
    const t = at.thing
    return [h('h2', {}, t.title), known(t.asks.map((a) => ({ ...a, title: t.title, path: `${t.path}.${a.path}` }))),
      h('p', { class: 'extra' }, button({ click: async () => { await save([{ path: t.path, remove: true }], `${t.title} taken out`); go({ tab: 'on it' }) } }, `take ${t.title} out`), backward())]
  }
  if (at.photo) return [h('h2', {}, 'A photo'), h('p', {}, at.photo.about || 'not placed'), h('img', { class: 'shot', src: `/api/photos/${at.photo.hash}`, alt: `Photo, ${at.photo.about || 'not placed'}`, width: at.photo.wide, height: at.photo.high }), h('p', { class: 'extra' }, backward())]
  return [h('h2', {}, 'On it and beside it'), bare || null,
    h('ul', { class: 'known' }, things.map(({ e, table }) => h('li', {}, button({ click: () => chosen({ table, name: e.name }) }, h('span', {}, e.name), h('span', { class: 'num' }, e.side ? to(e.side) : e.corner ? `corner ${e.corner}` : '')))),
      photos.map((p, i) => h('li', {}, button({ click: () => go({ tab: 'on it', photo: p }) }, h('span', {}, `photo-${i + 1}`), h('span', { class: 'num' }, PLACED.test(p.about) ? to(p.about.split(',')[0]) : ''))))),
    h('p', { class: 'away', id: 'put-head' }, 'Put on the roof'), h('div', { class: 'picks put', role: 'group', 'aria-labelledby': 'put-head' }, THINGS.map((t) => button({ click: () => go({ tab: 'on it', put: t }) }, `a ${t.name}`)),
      photo())]
}

// A photo is taken first, and then placed by a touch, or kept without a place.
const photo = () => h('label', { class: 'pick' }, h('input', { type: 'file', accept: 'image/*', capture: 'environment', class: 'away', change: (e) => go({ tab: 'on it', put: { name: 'photo', file: e.target.files[0] } }) }), h('span', {}, 'a photo'))

async function keep(file, { side, along, in: into = 0 }) {
  const body = new FormData()
  body.append('photo', file)
  const middle = (sides().find((s) => s.side === side)?.length_m ?? 0) / 2
  body.append('about', side ? spot(side, along ?? middle, into) : '')
  go({ tab: 'on it' })
  try {
    await ask(`/api/jobs/${id}/photos`, body)
    await look()
  } catch (e) { wrong = { says: e.message } }
  show()
}

// Which of the guesses would change the roof, the price or the days: worked out one by one.
let weighing = null
function weigh() {
  const told = matters ? `${Object.values(matters).filter((m) => m.startsWith('matters')).length} of ${Object.keys(matters).length} matter so far` : 'Pencil values are taken until you say otherwise.'
  return h('p', { class: 'extra', id: 'weigh' }, h('span', {}, told), weighing ? button({ click: () => weighing.abort() }, 'stop') : button({ click: weighAll }, 'which of them matter?'))
}
async function weighAll() {
  weighing = new AbortController()
  matters = {}
  show()
  try {
    for await (const line of lines(`/api/jobs/${id}/matters`, weighing.signal)) {
      if (line.path) matters[line.path] = line.matters ? `matters here: ${line.by.join(', ')}` : 'does not matter here'
      if (!typed) show()
    }
  } catch (e) { if (e.name !== 'AbortError') wrong = { says: e.message } }
  weighing = null
  show()
}

// The answer so far, once the desk has worked it out.
async function figures() {
  const mine = job.revision
  find('#sofar').classList.add('stale')
  try {
    const page = await ask(`/api/jobs/${id}/page?wait=20`)
    if (mine !== job.revision) return
    const t = page.totals
    const about = t.total_pence && 10 ** Math.max(0, String(Math.round(t.total_pence / 100)).length - 3)
    const parts = [t.total_pence && `about £${(Math.round(t.total_pence / 100 / about) * about).toLocaleString('en-GB')}`, t.days !== undefined && `${t.days} days`, t.thickness_mm && `board ${t.thickness_mm}`, t.u !== undefined && `U ${Number(t.u).toFixed(2)}`, t.stops ? `${t.stops} to stop for` : null]
    put(find('#sofar'), parts.filter(Boolean).join(' · '))
    find('#sofar').classList.remove('stale')
  } catch { /* the sheet says what is wrong */ }
}

const rub = () => { typed = ''; wrong = null; show() }

/** What a key does on the walk; nothing where it belongs to what has the focus. */
function doing(key, within) {
  if (key === 'Escape') return rub
  const by = here() && !within('fieldset') && { ArrowRight: 1, ArrowLeft: -1 }[key]
  if (by) return () => go({ between: beyond(by) })
  if (!at.between && (!at.one || options(at.one).length || TYPED.has(at.one.unit))) return null
  if (/^[0-9.,'"mcft :-]$/.test(key)) return key === ' ' && within('button, label, [role=button]') ? null : () => press(key)
  if (key === 'Backspace') return () => press('')
  return key === 'Enter' && (within('.pad') || !within('button, a, [role=button], summary')) ? () => taped() : null
}

document.addEventListener('keydown', (key) => {
  const within = (what) => key.target.closest?.(what)
  if (within('input[type=text], input[type=date], input[type=file]') || key.metaKey || key.ctrlKey || key.altKey) return
  const act = doing(key.key, within)
  if (act) { key.preventDefault(); act() }
})

find('#undo').addEventListener('click', async () => {
  try { await ask(`/api/jobs/${id}/undo`, { from: job.revision }) } catch (e) { wrong = { says: e.message } }
  await load()
  go(next())
  figures()
})

new ResizeObserver(() => job && draw()).observe(find('#plan'))
lights()
await look()
go(next())
figures()

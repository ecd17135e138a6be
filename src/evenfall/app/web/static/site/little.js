// The small records of a day, each a few touches: weather, hours, covers, readings, batches, work done.
import { NAMED, choose, plainly, spoken, unit, words } from './kit.js'
import { number } from './pad.js'
import { bay } from './roof.js'
import { here, standing, write } from './state.js'
import { askBatch } from './holds.js'
import { take } from './photo.js'

const SKY = [['dry', 'Dry'], ['showers', 'Showers'], ['rain', 'Rain'], ['fog', 'Fog'], ['frost', 'Frost'], ['snow', 'Snow']]
const WIND = [['calm', 'Calm', 'smoke goes straight up'], ['breeze', 'Breeze', 'sheets can be held'], ['strong', 'Strong', 'no rolls, no large boards'], ['gale', 'Gale', 'come down']]
const WHEN = [['morning', 'Morning'], ['noon', 'Noon'], ['evening', 'Evening']]
const LIES = [['ready', 'Ready on the roof'], ['on', 'Laid over the work'], ['gone', 'Taken away']]
const READ = [['moisture', 'Moisture of timber', '%'], ['gap', 'Gap between boards', 'mm'], ['step', 'Step between boards', 'mm'], ['dew_margin', 'Above the dew point', 'K'],
  ['pull_out', 'Pull-out of a screw', 'N'], ['level', 'Level: staff below the line', 'mm'], ['seam', 'Seam: places the probe went in', 'places'], ['run_off', 'Water left standing, deepest', 'mm']]

const slug = text => text.toLowerCase().replace(/[^a-z0-9]+/g, '-').replace(/^-+|-+$/g, '').slice(0, 40) || null

async function weather() {
  const hour = new Date().getHours(), now = hour < 11 ? 'morning' : hour < 15 ? 'noon' : 'evening'
  const when = await choose('Weather: when?', WHEN.map(w => w[0] === now ? [...w, 'now'] : w))
  const sky = when && await choose('The sky', SKY)
  const wind = sky && await choose('The wind', WIND)
  const air = wind ? await number('Air, in the shade', { unit: '°C', negative: true, highest: 60 }) : null
  if (air != null) await write('weather', { when, sky, wind, air_c: air })
}

async function hours() {
  const today = new Set((here.day ? here.day.work : []).map(w => w.task)), all = here.bundle.tasks
  const own = all.filter(t => today.has(t.name)), rest = all.filter(t => !today.has(t.name))
  const row = t => [t.name, t.says, told(t.name)]
  let task = await choose('Hours: which work?', [...own.map(row), ...own.length ? [['', 'Other work']] : rest.map(row)])
  if (task === '') task = await choose('Hours: which work?', rest.map(row))
  if (!task) return
  const people = await choose('How many people?', Array.from({ length: Math.max(here.bundle.people + 2, 4) }, (_, i) => [i + 1, `${i + 1}`]))
  const used = people && await number('Hours, each of them', { unit: 'h', above: 0, highest: 16 })
  if (used) await write('hours', { task, people, hours: used })
}

const told = name => {
  const found = standing('hours').filter(e => e.task === name), sum = found.reduce((s, e) => s + e.people * e.hours, 0)
  return sum ? `✓ ${plainly(sum)} person-hours so far` : ''
}

async function cover() {
  const [long, wide] = here.day ? here.day.night.cover_m : [0, 0], planned = long && wide ? [[[long, wide], `${plainly(long)} × ${plainly(wide)} m`, 'as planned for today']] : []
  const seen = standing('cover').map(e => [[e.length_m, e.width_m], `${plainly(e.length_m)} × ${plainly(e.width_m)} m`, 'as before'])
  const offered = [...planned, ...seen.slice(-2)]
  let size = offered.length ? await choose('Cover: how large?', [...offered, ['other', 'Another size']]) : 'other'
  if (size === 'other') {
    const length = await number('Cover: its length', { unit: 'm', above: 0, highest: 100 })
    const width = length && await number('Cover: its width', { unit: 'm', above: 0, highest: 100 })
    size = width && [length, width]
  }
  const lies = size && await choose('Where is it?', LIES)
  if (lies) await write('cover', { length_m: size[0], width_m: size[1], lies })
}

async function reading() {
  const what = await choose('What was read?', READ.map(([w, says, u]) => [w, says, unit(u)]))
  if (!what) return
  const [, says, of] = READ.find(r => r[0] === what), names = here.bundle.points[what] || []
  const named = await choose('Where?', [...names.map(n => [n, spoken(n)]), ['?', 'Another place'], ['', 'No name']])
  if (named === null) return
  const name = named === '?' ? slug(await words('Which place?', { most: 40 }) || '') : named || null
  const value = await number(says, { unit: of, negative: what === 'dew_margin', whole: what === 'seam' })
  if (value == null) return
  const at = await bay('Which bay?')
  if (at !== null) await write('reading', { what, value, unit: of, name, bay: at })
}

async function batch() {
  const found = await askBatch()
  if (found) await write('batch', found)
}

async function photo() {
  const at = await bay('Photo of which bay?')
  if (at !== null) await take({ title: 'Photo', bay: at })
}

const ABOUT = [['visitor', 'A visitor', 'who, and what was said'], ['delivery', 'A delivery', 'late, short or broken'], ['damage', 'Damage', 'with a photo'],
  ['agreed', 'Agreed with the client', 'a photo or a signature is better for what costs money'], ['weather', 'Weather', 'that stopped or changed the work'], ['other', 'Something else']]

async function note() {
  const about = await choose('A note: about what?', ABOUT, 'Notes are printed in the handover file, which the client reads.')
  const by = about === 'agreed' ? await words('Who agreed?', { label: 'Name', most: 80, go: 'Next', line: { ...NAMED, autocomplete: 'off' } }) : null
  if (!about || (about === 'agreed' && !by)) return
  const [, says] = ABOUT.find(a => a[0] === about), text = await words(says, { label: 'What happened' })
  if (!text) return
  const at = await bay('Which bay?')
  if (at === null) return
  const sha = about === 'damage' ? await take({ title: 'Photo of the damage', about: `Damage: ${text}`.slice(0, 400), bay: at }) : null
  await write('note', { about, by, note: text, bay: at, photos: sha ? [sha] : [] })
}

/** The records that can be written at any time, by their names on the screen. */
export const LITTLE = [['weather', 'Weather seen', weather], ['hours', 'Hours', hours], ['cover', 'Covers of the night', cover], ['reading', 'A reading', reading],
  ['batch', 'Batch opened', batch], ['photo', 'A photo', photo], ['note', 'A note', note]]

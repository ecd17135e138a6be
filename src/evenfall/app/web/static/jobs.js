// The list of jobs: search, a new one, a copy, one put away, one brought in.

import { ask, button, fill, lights, make } from './small.js'

const $ = (name) => document.querySelector(name)
const say = (words) => { $('#said').textContent = words }
const when = (text) => new Date(text).toLocaleDateString('en-GB', { day: 'numeric', month: 'short', year: 'numeric' })

async function show() {
  const away = $('#archived').checked
  try {
    const { jobs } = await ask(`/api/jobs?search=${encodeURIComponent($('#search').value)}&archived=${away}`)
    fill($('#jobs'), jobs.length ? make('ul', { class: 'jobs' }, jobs.map(line)) : empty(away))
  } catch (wrong) { say(wrong.message) }
}

function empty(away) {
  if ($('#search').value) return make('p', { class: 'say' }, 'No job has these words. Try a part of the name, the client or the place.')
  if (away) return make('p', { class: 'say' }, 'Nothing has been put away.')
  return make('p', { class: 'say' }, 'No jobs yet. When the telephone rings, begin with a first call; on the roof, begin with a new roof; a job file from elsewhere can be brought in.')
}

function line(job) {
  const stops = job.stops ? make('span', { class: 'stop' }, ` · ${job.stops} to stop for`) : ''
  return make('li', {},
    make('div', {}, make('a', { href: `/job/${job.id}` }, job.name), make('small', {}, [job.invented && 'an invented example', job.where, `changed ${when(job.changed)}`].filter(Boolean).join(' · '), stops)),
    make('div', { class: 'does' }, make('a', { class: 'pick', href: `/job/${job.id}/walk` }, 'walk the roof'),
      act('copy', async () => { await ask('/api/jobs', { copy: job.id }); say(`${job.name} copied.`) }),
      act(job.archived ? 'take out again' : 'put away', async () => { await ask(`/api/jobs/${job.id}/archive`, { archived: !job.archived }); say(`${job.name} ${job.archived ? 'is back' : 'put away'}.`) })))
}

const act = (name, does) => button({ onclick: async () => { try { await does() } catch (wrong) { say(wrong.message) } await show() } }, name)

$('#new').addEventListener('click', async () => {
  try { location.href = `/job/${(await ask('/api/jobs', { name: 'A flat roof', document: {} })).id}/walk` } catch (wrong) { say(wrong.message) }
})
$('#import input').addEventListener('change', async (e) => {
  const body = new FormData()
  body.append('job', e.target.files[0])
  try {
    const { id } = await ask('/api/jobs/import', body)
    location.href = `/job/${id}`
  } catch (wrong) { say(wrong.message) }
  e.target.value = ''
})
let soon
$('#search').addEventListener('input', () => { clearTimeout(soon); soon = setTimeout(show, 120) })
$('#archived').addEventListener('change', show)
$('#seek').addEventListener('submit', (e) => { e.preventDefault(); show() })
$('#lights').append(lights())
show()

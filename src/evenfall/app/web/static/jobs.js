// The list of jobs: search, a new one, a copy, one put away, one brought in.

import { ask } from './api.js'
import { button, find, h, lights, put, say } from './dom.js'

const when = (text) => new Date(text).toLocaleDateString('en-GB', { day: 'numeric', month: 'short', year: 'numeric' })

async function show() {
  const away = find('#archived').checked
  try {
    const { jobs } = await ask(`/api/jobs?search=${encodeURIComponent(find('#search').value)}&archived=${away}`)
    put(find('#jobs'), jobs.length ? h('ul', { class: 'jobs' }, jobs.map(line)) : empty(away))
  } catch (wrong) { say(wrong.message) }
}

function empty(away) {
  if (find('#search').value) return h('p', { class: 'say' }, 'No job has these words. Try a part of the name, the client or the place.')
  if (away) return h('p', { class: 'say' }, 'Nothing has been put away.')
  return h('p', { class: 'say' }, 'No jobs yet. When the telephone rings, begin with a first call; on the roof, begin with a new roof; a job file from elsewhere can be brought in.')
}

function line(job) {
  const stops = job.stops ? h('span', { class: 'stop' }, ` · ${job.stops} to stop for`) : ''
  return h('li', {},
    h('div', {}, h('a', { href: `/job/${job.id}` }, job.name), h('small', {}, [job.invented && 'an invented example', job.where, `changed ${when(job.changed)}`].filter(Boolean).join(' · '), stops)),
    h('div', { class: 'does' }, h('a', { class: 'pick', href: `/job/${job.id}/walk` }, 'walk the roof'),
      act('copy', async () => { await ask('/api/jobs', { copy: job.id }); say(`${job.name} copied.`) }),
      act(job.archived ? 'take out again' : 'put away', async () => { await ask(`/api/jobs/${job.id}/archive`, { archived: !job.archived }); say(`${job.name} ${job.archived ? 'is back' : 'put away'}.`) })))
}

const act = (name, does) => button({ click: async () => { try { await does() } catch (wrong) { say(wrong.message) } await show() } }, name)

find('#new').addEventListener('click', async () => {
  try { location.href = `/job/${(await ask('/api/jobs', { name: 'A flat roof', document: {} })).id}/walk` } catch (wrong) { say(wrong.message) }
})
find('#import input').addEventListener('change', async (e) => {
  const body = new FormData()
  body.append('job', e.target.files[0])
  try {
    const { id } = await ask('/api/jobs/import', body)
    location.href = `/job/${id}`
  } catch (wrong) { say(wrong.message) }
  e.target.value = ''
})
let soon
find('#search').addEventListener('input', () => { clearTimeout(soon); soon = setTimeout(show, 120) })
find('#archived').addEventListener('change', show)
find('#seek').addEventListener('submit', (e) => { e.preventDefault(); show() })
lights()
show()

// The page of the phone begins: the job that it is paired for, its days as kept here, and its records.
import { outbox } from './outbox.js'
import { bundle, me, syncing } from './sync.js'

const root = document.querySelector('#day'), state = document.querySelector('#sync')

function tell(text) {
  const line = document.createElement('p')
  line.textContent = text
  root.replaceChildren(line)
}

function told(news) {
  state.dataset.state = news.state
  state.dataset.waiting = news.waiting
  state.textContent = news.waiting && news.state !== 'sending' ? `${news.waiting} kept here, not yet sent. ${news.says}` : news.says
}

function remembered() {
  try { return JSON.parse(localStorage.getItem('evenfall-site:job')) } catch { return null }
}

async function worker() {
  if (!('serviceWorker' in navigator)) return false
  try {
    await navigator.serviceWorker.register('/site/sw.js', { scope: '/site/' })
    await navigator.serviceWorker.ready
    return true
  } catch {
    return false
  }
}

async function which(box) {
  try {
    const known = await me()
    await box.remember('me', known)
  } catch (error) {
    if (error.status === 401) { const kept = await box.remembered('me'); if (!kept) throw error }
  }
  const known = await box.remembered('me'), asked = remembered()
  const jobs = known ? known.jobs : []
  return (jobs.find(j => j.id === asked) || jobs.at(-1) || { id: asked }).id
}

async function begin() {
  const lasting = worker()
  const box = outbox()
  await box.open('')
  const job = await which(box)
  if (!job) return tell('This phone is not paired yet. Scan the code on the owner’s screen.')
  await box.open(job)
  const days = await bundle(box, job)
  const { start, moved } = await import('./day.js')
  const sync = syncing(box, job, told, moved)
  let waited = (await box.waiting()).length
  box.onchange(async () => {
    const waits = (await box.waiting()).length
    if (waits > waited) sync.now()
    waited = waits
  })
  sync.now()
  lasting.then(offline => {
    document.body.dataset.offline = offline ? 'yes' : 'no'
    document.querySelector('#stays').hidden = offline
  })
  await start(root, days, box, { news: await box.remembered(`changed:${job}`) })
}

begin().catch(error => tell(error.status === 401 ? 'This phone is not paired with the desk. Scan the code on the owner’s screen.' : `${error.message}`))

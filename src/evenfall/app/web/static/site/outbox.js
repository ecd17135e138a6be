// What this phone keeps: entries and photos. They are told as kept only once they are on the phone's own disk.

const NAME = 'evenfall-site', VERSION = 1
export const LARGEST_PHOTO = 12e6
export const FULL = 'This phone is full, so nothing of this record was kept. Delete films or photos you have elsewhere, then tap again. What was kept before is safe.'
const NONE = 'This browser keeps nothing between visits (a private window?). Open the page in an ordinary window, or use the day sheet.'

const wanted = request => new Promise((done, fail) => {
  request.onsuccess = () => done(request.result)
  request.onerror = () => fail(request.error)
})

function opened() {
  return new Promise((done, fail) => {
    if (!self.indexedDB) return fail(new Error(NONE))
    const request = indexedDB.open(NAME, VERSION)
    request.onupgradeneeded = () => {
      const base = request.result
      base.createObjectStore('entries', { keyPath: ['job', 'id'] }).createIndex('job', 'job')
      base.createObjectStore('photos', { keyPath: ['job', 'sha'] }).createIndex('job', 'job')
      base.createObjectStore('kept')
    }
    request.onblocked = () => fail(new Error('Another window holds an older version of this page. Close it.'))
    request.onerror = () => fail(new Error(NONE))
    request.onsuccess = () => {
      request.result.onversionchange = () => request.result.close()
      done(request.result)
    }
  })
}

const full = error => error && (error.name === 'QuotaExceededError' || /quota|disk|space/i.test(error.message || ''))

export function outbox() {
  let base, job
  const told = new Set()
  const others = self.BroadcastChannel ? new BroadcastChannel(NAME) : null
  if (others) others.onmessage = () => told.forEach(f => f())
  const changed = () => { told.forEach(f => f()); if (others) others.postMessage('changed') }

  /** Write all or nothing; done means that the phone's disk has it. */
  function written(stores, work) {
    return new Promise((done, fail) => {
      const deed = base.transaction(stores, 'readwrite', { durability: 'strict' })
      let found
      deed.oncomplete = () => done(found)
      deed.onabort = () => fail(deed.error || new Error('the phone did not keep it'))
      deed.onerror = () => {}
      Promise.resolve(work(deed)).then(value => { found = value }, error => { try { deed.abort() } catch { /* over */ } fail(error) })
    })
  }

  const store = (name, mode = 'readonly') => base.transaction(name, mode).objectStore(name)
  const ofJob = name => wanted(store(name).index('job').getAll(job))

  /** Give up the photos that the desk has already: they are safe there. */
  const freed = () => written(['photos'], async deed => {
    const all = await wanted(deed.objectStore('photos').getAll())
    const gone = all.filter(p => p.state === 'sent')
    gone.forEach(p => deed.objectStore('photos').delete([p.job, p.sha]))
    return gone.length
  })

  const box = {
    device: '',

    /** Open the box of a job; asks the browser to keep it when room is short. */
    async open(name) {
      base = base || await opened()
      job = name
      box.device = await box.remembered('device')
      if (!box.device) {
        box.device = [...crypto.getRandomValues(new Uint8Array(16))].map(b => b.toString(16).padStart(2, '0')).join('')
        await box.remember('device', box.device)
      }
      try { box.lasting = await navigator.storage.persist() } catch { box.lasting = false }
    },

    /** Keep an entry with its photos. Only when this is done may the person be told that it is kept. */
    async add(entry, blobs = {}) {
      for (const sha of Object.keys(blobs)) {
        if (blobs[sha].size > LARGEST_PHOTO) throw new Error(`That photo has ${(blobs[sha].size / 1e6).toFixed(0)} MB; at most ${LARGEST_PHOTO / 1e6} MB can be sent. Take it again at a smaller size.`)
      }
      const keep = () => written(['entries', 'photos'], deed => {
        for (const sha of Object.keys(blobs)) deed.objectStore('photos').put({ job, sha, blob: blobs[sha], state: 'here' })
        deed.objectStore('entries').add({ job, id: entry.id, entry, state: 'here' })
      })
      try {
        await keep()
      } catch (error) {
        if (!full(error)) throw error
        const room = await freed().catch(() => 0)
        try {
          if (!room) throw error
          await keep()
        } catch {
          throw Object.assign(new Error(FULL), { full: true })
        }
      }
      changed()
    },

    /** Every entry of the job that this phone knows: `{entry, state}`, state `here` or `sent`. */
    async all() { return (await ofJob('entries')).filter(i => i.state !== 'refused') },

    /** Entries and photos that the desk would not take, each with its `error`; they stay here. */
    async refused() { return [...await ofJob('entries'), ...await ofJob('photos')].filter(i => i.state === 'refused') },

    async photo(sha) {
      const found = await wanted(store('photos').get([job, sha]))
      return found ? found.blob : null
    },

    /** What the desk has not got yet: entries and photos together. */
    async waiting() { return [...await ofJob('entries'), ...await ofJob('photos')].filter(i => i.state === 'here') },

    onchange(f) { told.add(f) },

    async photosWaiting() { return (await ofJob('photos')).filter(p => p.state === 'here') },

    /** Note what became of entries: ids that are kept at the desk, and those refused with their errors. */
    async answered(kept, refused) {
      await written(['entries'], async deed => {
        const at = deed.objectStore('entries')
        for (const id of kept) {
          const found = await wanted(at.get([job, id]))
          if (found && found.state !== 'sent') at.put({ ...found, state: 'sent', error: undefined })
        }
        for (const one of refused) {
          const found = await wanted(at.get([job, one.id]))
          if (found) at.put({ ...found, state: 'refused', error: one.error })
        }
      })
      changed()
    },

    async photoAnswered(sha, error) {
      await written(['photos'], async deed => {
        const found = await wanted(deed.objectStore('photos').get([job, sha]))
        if (found) deed.objectStore('photos').put({ ...found, state: error ? 'refused' : 'sent', error })
      })
      changed()
    },

    /** Take in the desk's log. An entry of ours that the desk has lost is sent again. */
    async merge(log, missing) {
      const there = new Map(log.map(e => [e.id, e])), short = new Set(missing)
      await written(['entries', 'photos'], async deed => {
        const entries = deed.objectStore('entries'), photos = deed.objectStore('photos')
        const mine = new Map((await wanted(entries.index('job').getAll(job))).map(i => [i.id, i]))
        for (const [id, entry] of there) if (!mine.has(id)) entries.put({ job, id, entry, state: 'sent' })
        for (const [id, item] of mine) if (item.state === 'sent' && !there.has(id)) entries.put({ ...item, state: 'here' })
        for (const item of await wanted(photos.index('job').getAll(job))) if (item.state === 'sent' && short.has(item.sha)) photos.put({ ...item, state: 'here' })
      })
      changed()
    },

    async remember(name, value) { await written(['kept'], deed => { deed.objectStore('kept').put(value, name) }) },
    async remembered(name) { return wanted(store('kept').get(name)) },

    close() { if (base) base.close(); base = null },
  }
  return box
}

/** One word for a set of entries; the desk makes the same. */
export async function digest(ids) {
  const text = new TextEncoder().encode([...new Set(ids)].sort().join('\n'))
  return [...new Uint8Array(await crypto.subtle.digest('SHA-256', text))].map(b => b.toString(16).padStart(2, '0')).join('')
}

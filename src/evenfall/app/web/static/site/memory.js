// Where nothing can be kept: the records live as long as the page, and the page says so.

export function inMemory() {
  const entries = new Map(), photos = new Map(), told = new Set()
  return {
    forgets: true,
    async open() {},
    async add(entry, blobs = {}) {
      for (const sha of Object.keys(blobs)) photos.set(sha, blobs[sha])
      entries.set(entry.id, entry)
      told.forEach(f => f())
    },
    async all() { return [...entries.values()] },
    async photo(sha) { return photos.get(sha) || null },
    async waiting() { return entries.size },
    onchange(f) { told.add(f) },
  }
}

// Answers while there is no network: the page from the phone itself, the records never (they have a store of their own).
const CACHE = `evenfall-site-${VERSION}`
const PAGE = '/site/'

self.addEventListener('install', event => event.waitUntil((async () => {
  const cache = await caches.open(CACHE)
  await cache.addAll(FILES.map(file => new Request(file, { cache: 'reload' })))
  await self.skipWaiting()
})()))

self.addEventListener('activate', event => event.waitUntil((async () => {
  for (const name of await caches.keys()) if (name.startsWith('evenfall-site-') && name !== CACHE) await caches.delete(name)
  await self.clients.claim()
})()))

self.addEventListener('fetch', event => {
  const at = new URL(event.request.url)
  if (event.request.method !== 'GET' || at.origin !== location.origin || !FILES.includes(at.pathname)) return
  event.respondWith((async () => {
    const cache = await caches.open(CACHE)
    return await cache.match(at.pathname) || fetch(event.request)
  })())
})

// Keeps the built page in the browser, so that it opens without a network. `plugin.ts` puts in the files with their check sums, and a version made
// of them. A newer version is fetched whole beside the one in use, and takes its place when the page asks for it or no page is open any more.
// Own code: of workbox this would use one page's worth, and its build brings 260 packages.

/** Path below this file, and check sum (W3C Subresource Integrity): files of two versions are never mixed. */
const FILES = __FILES__
const PREFIX = 'lampwright-files-'
const CACHE = `${PREFIX}__VERSION__`
const HOME = new URL('./', self.location.href).href

self.addEventListener('install', (event) => event.waitUntil(fetchAll()))
self.addEventListener('activate', (event) => event.waitUntil(dropOld().then(() => self.clients.claim())))
self.addEventListener('message', (event) => {
  if (event.data === 'take over') self.skipWaiting()
})
self.addEventListener('fetch', (event) => {
  const { method, url } = event.request
  if (method === 'GET' && url.startsWith(HOME)) event.respondWith(answerTo(event.request))
})

/** All or none: `addAll` fails with the first that is missing or another. */
async function fetchAll() {
  const cache = await caches.open(CACHE)
  // 'no-cache' asks the server whether what the browser holds is still current.
  await cache.addAll(
    FILES.map(([path, integrity]) => new Request(new URL(path, HOME), { integrity, cache: 'no-cache' })),
  )
}

/** The version before stays for tabs that still run it: they may have yet to load some of its files. Names stand in the order of their making. */
async function dropOld() {
  const others = (await caches.keys()).filter((name) => name.startsWith(PREFIX) && name !== CACHE)
  await Promise.all(others.slice(0, -1).map((name) => caches.delete(name)))
}

async function answerTo(request) {
  const path = request.url.slice(HOME.length).replace(/[?#].*$/, '')
  const isPage = path === '' || path === 'index.html'
  const cache = await caches.open(CACHE)
  const kept = isPage
    ? await cache.match(HOME, { ignoreVary: true })
    : ((await cache.match(request, { ignoreVary: true })) ?? (await caches.match(request, { ignoreVary: true })))
  return kept ?? fetch(request)
}

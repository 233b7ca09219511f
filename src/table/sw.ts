/// <reference lib="webworker" />

/**
 * Keeps the table page itself on the phone, so that it opens again without a connection. What
 * people record is not its business: the page keeps that.
 */
const worker = self as unknown as ServiceWorkerGlobalScope
const KEPT = 'pawl-table-2'
const PAGE = '/t/'
/** A page that has not come by then is taken from the phone. */
const PATIENCE_MS = 2500

worker.addEventListener('install', (event) => {
  event.waitUntil(fetchPage().then(() => worker.skipWaiting()))
})
worker.addEventListener('activate', (event) => {
  event.waitUntil(Promise.all([worker.clients.claim(), dropOlder()]))
})
worker.addEventListener('fetch', (event) => {
  const { request } = event
  if (request.mode === 'navigate' && request.method === 'GET') event.respondWith(page())
})

/** What an older worker kept. */
async function dropOlder(): Promise<void> {
  for (const name of await caches.keys())
    if (name.startsWith('pawl-table-') && name !== KEPT) await caches.delete(name)
}

/** The page, which has its script and style in it: kept under one address for every code. */
async function fetchPage(): Promise<Response> {
  const response = await fetch(PAGE)
  if (!response.ok) throw new Error(`The page answered ${response.status}.`)
  const kept = await caches.open(KEPT)
  await kept.put(PAGE, response.clone())
  return response
}

async function page(): Promise<Response> {
  const kept = await caches.match(PAGE)
  if (kept === undefined) return fetchPage()
  const fresh = fetchPage().catch(() => kept.clone())
  const late = new Promise<Response>((resolve) => setTimeout(() => resolve(kept), PATIENCE_MS))
  return Promise.race([fresh, late])
}

/// <reference lib="webworker" />

/**
 * Keeps the table page itself on the phone, so that it opens again without a connection. What
 * people record is not its business: the page keeps that.
 */
const worker = self as unknown as ServiceWorkerGlobalScope
const KEPT = 'pawl-table-1'
const PAGE = '/t/'
/** A page that has not come by then is taken from the phone. */
const PATIENCE_MS = 2500

worker.addEventListener('install', (event) => {
  event.waitUntil(fetchPage().then(() => worker.skipWaiting()))
})
worker.addEventListener('activate', (event) => {
  event.waitUntil(worker.clients.claim())
})
worker.addEventListener('fetch', (event) => {
  const { request } = event
  const { origin, pathname } = new URL(request.url)
  if (origin !== worker.location.origin || request.method !== 'GET') return
  if (request.mode === 'navigate') event.respondWith(page())
  else if (pathname.startsWith('/t/assets/')) event.respondWith(asset(request))
})

/** The page and what it names, kept under one address for every code. */
async function fetchPage(): Promise<Response> {
  const response = await fetch(PAGE)
  if (!response.ok) throw new Error(`The page answered ${response.status}.`)
  const kept = await caches.open(KEPT)
  const assets = [...(await response.clone().text()).matchAll(/\/t\/assets\/[\w.-]+/g)].map(
    ([path]) => path,
  )
  await kept.addAll([...new Set(assets)])
  await kept.put(PAGE, response.clone())
  // What an older page needed goes.
  for (const { url } of await kept.keys()) {
    const path = new URL(url).pathname
    if (path !== PAGE && !assets.includes(path)) await kept.delete(url)
  }
  return response
}

async function page(): Promise<Response> {
  const kept = await caches.match(PAGE)
  if (kept === undefined) return fetchPage()
  const fresh = fetchPage().catch(() => kept.clone())
  const late = new Promise<Response>((resolve) => setTimeout(() => resolve(kept), PATIENCE_MS))
  return Promise.race([fresh, late])
}

async function asset(request: Request): Promise<Response> {
  return (await caches.match(request)) ?? fetch(request)
}

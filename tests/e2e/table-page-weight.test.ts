import { readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { gzipSync } from 'node:zlib'
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, it, vi } from 'vitest'
import { launchBrowser } from '../support/browser.ts'
import { testFolder } from '../support/side-by-side.ts'
import {
  buildTablePage,
  newPhone,
  startTableServer,
  type TableServer,
} from '../support/table-server.ts'
import { heading } from '../support/table-steps.ts'

vi.setConfig({ testTimeout: 180_000 })

const MOST_BYTES = 30_000

let webDir: string
let browser: Browser
let server: TableServer

beforeAll(async () => {
  webDir = await buildTablePage()
  writeFileSync(join(webDir, 'bare.html'), '<!doctype html><title>Bare</title><h1>Bare</h1>')
  server = await startTableServer({ dataDir: testFolder() }, webDir)
  browser = await launchBrowser()
})
afterAll(async () => {
  await browser?.close()
  await server?.stop()
})

it('weighs less than 30 KB, with its script and style, gzipped', () => {
  const weigh = (path: string) =>
    gzipSync(readFileSync(join(webDir, 't', path)), { level: 9 }).length
  // All of it is in one document, but for the worker that keeps it.
  const parts = readdirSync(join(webDir, 't')).filter((name) => !/\.(?:br|gz)$/.test(name))
  expect(parts.sort()).toEqual(['index.html', 'sw.js'])
  const html = readFileSync(join(webDir, 't/index.html'), 'utf8')
  const inside = [...html.matchAll(/<(?:style|script type="module")>(.*?)<\/(?:style|script)>/gs)]
  expect(inside).toHaveLength(2)
  const size = gzipSync(inside.map(([, text]) => text).join('\n'), { level: 9 }).length
  console.log(
    `table page: script and style ${size} bytes gzipped, the document ${weigh('index.html')}; its service worker: ${weigh('sw.js')}`,
  )
  expect(size).toBeGreaterThan(5000)
  expect(size).toBeLessThan(MOST_BYTES)
})

it('asks for nothing from elsewhere, and for no font', async () => {
  const { context, page } = await newPhone(browser)
  const asked: string[] = []
  page.on('request', (request) => asked.push(request.url()))
  await page.goto(`${server.address}/t`)
  await heading(page, 'Join your table').waitFor()
  await page.waitForFunction(() => performance.getEntriesByName('ready').length > 0)
  expect(asked.filter((url) => !url.startsWith(`${server.address}/`))).toEqual([])
  expect(asked.filter((url) => /woff|ttf/.test(url))).toEqual([])
  await context.close()
})

/** Milliseconds until `what` is there, on a phone that is slow and far from its network. */
async function waitedFor(path: string, what: string): Promise<number> {
  const { context, page } = await newPhone(browser)
  const cdp = await context.newCDPSession(page)
  await cdp.send('Emulation.setCPUThrottlingRate', { rate: 4 })
  await cdp.send('Network.enable')
  await cdp.send('Network.emulateNetworkConditions', {
    ...{ offline: false, latency: Number(process.env['LATENCY'] ?? 0) },
    ...{ downloadThroughput: 1_600_000 / 8, uploadThroughput: 750_000 / 8 },
  })
  await page.goto(server.address + path, { waitUntil: 'commit' })
  // With no code of the test's own in the page, which would take its time too.
  const expression = `performance.getEntriesByName('${what}')[0]?.startTime ?? 0`
  const read = async () => Number((await cdp.send('Runtime.evaluate', { expression })).result.value)
  await expect.poll(read, { interval: 100, timeout: 45_000 }).toBeGreaterThan(0)
  const waited = Math.round(await read())
  await context.close()
  return waited
}

// The aim is 1 s on a machine with nothing else to do. A busy one takes longer for any page, which a
// bare heading in the same run shows: it has half of that second there. The bound
// is wide enough for one that is overrun.
it('is ready soon on a slow phone and network, with a typed and with a scanned code', async () => {
  const room = await server.openRoom()
  const bare: number[] = []
  const typed: number[] = []
  const scanned: number[] = []
  // In turn, since a machine's other work comes and goes.
  for (let i = 0; i < 3; i++) {
    bare.push(await waitedFor('/bare.html', 'first-contentful-paint'))
    typed.push(await waitedFor('/t', 'ready'))
    scanned.push(await waitedFor(`/t/${room.code}`, 'ready'))
  }
  console.log(
    `a bare heading: ${bare} ms; table page: ready after ${typed} ms, with a code after ${scanned} ms`,
  )
  const most = 1000 + 4 * bare.toSorted((a, b) => a - b)[1]!
  expect(Math.min(...typed)).toBeLessThan(most)
  expect(Math.min(...scanned)).toBeLessThan(most)
})

it('comes with the tables of a scanned code, and asks for them only where they do not come', async () => {
  const room = await server.openRoom()
  const { context, page } = await newPhone(browser)
  const asked: string[] = []
  page.on('request', (request) => asked.push(new URL(request.url()).pathname))
  await page.goto(`${server.address}/t/${room.code}`)
  await page.waitForFunction(() => performance.getEntriesByName('ready').length > 0)
  expect(asked).not.toContain('/api/rooms/find')
  // By a link on another site, the page has to ask.
  await page.setContent(`<a href="${server.address}/t/${room.code}">Your table</a>`)
  await page.getByRole('link', { name: 'Your table' }).click()
  await heading(page, 'Which table are you at?').waitFor()
  await page.goto(`${server.address}/t/999999`)
  await page.getByText('No workshop has the code “999999”.').waitFor()
  expect(await page.getByLabel('Code on the room screen').inputValue()).toBe('999999')
  await context.close()
})

it('says that it is ready once the tables can be chosen', async () => {
  const room = await server.openRoom()
  const { context, page } = await newPhone(browser)
  await page.goto(`${server.address}/t/${room.code}`)
  await page.waitForFunction(() => performance.getEntriesByName('ready').length > 0)
  expect(await heading(page, 'Which table are you at?').isVisible()).toBe(true)
  await context.close()
})

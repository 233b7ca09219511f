import { readdirSync, readFileSync } from 'node:fs'
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

let webDir: string
let browser: Browser
let server: TableServer

beforeAll(async () => {
  webDir = await buildTablePage()
  server = await startTableServer({ dataDir: testFolder() }, webDir)
  browser = await launchBrowser()
})
afterAll(async () => {
  await browser?.close()
  await server?.stop()
})

it('weighs less than 30 KB, script and style together, gzipped', () => {
  const assets = join(webDir, 't/assets')
  const weigh = (path: string) => gzipSync(readFileSync(path), { level: 9 }).length
  const parts = readdirSync(assets).filter((name) => /\.(?:js|css)$/.test(name))
  const size = parts.map((name) => weigh(join(assets, name))).reduce((sum, bytes) => sum + bytes, 0)
  console.log(
    `table page: ${size} bytes gzipped; its service worker: ${weigh(join(webDir, 't/sw.js'))}`,
  )
  expect(size).toBeGreaterThan(5000)
  expect(size).toBeLessThan(30_000)
})

it('asks for nothing from elsewhere, and for no font', async () => {
  const { context, page } = await newPhone(browser)
  const asked: string[] = []
  page.on('request', (request) => asked.push(request.url()))
  await page.goto(`${server.address}/t`)
  await heading(page, 'Join your table').waitFor()
  expect(asked.filter((url) => !url.startsWith(`${server.address}/`))).toEqual([])
  expect(asked.filter((url) => /woff|ttf/.test(url))).toEqual([])
  await context.close()
})

// The aim is 1 s on a machine with nothing else to do; what a busy one may take is bounded here.
const BOUND_MS = 6000

it.each([
  ['a typed code', '', 'Join your table'],
  ['a scanned code', '/code', 'Which table are you at?'],
])('is ready soon on a slow phone and network, with %s', async (_which, path, title) => {
  const room = await server.openRoom()
  const times: number[] = []
  for (let i = 0; i < 3; i++) {
    const { context, page } = await newPhone(browser)
    const cdp = await context.newCDPSession(page)
    await cdp.send('Emulation.setCPUThrottlingRate', { rate: 4 })
    await cdp.send('Network.enable')
    await cdp.send('Network.emulateNetworkConditions', {
      ...{ offline: false, latency: Number(process.env['LATENCY'] ?? 0) },
      ...{ downloadThroughput: 1_600_000 / 8, uploadThroughput: 750_000 / 8 },
    })
    await page.goto(`${server.address}/t${path.replace('code', room.code)}`)
    await heading(page, title).waitFor()
    await page.waitForFunction(() => performance.getEntriesByName('ready').length > 0)
    times.push(
      await page.evaluate(() => Math.round(performance.getEntriesByName('ready')[0]!.startTime)),
    )
    await context.close()
  }
  const best = Math.min(...times)
  console.log(`table page with ${path === '' ? 'no code' : 'a code'}: ready after ${times} ms`)
  expect(best).toBeGreaterThan(0)
  expect(best).toBeLessThan(BOUND_MS)
})

import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { brotliCompressSync } from 'node:zlib'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { VERSION } from '../src/server/version.ts'
import { startTestServer, type TestServer } from './support/server-client.ts'

let folder = ''
let server: TestServer
const script = 'console.log("invented")\n'.repeat(100)
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'pawl-files-'))
  const webDir = join(folder, 'web')
  mkdirSync(join(webDir, 'assets'), { recursive: true })
  writeFileSync(join(webDir, 'index.html'), '<!doctype html><title>Pawl</title>')
  mkdirSync(join(webDir, 't', 'assets'), { recursive: true })
  writeFileSync(join(webDir, 't', 'index.html'), '<!doctype html><title>Your table</title>')
  writeFileSync(join(webDir, 't', 'sw.js'), 'self.skipWaiting()')
  writeFileSync(join(webDir, 't', 'assets', 'table-abc.js'), script)
  writeFileSync(join(webDir, 'assets', 'main-abc.js'), script)
  writeFileSync(join(webDir, 'assets', 'main-abc.js.br'), brotliCompressSync(script))
  server = await startTestServer({ dataDir: join(folder, 'data') }, { webDir })
})
afterAll(async () => {
  await server.close()
  rmSync(folder, { recursive: true, force: true })
})
const get = (url: string, headers: Record<string, string> = {}) =>
  server.browser().send('GET', url, undefined, headers)

it('answers every page with the one document, which is asked for afresh', async () => {
  for (const url of ['/', '/cycles/01J0000000000000000000C001', '/today?x=1']) {
    const { status, body, headers } = await get(url)
    expect(status).toBe(200)
    expect(body).toContain('<title>Pawl</title>')
    expect(headers['cache-control']).toBe('no-cache')
    expect(headers['content-security-policy']).toContain("script-src 'self'")
  }
})

it('answers the table page at /t, with and without a code, and the room screen with the main one', async () => {
  for (const url of ['/t', '/t/', '/t/34679C', '/t?from=qr', '/t/34679C?x=1']) {
    const { status, body, headers } = await get(url)
    expect(status, url).toBe(200)
    expect(body, url).toContain('<title>Your table</title>')
    expect(headers['cache-control']).toBe('no-cache')
    expect(headers['content-security-policy']).toContain("script-src 'self'")
  }
  for (const url of ['/screen/34679C', '/today', '/tables'])
    expect((await get(url)).body, url).toContain('<title>Pawl</title>')
})

it('has the worker of the table page asked for afresh, and its parts kept', async () => {
  const worker = await get('/t/sw.js')
  expect(worker.headers['cache-control']).toBe('no-cache')
  expect(String(worker.headers['content-type'])).toContain('javascript')
  const part = await get('/t/assets/table-abc.js')
  expect(part.headers['cache-control']).toContain('immutable')
  expect((await get('/t/assets/gone-abc.js')).status).toBe(404)
})

it('lets browsers keep what is named after its content, and sends it compressed', async () => {
  const { headers } = await get('/assets/main-abc.js', { 'accept-encoding': 'br' })
  expect(headers['cache-control']).toBe('public, max-age=31536000, immutable')
  expect(headers['content-encoding']).toBe('br')
  const plain = await get('/assets/main-abc.js')
  expect(plain.headers['content-encoding']).toBeUndefined()
  expect(plain.body).toBe(script)
})

it('does not answer a missing file with a page', async () => {
  for (const url of ['/assets/gone-abc.js', '/../package.json', '/%2e%2e/package.json']) {
    const { status, body } = await get(url)
    expect(status).toBe(404)
    expect(body.code).toBe('request.no_such_route')
  }
})

it('explains itself when asked for an address that cannot be read', async () => {
  const { status, body } = await get('/%zz')
  expect(status).toBe(400)
  expect(body.code).toBe('request.invalid')
})

it('has the version of the package', () => {
  const { version } = JSON.parse(
    readFileSync(new URL('../package.json', import.meta.url), 'utf8'),
  ) as { version: string }
  expect(VERSION).toBe(version)
})

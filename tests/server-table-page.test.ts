import { createHash } from 'node:crypto'
import { mkdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { gunzipSync } from 'node:zlib'
import { beforeAll, beforeEach, expect, it } from 'vitest'
import { startTestServer, type TestServer } from './support/server-client.ts'
import { testFolder } from './support/side-by-side.ts'
import { openWorkshop } from './support/workshop-client.ts'

// What the server puts into the page of a table at an address with a code, and for whom.

const SCRIPT = 'document.title += "!"'
const STYLE = 'h1{margin:0}'
const PAGE = `<!doctype html><title>Your table</title><style>${STYLE}</style>
<script type="module">${SCRIPT}</script>
<script type="application/json" id="given"></script>`
const OPENED = { accept: 'text/html,*/*' }
const hash = (text: string) => createHash('sha256').update(text).digest('base64')

let webDir: string
let server: TestServer
beforeAll(() => {
  webDir = testFolder()
  mkdirSync(join(webDir, 't'))
  writeFileSync(join(webDir, 'index.html'), '<!doctype html><title>Pawl</title>')
  writeFileSync(join(webDir, 't/index.html'), PAGE)
})
// A server of its own for each, since each has its own count of wrong codes.
beforeEach(async () => {
  server = await startTestServer({ dataDir: testFolder() }, { webDir })
  return () => server.close()
})

const open = async (code: string, headers: Record<string, string> = OPENED) =>
  server.browser().send('GET', `/t/${code}`, undefined, headers)
/** What came with the page, or `null`. */
const givenIn = (body: string): unknown =>
  JSON.parse(/id="given">([^<]*)<\/script>/.exec(body)?.[1] || 'null')

it('has in the page what the code opens, as the API answers it', async () => {
  const room = await openWorkshop(server)
  await room.join('Kestrel')
  const { status, body, headers } = await open(room.code)
  expect(status).toBe(200)
  expect(headers['content-type']).toBe('text/html; charset=utf-8')
  // Names of a class stay in no cache.
  expect(headers['cache-control']).toBe('no-store')
  expect(givenIn(body)).toEqual({ found: await room.find() })
  expect(givenIn((await open(room.code.toLowerCase())).body)).toEqual({ found: await room.find() })
})

it('sends it compressed to whoever takes that', async () => {
  const room = await openWorkshop(server)
  const { headers, rawPayload } = await server.app.inject({
    url: `/t/${room.code}`,
    headers: { ...OPENED, host: '127.0.0.1:7295', 'accept-encoding': 'gzip, deflate' },
  })
  expect(headers['content-encoding']).toBe('gzip')
  expect(givenIn(gunzipSync(rawPayload).toString())).toEqual({ found: await room.find() })
})

it('lets no name end the element that it stands in', async () => {
  const room = await openWorkshop(server)
  const name = '</script><b>$&</b><!--'
  await room.join(name)
  const { body } = await open(room.code)
  expect(body).not.toContain('<b>')
  expect(body.match(/<\/script>/g)).toHaveLength(2)
  expect(givenIn(body)).toMatchObject({ found: { tables: [{ name }] } })
})

it('allows the script and the style of the page by their hashes, and no other', async () => {
  const room = await openWorkshop(server)
  for (const path of ['/t', '/t/', '/t/index.html', `/t/${room.code}`, '/t/hello']) {
    const { headers } = await server.browser().send('GET', path, undefined, OPENED)
    const policy = String(headers['content-security-policy'])
    expect(policy, path).toContain(`script-src 'self' 'sha256-${hash(SCRIPT)}';`)
    expect(policy, path).toContain(`style-src 'self' 'sha256-${hash(STYLE)}';`)
    expect(policy, path).not.toContain('unsafe')
  }
  const main = await server.browser().send('GET', '/today')
  expect(main.headers['content-security-policy']).toContain("script-src 'self';")
})

it('counts wrong codes with those that the API is asked for', async () => {
  const room = await openWorkshop(server)
  const wrong = await open('999999')
  expect(wrong.status).toBe(200)
  expect(givenIn(wrong.body)).toMatchObject({ refused: { code: 'room.unknown_code' } })
  for (let i = 1; i < 40; i++) await open('999999')
  expect(givenIn((await open('999999')).body)).toMatchObject({
    refused: { code: 'room.too_many_tries', details: { retryAfter: expect.any(Number) } },
  })
  const guesser = server.browser()
  await guesser.open()
  const asked = await guesser.send('POST', '/api/rooms/find', { code: '999999' })
  expect(asked.body.code).toBe('room.too_many_tries')
  // Whoever has the right code still gets in.
  expect(givenIn((await open(room.code)).body)).toMatchObject({ found: { roomId: room.id } })
})

it('looks a code up only where somebody opens the page', async () => {
  const room = await openWorkshop(server)
  for (const headers of [
    // Another site has it fetched as a picture, in a frame, or by a link.
    { accept: 'image/*' },
    { ...OPENED, 'sec-fetch-dest': 'iframe', 'sec-fetch-site': 'cross-site' },
    { ...OPENED, 'sec-fetch-dest': 'document', 'sec-fetch-site': 'cross-site' },
  ]) {
    for (let i = 0; i < 50; i++) await open('999999', headers)
    const { status, body } = await open(room.code, headers)
    expect(status).toBe(200)
    expect(givenIn(body)).toBeNull()
  }
  expect(givenIn((await open('999999')).body)).toMatchObject({
    refused: { code: 'room.unknown_code' },
  })
  const scanned = { ...OPENED, 'sec-fetch-dest': 'document', 'sec-fetch-site': 'none' }
  expect(givenIn((await open(room.code, scanned)).body)).toMatchObject({ found: {} })
})

it('says that a room is closed, and asks for nothing where there is no code', async () => {
  const room = await openWorkshop(server)
  await room.leads({ kind: 'close' })
  expect(givenIn((await open(room.code)).body)).toMatchObject({ refused: { code: 'room.closed' } })
  expect(givenIn((await open('hello')).body)).toBeNull()
  expect((await open('gone.js')).status).toBe(404)
})

import { readFileSync } from 'node:fs'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { bodies } from '../src/api/bodies.ts'
import type { RouteName } from '../src/api/contract.ts'
import { replies } from '../src/api/replies.ts'
import { ROLES } from '../src/domain/record.ts'
import { ROUTE_ROLES } from '../src/server/app.ts'
import { onBothEngines } from './support/engines.ts'
import { sampleId } from './support/sample-record.ts'
import { type Browser, startTestServer, type TestServer } from './support/server-client.ts'

const NAMES = Object.keys(ROUTE_ROLES) as RouteName[]
const WRITES = NAMES.filter((name) => !name.startsWith('GET'))

function requestOf(name: RouteName): [method: string, url: string] {
  const [method, path] = name.split(' ') as [string, string]
  return [method, path.replace(/:\w+/g, sampleId('Z', 1))]
}
/** Something to send; what is in it does not matter to whether it is let through. */
const bodyOf = (name: RouteName) => (name in bodies ? {} : undefined)

describe('the table of routes', () => {
  const contract = readFileSync(new URL('../src/api/contract.ts', import.meta.url), 'utf8')
  const written = [...contract.matchAll(/^ {2}'((?:GET|POST|PUT|PATCH|DELETE) \/api\/[^']+)'/gm)]

  it('has every route of the contract and no other', () => {
    expect(written.length).toBeGreaterThan(40)
    expect([...NAMES].sort()).toEqual(written.map(([, name]) => name).sort())
  })

  it('gives each the role that the contract says', () => {
    for (const name of NAMES) {
      const role = new RegExp(`'${name}': \\{\\s*role: '(\\w+)'`).exec(contract)?.[1]
      expect(ROUTE_ROLES[name], name).toBe(role)
    }
  })

  it('describes every reply, and every body that the contract has', () => {
    expect(Object.keys(replies).sort()).toEqual([...NAMES].sort())
    const withBody = NAMES.filter((name) =>
      new RegExp(`'${name}': \\{[^}]*?body:`, 's').test(contract),
    )
    expect(Object.keys(bodies).sort()).toEqual(withBody.sort())
  })
})

onBothEngines('who may do what', ({ place }) => {
  let server: TestServer
  let byRole: Map<string, Browser>
  beforeAll(async () => {
    server = await startTestServer(await place())
    byRole = new Map()
    for (const role of ROLES) byRole.set(role, await server.as(role))
  })
  afterAll(() => server.close())

  async function journalLength() {
    const rows = await server.db.read.selectFrom('journal').select('seq').execute()
    return rows.length
  }

  const forSeats = NAMES.filter((name) => ROUTE_ROLES[name] === 'seat')
  const forPeople = NAMES.filter((name) => !['public', 'seat'].includes(ROUTE_ROLES[name]))

  it.each(forSeats)('nobody without a seat can %s, but a coach', async (name) => {
    const stranger = server.browser()
    await stranger.open()
    for (const browser of [stranger, byRole.get('viewer')!, byRole.get('member')!]) {
      const answer = await browser.send(...requestOf(name), bodyOf(name))
      expect(answer.status).toBe(403)
      expect(answer.body.code).toBe('room.no_seat')
    }
    for (const role of ['coach', 'owner']) {
      const { body } = await byRole.get(role)!.send(...requestOf(name), bodyOf(name))
      expect(body.code, role).toBe('record.not_found')
    }
  })

  const forMore = WRITES.filter((name) => !['public', 'viewer', 'seat'].includes(ROUTE_ROLES[name]))
  it.each(forMore)('a viewer cannot %s', async (name) => {
    const before = await journalLength()
    const answer = await byRole.get('viewer')!.send(...requestOf(name), bodyOf(name))
    expect(answer.status).toBe(403)
    expect(answer.body.code).toBe('auth.not_allowed')
    expect(await journalLength()).toBe(before)
  })

  it.each(forPeople)('nobody without an account can %s', async (name) => {
    const stranger = server.browser()
    await stranger.open()
    const answer = await stranger.send(...requestOf(name), bodyOf(name))
    expect(answer.status).toBe(401)
    expect(answer.body.code).toBe('auth.needed')
  })

  it.each(forPeople)(
    'every lesser role is refused, and the least that suffices is not: %s',
    async (name) => {
      const needed = ROLES.indexOf(ROUTE_ROLES[name] as (typeof ROLES)[number])
      for (const [rank, role] of ROLES.entries()) {
        // Signing out and changing the example are left to their own tests.
        if (rank >= needed && ['DELETE /api/session', 'POST /api/example'].includes(name)) continue
        const { body } = await byRole.get(role)!.send(...requestOf(name), bodyOf(name))
        if (rank < needed) expect(body.code, role).toBe('auth.not_allowed')
        else expect(String(body.code), role).not.toMatch(/^(?:auth\.(?:needed|not)|server)/)
      }
    },
  )

  it.each(WRITES)('even an owner cannot %s without the page’s token', async (name) => {
    const owner = byRole.get('owner')!
    for (const token of [undefined, 'x'.repeat(43), owner.csrf.toLowerCase()]) {
      const answer = await owner.send(...requestOf(name), bodyOf(name), { 'x-pawl-csrf': token })
      expect(answer.status).toBe(403)
      expect(answer.body.code).toBe('request.no_csrf')
    }
  })

  it.each(WRITES)('a page of another site cannot %s', async (name) => {
    const owner = byRole.get('owner')!
    for (const headers of [
      { origin: 'https://elsewhere.example' },
      { origin: 'null' },
      { origin: 'http://127.0.0.1:9999' },
      { 'sec-fetch-site': 'cross-site' },
      { 'sec-fetch-site': 'same-site' },
    ] as Record<string, string>[]) {
      const answer = await owner.send(...requestOf(name), bodyOf(name), headers)
      expect(answer.status).toBe(403)
      expect(answer.body.code).toBe('request.foreign_origin')
    }
  })

  it('a page of this server can', async () => {
    const owner = byRole.get('owner')!
    const unit = { id: sampleId('T', 1), name: 'Ward 4', parentId: null }
    const answer = await owner.send('POST', '/api/units', unit, {
      origin: 'http://127.0.0.1:7295',
      'sec-fetch-site': 'same-origin',
    })
    expect(answer.status).toBe(200)
  })

  it('answers only to its own names', async () => {
    for (const host of ['pawl.elsewhere.example', '127.0.0.1.elsewhere.example']) {
      const answer = await server.browser().send('GET', '/api/session', undefined, { host })
      expect(answer.body.code).toBe('request.foreign_host')
    }
    for (const host of ['localhost:7295', '127.0.0.1', '[::1]:80']) {
      const answer = await server.browser().send('GET', '/api/session', undefined, { host })
      expect(answer.status).toBe(200)
    }
  })

  it('lets no script or style in that is not a file of its own', async () => {
    const { headers } = await server.browser().open()
    const policy = String(headers['content-security-policy'])
    expect(policy).toContain("default-src 'self'")
    expect(policy).toContain("script-src 'self'")
    expect(policy).toContain("style-src 'self'")
    expect(policy).not.toMatch(/unsafe|\*|http:|upgrade-insecure/)
    expect(headers['x-content-type-options']).toBe('nosniff')
    expect(headers['cache-control']).toBe('no-store')
  })

  it('says what is there when asked for something that is not', async () => {
    const answer = await server.browser().send('GET', '/api/nothing')
    expect(answer.status).toBe(404)
    expect(answer.body.code).toBe('request.no_such_route')
  })

  it('describes itself as OpenAPI 3.1', async () => {
    const { status, body } = await server.browser().send('GET', '/api/openapi.json')
    expect(status).toBe(200)
    expect(body.openapi).toBe('3.1.0')
    const described = Object.entries(body.paths as Record<string, object>).flatMap(([path, item]) =>
      Object.keys(item).map(
        (method) => `${method.toUpperCase()} ${path.replace(/\{(\w+)\}/g, ':$1')}`,
      ),
    )
    expect(described.sort()).toEqual([...NAMES, 'GET /api/rooms/:id/feed'].sort())
    const feed = body.paths['/api/rooms/{id}/feed'].get
    expect(Object.keys(feed.responses[200].content)).toEqual(['text/event-stream'])
    expect(feed.parameters.map(({ name }: { name: string }) => name)).toContain('Last-Event-ID')
    const events = body.components.schemas.RoomFeedEvent.oneOf
    expect(
      events.map((one: { properties: { event: { const: string } } }) => one.properties.event.const),
    ).toEqual(['state', 'change'])
    const refs = JSON.stringify(body).match(/"#\/[^"]+"/g) ?? []
    expect(refs.length).toBeGreaterThan(50)
    for (const ref of new Set(refs)) {
      const [, , kind, name] = JSON.parse(ref).split('/')
      expect(body.components[kind][name], ref).toBeTypeOf('object')
    }
  })
})

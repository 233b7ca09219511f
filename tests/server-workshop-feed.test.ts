import type { AddressInfo } from 'node:net'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { roomChange, roomState } from '../src/api/workshop-replies.ts'
import { onBothEngines } from './support/engines.ts'
import { readFeed } from './support/feed-reader.ts'
import { startTestServer, type TestServer } from './support/server-client.ts'
import { aPlan, freshId, openWorkshop, wholeRound } from './support/workshop-client.ts'

onBothEngines('the feed of a workshop', ({ place }) => {
  let server: TestServer
  let address = ''
  beforeAll(async () => {
    server = await startTestServer(await place())
    await server.app.listen({ host: '127.0.0.1', port: 0 })
    address = `http://127.0.0.1:${(server.app.server.address() as AddressInfo).port}`
  }, 60_000)
  afterAll(() => server.close())

  it('brings a whole state, then each change, to phones, screen and console alike', async () => {
    const room = await openWorkshop(server)
    const kestrel = await room.join('Kestrel')
    const heron = await room.join('Heron')
    const lead = await readFeed(address, room.id, room.lead.cookie)
    const own = await readFeed(address, room.id, kestrel.browser.cookie)
    const other = await readFeed(address, room.id, heron.browser.cookie)
    expect(lead.headers['content-type']).toBe('text/event-stream; charset=utf-8')
    expect(lead.headers['x-accel-buffering']).toBe('no')
    expect(lead.headers['content-security-policy']).toContain("default-src 'self'")
    expect(lead.headers['cache-control']).toBe('no-store')
    for (const feed of [lead, own, other]) await feed.until((events) => events.length === 1)

    await kestrel.move({ kind: 'lock', round: 1, ...aPlan() })
    for (const feed of [lead, own, other]) await feed.until((events) => events.length === 2)
    const seen = (feed: typeof own) =>
      feed.state()!.tables.find(({ id }) => id === kestrel.tableId)!.rounds[0]!
    expect(seen(own).predictions?.time?.expected).toBe(60)
    expect(seen(lead).predictions?.time?.expected).toBe(60)
    expect(seen(other)).toMatchObject({ stage: 'ready', predictions: null, strategy: null })
    expect(other.events.map(({ data }) => data).join()).not.toContain(aPlan().strategy)

    await heron.move({ kind: 'lock', round: 1, ...aPlan({ strategy: 'One does it all.' }) })
    await other.until((events) => events.length === 3)
    expect(seen(other).predictions?.time?.expected).toBe(60)
    for (const feed of [lead, own, other]) {
      await feed.until((events) => events.length === 3)
      // As the OpenAPI document describes them.
      for (const { id, event, data } of feed.events) {
        const read = (event === 'state' ? roomState : roomChange).parse(JSON.parse(data))
        expect(read).toEqual(JSON.parse(data))
        expect(read.seq).toBe(id)
      }
      expect(feed.state()!.tables).toEqual(
        (await (feed === lead ? room : feed === own ? kestrel : heron).state()).tables,
      )
      feed.close()
    }
  })

  it('shows each phone its own confidence, and the facilitator all', async () => {
    const room = await openWorkshop(server)
    const one = await room.join('Kestrel')
    const two = await room.join('Kestrel')
    const feeds = await Promise.all(
      [one.browser, two.browser, room.lead].map(({ cookie }) => readFeed(address, room.id, cookie)),
    )
    await one.move({ kind: 'confidence', when: 'before', value: 3 })
    await two.move({ kind: 'confidence', when: 'before', value: 8 })
    const seen = []
    for (const feed of feeds) {
      await feed.until((events) => events.length === 3)
      seen.push(feed.state()!.tables[0]!.seats.map((seat) => seat.confidenceBefore))
      feed.close()
    }
    expect(seen).toEqual([
      [3, null],
      [null, 8],
      [3, 8],
    ])
  })

  it('resumes where it was left, or brings the whole state', async () => {
    const room = await openWorkshop(server)
    const phone = await room.join('Kestrel')
    const first = await readFeed(address, room.id, phone.browser.cookie)
    await phone.move({ kind: 'lock', round: 1, ...aPlan() })
    await first.until((events) => events.length === 2)
    const last = first.events.at(-1)!.id

    const resumed = await readFeed(address, room.id, phone.browser.cookie, { after: last })
    await room.leads({ kind: 'notes', text: 'A quick class.' })
    await resumed.until((events) => events.length === 1)
    expect(resumed.events[0]!.event).toBe('change')
    expect(resumed.events[0]!.data).not.toContain('A quick class.')

    const behind = await readFeed(address, room.id, phone.browser.cookie, { after: last })
    await behind.until((events) => events.length === 1)
    expect(behind.events[0]!.event).toBe('state')
    for (const feed of [first, resumed, behind]) feed.close()
  })

  it('brings everything once and in order, while screens come and go', async () => {
    const room = await openWorkshop(server)
    const phones = await Promise.all(['Kestrel', 'Heron', 'Plover'].map((name) => room.join(name)))
    const steady = await readFeed(address, room.id, room.lead.cookie)
    const moving = phones.map(async (phone) => {
      for (const round of [1, 2, 3])
        for (const move of wholeRound(round, 50 + round)) {
          await phone.move(move)
          const passing = await readFeed(address, room.id, phone.browser.cookie)
          passing.close()
        }
    })
    await Promise.all(moving)
    const { tables, seq } = await room.state()
    await steady.until((events) => events.at(-1)!.id >= seq)
    const ids = steady.events.map(({ id }) => id)
    expect(ids).toEqual([...new Set(ids)].sort((a, b) => a - b))
    expect(steady.state()!.tables).toEqual(tables)
    for (const table of tables) {
      expect(table.rounds.map(({ seconds }) => seconds)).toEqual([51, 52, 53, null])
      expect(table.rounds.flatMap(({ trials }) => trials)).toHaveLength(3)
    }
    steady.close()
  }, 60_000)

  it('ends for a phone that is taken out, and lets nobody else in', async () => {
    const room = await openWorkshop(server)
    const phone = await room.join('Kestrel')
    const feed = await readFeed(address, room.id, phone.browser.cookie)
    await feed.until((events) => events.length === 1)
    await room.leads({ kind: 'remove-seat', seatId: phone.seatId })
    await feed.ended
    const again = await readFeed(address, room.id, phone.browser.cookie)
    expect(again.status).toBe(403)
    const stranger = server.browser()
    await stranger.open()
    expect((await readFeed(address, room.id, stranger.cookie)).status).toBe(403)
    expect((await readFeed(address, freshId(), room.lead.cookie)).status).toBe(404)
  })
})

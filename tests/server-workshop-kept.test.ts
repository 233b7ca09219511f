import type { AddressInfo } from 'node:net'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { RoomState, TableState } from '../src/domain/workshop/room-state.ts'
import { onBothEngines } from './support/engines.ts'
import { type FeedReader, readFeed } from './support/feed-reader.ts'
import { type Browser, startTestServer, type TestServer } from './support/server-client.ts'
import {
  aPlan,
  freshId,
  ITEMS,
  makeMoves,
  openWorkshop,
  type Phone,
  type Sent,
  type Workshop,
  wholeRound,
} from './support/workshop-client.ts'

// The feed takes over what the journal says of each write and reads nothing again. What it sends
// must be what a page that is opened now would read.

/** Numbers that look random and are the same in every run (Park and Miller 1988). */
function chances(seed: number) {
  let state = seed
  const next = () => {
    state = (state * 48_271) % 2_147_483_647
    return state / 2_147_483_647
  }
  return {
    below: (n: number) => Math.floor(next() * n),
    of: <T>(list: readonly T[]): T => list[Math.floor(next() * list.length)]!,
    yes: (share: number) => next() < share,
  }
}
type Chances = ReturnType<typeof chances>

interface Follower {
  readonly feed: FeedReader
  readonly browser: Browser
  readonly as: string
}

onBothEngines('what the feed of a workshop has taken over', ({ place }) => {
  let server: TestServer
  let address = ''
  beforeAll(async () => {
    server = await startTestServer(await place())
    await server.app.listen({ host: '127.0.0.1', port: 0 })
    address = `http://127.0.0.1:${(server.app.server.address() as AddressInfo).port}`
  }, 60_000)
  afterAll(() => server.close())

  async function followAs(room: Workshop, browser: Browser, as: string): Promise<Follower> {
    const feed = await readFeed(address, room.id, browser.cookie, { as })
    await feed.until((events) => events.length === 1)
    return { feed, browser, as }
  }

  /** Each follower shows what it would read now. */
  async function mustShowWhatIsThere(room: Workshop, followers: readonly Follower[]) {
    for (const { feed, browser, as } of followers) {
      const url = `/api/rooms/${room.id}?as=${as}`
      const read = (await browser.send('GET', url)).body as RoomState
      const seen = () => feed.state()!
      await feed.until(() => seen().seq >= read.seq)
      expect(seen().tables, as).toEqual(read.tables)
      expect(seen().room, as).toEqual(read.room)
    }
  }

  async function classOfThree() {
    const room = await openWorkshop(server, { rounds: 8 })
    const phones: Phone[] = []
    for (const name of ['Kestrel', 'Heron', 'Plover', 'Kestrel', 'Heron'])
      phones.push(await room.join(name))
    const screen = server.browser()
    await screen.open()
    const joining = { code: room.code, seatId: freshId(), tableId: null, tableName: '', name: '' }
    await screen.send('POST', '/api/rooms/join', { ...joining, as: 'screen' })
    const followers = [
      await followAs(room, room.lead, 'lead'),
      await followAs(room, screen, 'screen'),
      ...(await Promise.all(phones.map(({ browser }) => followAs(room, browser, 'table')))),
    ]
    return { room, phones, followers }
  }

  it('is what a reader finds after hundreds of moves of every kind, many at once', async () => {
    const { room, phones, followers } = await classOfThree()
    const chance = chances(20_260_302)
    const outcomes = new Set<string>()
    for (let turn = 0; turn < 120; turn++) {
      server.clock.now = new Date(server.clock.now.getTime() + chance.below(3) * 500)
      const state = await room.state()
      await Promise.all(
        Array.from({ length: 1 + chance.below(4) }, async () => {
          const phone = chance.of(phones)
          const table = state.tables.find(({ id }) => id === phone.tableId)!
          const [browser, as, move] = chance.yes(0.25)
            ? ([room.lead, '?as=lead', leadMove(chance, state)] as const)
            : ([phone.browser, '?as=table', phoneMove(chance, table)] as const)
          const results = await makeMoves(browser, room.id, [move], as)
          outcomes.add(`${move.kind} ${results[0]!.outcome}`)
        }),
      )
      if (turn % 4 === 3) await mustShowWhatIsThere(room, followers)
    }
    const done = [...outcomes].filter((one) => one.endsWith('done')).map((one) => one.split(' ')[0])
    expect(done.sort()).toEqual(EVERY_KIND.toSorted())
    const ids = followers[0]!.feed.events.map(({ id }) => id)
    expect(ids).toEqual([...new Set(ids)].sort((a, b) => a - b))
    for (const { feed } of followers) feed.close()
  }, 120_000)

  it('is not read again for a move of a table', async () => {
    const { room, phones, followers } = await classOfThree()
    const { feed } = followers[1]!
    const before = feed.events.length
    for (const move of wholeRound(1)) await phones[0]!.move(move)
    await mustShowWhatIsThere(room, followers)
    const parts = feed.events.slice(before).map(({ data }) => JSON.parse(data) as object)
    expect(parts).toHaveLength(5)
    for (const part of parts) {
      expect(Object.keys(part)).toEqual(['seq', 'now', 'tables'])
      expect((part as RoomState).tables.map(({ id }) => id)).toEqual([phones[0]!.tableId])
    }
    for (const one of followers) one.feed.close()
  })

  it('takes in phones and tables that come, go and come back', async () => {
    const { room, phones, followers } = await classOfThree()
    const late = await room.join('Wren', 'Asha')
    await mustShowWhatIsThere(room, followers)
    await late.move({ kind: 'lock', round: 1, ...aPlan() })
    const own = await followAs(room, late.browser, 'table')
    await room.leads({ kind: 'remove-seat', seatId: late.seatId })
    await own.feed.ended
    await mustShowWhatIsThere(room, followers)
    await room.leads(
      { kind: 'restore-seat', seatId: late.seatId },
      { kind: 'remove-table', ofTableId: late.tableId },
    )
    await mustShowWhatIsThere(room, followers)
    // A phone whose table has not begun may change it; its feed ends, and it comes back.
    const mover = phones[4]!
    const moving = { code: room.code, seatId: mover.seatId, as: 'table', tableName: '', name: '' }
    const { tableId } = phones[0]!
    const { joinNumber } = (await room.state()).tables.find(({ id }) => id === tableId)!
    const asked = { ...moving, tableId, tableNumber: String(joinNumber) }
    await mover.browser.send('POST', '/api/rooms/join', asked)
    await followers.at(-1)!.feed.ended
    const others = [...followers.slice(0, -1), await followAs(room, mover.browser, 'table')]
    await mustShowWhatIsThere(room, others)
    for (const { feed } of others) feed.close()
  })

  it('takes in what changed by other ways while the workshop was closed', async () => {
    const { room, phones, followers } = await classOfThree()
    const [lock, start, stop] = wholeRound(1)
    await phones[0]!.move(lock!, start!, stop!)
    await room.leads({ kind: 'close' })
    await mustShowWhatIsThere(room, followers)
    const before = (await phones[0]!.table()).rounds[0]!
    const url = `/api/cycles/${before.cycleId}`
    const { body } = await room.lead.send('GET', url)
    const { version } = body.cycle as { version: number }
    const surprises = 'The card was upside down.'
    const saved = await room.lead.send('PATCH', `${url}/do`, { version, surprises })
    expect(saved.status).toBe(200)
    await room.leads({ kind: 'reopen' })
    await mustShowWhatIsThere(room, followers)
    expect((await phones[0]!.table()).rounds[0]!.surprises).toBe(surprises)
    for (const { feed } of followers) feed.close()
  })
})

const EVERY_KIND: readonly Sent['kind'][] = [
  'plan',
  'lock',
  'start',
  'stop',
  'keep',
  'void',
  'unvoid',
  'inspect',
  'count-right',
  'decide',
  'seat',
  'confidence',
  'moment',
  'round',
  'countdown',
  'nudge',
  'notes',
  'rename-table',
  'excuse',
  'unexcuse',
]

/** Something that a phone may try, whether or not it is the time for it. */
function phoneMove(chance: Chances, table: TableState): Sent {
  const current = table.rounds.at(-1)
  const round = current?.number ?? 1
  const trial = current?.trials.at(-1)
  const trialId = trial?.id ?? freshId()
  const kind = chance.of([
    'plan',
    'lock',
    'start',
    'stop',
    'stop',
    'keep',
    'void',
    'unvoid',
    'inspect',
    'decide',
    'decide',
    'seat',
    'confidence',
  ] as const)
  const ageMs = chance.below(4) * 1000
  switch (kind) {
    case 'plan':
    case 'lock':
      return { kind, round, ...aPlan({ strategy: `Way ${chance.below(9)}.` }), ageMs }
    case 'start':
      return { kind, round, trialId: freshId(), ageMs }
    case 'stop': {
      const seconds = 30 + chance.below(40)
      return { kind, round, trialId, readingId: freshId(), seconds, how: 'steady-clock', note: '' }
    }
    case 'keep':
      return { kind, trialId, readingId: trial?.readings[0]?.id ?? freshId(), why: 'It was sure.' }
    case 'void':
      return { kind, trialId, reason: 'The tray fell.' }
    case 'unvoid':
      return { kind, trialId }
    case 'inspect': {
      const marks = Array.from({ length: ITEMS }, () => chance.of([0, 1, 1, 1, null] as const))
      return { kind, trialId, inspectionId: freshId(), marks }
    }
    case 'decide':
      return { ...(wholeRound(round)[4] as Extract<Sent, { kind: 'decide' }>), ageMs: 0 }
    case 'seat':
      return { kind, name: `Seat ${chance.below(5)}`, roles: [chance.of(['timer', 'builder'])] }
    case 'confidence':
      return { kind, when: chance.of(['before', 'after']), value: chance.below(11) }
  }
}

/** Something that the facilitator may try. */
function leadMove(chance: Chances, state: RoomState): Sent {
  const table = chance.of(state.tables)
  const ofTableId = table.id
  const trialId = table.rounds.at(-1)?.trials.at(-1)?.id ?? freshId()
  const right = chance.below(ITEMS + 1)
  const round = 1 + chance.below(3)
  return chance.of<() => Sent>([
    () => ({ kind: 'moment', moment: chance.of(['predict', 'running', 'compare']) }),
    () => ({ kind: 'round', round }),
    () => ({ kind: 'countdown', of: 'plan', seconds: chance.below(100) }),
    () => ({ kind: 'nudge', toTableId: chance.yes(0.5) ? null : ofTableId, text: 'Nearly time.' }),
    () => ({ kind: 'count-right', trialId, inspectionId: freshId(), right }),
    () => ({ kind: 'notes', text: `Note ${chance.below(100)}.` }),
    () => ({ kind: 'rename-table', ofTableId, name: `Bird ${chance.below(1000)}` }),
    () => ({ kind: 'excuse', ofTableId, round }),
    () => ({ kind: 'unexcuse', ofTableId, round }),
  ])()
}

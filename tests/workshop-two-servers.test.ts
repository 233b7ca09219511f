import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { Id } from '../src/domain/record.ts'
import type { MoveResult } from '../src/domain/workshop/moves.ts'
import { type RoomState, withChange } from '../src/domain/workshop/room-state.ts'
import { openDatabase, type Place } from '../src/storage/database.ts'
import { verify } from '../src/storage/verify.ts'
import { type FeedReader, readFeed } from './support/feed-reader.ts'
import { startPostgres, type TestPostgres } from './support/postgres.ts'
import { type ServerProcess, startServer } from './support/server-process.ts'
import { testFolder } from './support/side-by-side.ts'
import { freshId, KIT, SETTINGS, type Sent, wholeRound } from './support/workshop-client.ts'

const ROUNDS = 3
const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms))

/** A browser that goes to another server when its own does not answer, and sends again what it must. */
class Device {
  cookie = ''
  csrf = ''
  readonly addresses: string[]
  retries = 0
  constructor(addresses: readonly string[]) {
    this.addresses = [...addresses]
  }
  get address(): string {
    return this.addresses[0]!
  }
  async once<T>(method: string, path: string, body?: unknown): Promise<T> {
    const response = await fetch(this.address + path, {
      method,
      signal: AbortSignal.timeout(10_000),
      headers: {
        cookie: this.cookie,
        'x-pawl-csrf': this.csrf,
        ...(body === undefined ? {} : { 'content-type': 'application/json' }),
      },
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
    })
    const reply = (await response.json()) as T & { csrf?: string }
    this.cookie = response.headers.get('set-cookie')?.split(';')[0] ?? this.cookie
    if (typeof reply.csrf === 'string') this.csrf = reply.csrf
    if (!response.ok) throw new Error(`${response.status} ${JSON.stringify(reply)}`)
    return reply
  }
  /** Sends until it is answered, at whichever server. */
  async send<T>(method: string, path: string, body?: unknown): Promise<T> {
    for (;;) {
      try {
        return await this.once<T>(method, path, body)
      } catch (error) {
        if (/^\d{3} /.test((error as Error).message)) throw error
        this.retries++
        this.addresses.push(this.addresses.shift()!)
        await pause(50)
      }
    }
  }
}

/** What a screen shows, kept up by a feed that comes back, at whichever server. */
class Follower {
  state: RoomState | null = null
  readonly applied: number[] = []
  reconnects = -1
  private readonly device: Device
  private readonly roomId: Id
  private feed: FeedReader | null = null
  private closed = false
  constructor(device: Device, roomId: Id) {
    this.device = device
    this.roomId = roomId
  }
  async run(): Promise<void> {
    while (!this.closed) {
      this.reconnects++
      const after = this.state?.seq
      try {
        const { address, cookie } = this.device
        this.feed = await readFeed(
          address,
          this.roomId,
          cookie,
          after === undefined ? {} : { after },
        )
        let taken = 0
        const take = () => {
          for (const { event, data, id } of this.feed!.events.slice(taken)) {
            taken++
            if (event === 'state') this.state = JSON.parse(data) as RoomState
            else if (this.state !== null) this.state = withChange(this.state, JSON.parse(data))
            this.applied.push(id)
          }
        }
        const timer = setInterval(take, 10)
        await this.feed.ended
        clearInterval(timer)
        take()
      } catch {
        // The server is gone.
      }
      if (this.closed) return
      this.device.addresses.push(this.device.addresses.shift()!)
      await pause(50)
    }
  }
  close(): void {
    this.closed = true
    this.feed?.close()
  }
}

describe('two servers on one PostgreSQL', () => {
  let postgres: TestPostgres
  let place: Place
  const servers: ServerProcess[] = []
  beforeAll(async () => {
    postgres = await startPostgres()
    place = { dataDir: testFolder(), databaseUrl: await postgres.database() }
    servers.push(await startServer(place))
    servers.push(await startServer(place))
  }, 90_000)
  afterAll(async () => {
    for (const server of servers) await server.kill()
    await postgres.stop()
  }, 60_000)

  it('serve one workshop; one is killed mid-round, and nothing is lost or doubled', async () => {
    const [first, second] = servers.map(({ address }) => address) as [string, string]
    const lead = new Device([second, first])
    await lead.send('GET', '/api/session')
    await lead.send('POST', '/api/owner', {
      name: 'R. Marsh',
      email: 'r@saltmarsh.example',
      password: 'four unrelated words',
    })
    const unitId = freshId()
    await lead.send('POST', '/api/units', { id: unitId, name: 'Training room', parentId: null })
    const roomId = freshId()
    const opened = await lead.send<RoomState>('POST', '/api/rooms', {
      id: roomId,
      name: 'Morning class',
      unitId,
      kit: KIT,
      settings: { ...SETTINGS, rounds: ROUNDS },
    })
    const { code } = opened.room

    const names = ['Kestrel', 'Heron', 'Plover', 'Avocet', 'Curlew', 'Dunlin']
    const phones = await Promise.all(
      names.map(async (tableName, i) => {
        const device = new Device(i % 2 === 0 ? [first, second] : [second, first])
        await device.send('GET', '/api/session')
        await device.send('POST', '/api/rooms/join', {
          code,
          seatId: freshId(),
          as: 'table',
          tableId: null,
          tableName,
          name: '',
        })
        return device
      }),
    )
    const followers = [lead, ...phones].map((device) => {
      const own = new Device(device.addresses)
      own.cookie = device.cookie
      return new Follower(own, roomId)
    })
    const following = followers.map((follower) => follower.run())

    let sent = 0
    let killed: Promise<void> | undefined
    const results: MoveResult[] = []
    const play = async (device: Device) => {
      for (let round = 1; round <= ROUNDS; round++)
        for (const move of wholeRound(round, 50 + round) as Sent[]) {
          const moves = [{ ageMs: 0, ...move, id: freshId() }]
          const path = `/api/rooms/${roomId}/moves`
          const answer = await device.send<{ results: MoveResult[] }>('POST', path, { moves })
          results.push(...answer.results)
          sent++
          // In the middle of a round, with moves of others under way.
          if (sent === 40) killed = servers[0]!.kill()
        }
    }
    await Promise.all(phones.map(play))
    await killed
    expect(sent).toBe(names.length * ROUNDS * 5)
    expect(results.filter(({ outcome }) => outcome === 'refused')).toEqual([])
    expect(phones.some(({ retries }) => retries > 0)).toBe(true)

    const path = `/api/rooms/${roomId}`
    const whole = await lead.send<RoomState>('GET', path)
    for (const table of whole.tables) {
      expect(table.rounds.map(({ stage }) => stage)).toEqual(['done', 'done', 'done'])
      expect(table.rounds.map(({ seconds }) => seconds)).toEqual([51, 52, 53])
      for (const round of table.rounds) {
        expect(round.trials).toHaveLength(1)
        expect(round.trials[0]!.readings).toHaveLength(1)
        expect(round.trials[0]!.inspections).toHaveLength(1)
        expect(round.predictions?.time?.expected).toBe(60)
        expect(round.lockedAt! <= round.trials[0]!.startedAt).toBe(true)
      }
    }
    expect(whole.tables.map(({ name }) => name).sort()).toEqual([...names].sort())

    const end = Date.now() + 10_000
    while (followers.some(({ state }) => (state?.seq ?? 0) < whole.seq) && Date.now() < end)
      await pause(50)
    for (const [i, follower] of followers.entries()) {
      const asked = i === 0 ? whole : await phones[i - 1]!.send<RoomState>('GET', path)
      expect(follower.state?.tables).toEqual(asked.tables)
      expect(follower.applied).toEqual([...new Set(follower.applied)].sort((a, b) => a - b))
      follower.close()
    }
    expect(followers.some(({ reconnects }) => reconnects > 0)).toBe(true)
    expect(followers.some(({ reconnects }) => reconnects === 0)).toBe(true)
    await Promise.all(following)

    const db = await openDatabase(place)
    try {
      const moves = await db.read.selectFrom('roomMove').select('id').execute()
      expect(moves).toHaveLength(sent)
      expect((await db.snapshot(verify)).findings).toEqual([])
    } finally {
      await db.close()
    }
  }, 120_000)

  it('tell each other within moments, and again after the database has dropped their connections', async () => {
    servers[0] = await startServer(place)
    const [first, second] = servers.map(({ address }) => address) as [string, string]
    const lead = new Device([first])
    await lead.send('GET', '/api/session')
    await lead.send('POST', '/api/session', {
      email: 'r@saltmarsh.example',
      password: 'four unrelated words',
    })
    const { rooms } = await lead.send<{ rooms: { id: Id }[] }>('GET', '/api/rooms')
    const roomId = rooms[0]!.id
    const feed = await readFeed(second, roomId, lead.cookie)
    await feed.until((events) => events.length === 1)
    const note = async (text: string, within: number) => {
      const before = feed.events.length
      const began = Date.now()
      const move = { id: freshId(), ageMs: 0, kind: 'notes', text }
      await lead.send('POST', `/api/rooms/${roomId}/moves`, { moves: [move] })
      await feed.until((events) => events.length > before, within)
      expect(feed.state()?.room.notes).toBe(text)
      return Date.now() - began
    }
    await note('First.', 2_500)
    const { default: pg } = await import('pg')
    const client = new pg.Client({ connectionString: place.databaseUrl! })
    await client.connect()
    await client.query(
      `SELECT pg_terminate_backend(pid) FROM pg_stat_activity
       WHERE datname = current_database() AND application_name = 'pawl'`,
    )
    await client.end()
    await pause(1_500)
    await note('Second.', 10_000)
    await note('Third.', 2_500)
    feed.close()
  }, 60_000)
})

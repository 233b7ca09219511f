import { afterAll, beforeAll, expect, it } from 'vitest'
import type { RouteName } from '../src/api/contract.ts'
import type { Role } from '../src/domain/record.ts'
import type { RoomState } from '../src/domain/workshop/room-state.ts'
import { ROUTE_ROLES } from '../src/server/app.ts'
import { onBothEngines } from './support/engines.ts'
import { type Browser, startTestServer, type TestServer } from './support/server-client.ts'
import {
  aPlan,
  freshId,
  openWorkshop,
  type Phone,
  type Workshop,
} from './support/workshop-client.ts'

/** Words and numbers that stand nowhere but in Kestrel's prediction. */
const SECRET = 'Quillfeather'
const plan = aPlan({
  strategy: `${SECRET} lays out, two watch.`,
  why: `${SECRET} did it before.`,
  time: { expected: 41.7031, low: 37.9172, high: 58.2213 },
})
const leaks = (answer: unknown) =>
  /Quillfeather|41\.7031|37\.9172|58\.2213/.test(JSON.stringify(answer))

onBothEngines('what a table predicts', ({ place }) => {
  let server: TestServer
  let room: Workshop
  let kestrel: Phone
  let heron: Phone
  let others: [name: string, browser: Browser][]
  let ids: string[]
  beforeAll(async () => {
    server = await startTestServer(await place())
    room = await openWorkshop(server)
    kestrel = await room.join('Kestrel', 'Ana')
    heron = await room.join('Heron')
    await room.leads({ kind: 'round', round: 1 })
    await kestrel.move({ kind: 'lock', round: 1, ...plan })
    await heron.move({ kind: 'plan', round: 1, ...aPlan() })
    const screen = server.browser()
    await screen.open()
    const joined = await screen.send('POST', '/api/rooms/join', {
      code: room.code,
      seatId: freshId(),
      as: 'screen',
      tableId: null,
      tableName: '',
      name: '',
    })
    expect(leaks(joined.body)).toBe(false)
    const stranger = server.browser()
    await stranger.open()
    const people = await Promise.all(
      (['viewer', 'member'] as Role[]).map(
        async (role): Promise<[string, Browser]> => [role, await server.as(role)],
      ),
    )
    others = [['seat', heron.browser], ['screen', screen], ['stranger', stranger], ...people]
    const own = await kestrel.table()
    const read = server.db.read
    const rows = async (table: 'prediction' | 'measure' | 'cycle' | 'roomMove') =>
      (await read.selectFrom(table).select('id').execute()).map(({ id }) => id)
    ids = [
      room.id,
      room.unitId,
      own.id,
      own.projectId,
      ...own.rounds.map(({ cycleId }) => cycleId),
      ...(await rows('prediction')),
      ...(await rows('measure')),
    ]
  }, 60_000)
  afterAll(() => server.close())

  /** Every route of the server, asked with every id that could lead to the prediction. */
  const reads = (Object.keys(ROUTE_ROLES) as RouteName[]).filter((name) => name.startsWith('GET'))
  it.each(reads)('cannot be read by another table or anybody below coach: %s', async (name) => {
    const path = name.slice('GET '.length)
    const urls = path.includes(':id') ? ids.map((id) => path.replace(':id', id)) : [path]
    for (const [who, browser] of others)
      for (const url of urls)
        for (const as of url.includes('/rooms/')
          ? ['', '?as=lead', '?as=table', '?as=screen']
          : ['']) {
          const { body } = await browser.send('GET', url + as)
          expect(leaks(body), `${who} ${url}${as}`).toBe(false)
        }
  })

  it('is not had by sitting down at the table: a further phone needs its number', async () => {
    const number = (await kestrel.table()).joinNumber!
    expect(String(number)).toMatch(/^[1-9]\d\d$/)
    for (const [, browser] of others.slice(0, 2)) {
      const seen = (await browser.send('GET', `/api/rooms/${room.id}`)).body as RoomState
      expect(seen.tables.find(({ id }) => id === kestrel.tableId)!.joinNumber).toBeNull()
    }
    const thief = server.browser()
    await thief.open()
    const join = async (own: object) =>
      thief.send('POST', '/api/rooms/join', {
        ...{ code: room.code, seatId: freshId(), as: 'table', name: '' },
        ...{ tableId: kestrel.tableId, tableName: '', ...own },
      })
    const wrong = number === 999 ? '100' : String(number + 1)
    for (const own of [{}, { tableId: null, tableName: 'kestrel' }, { tableNumber: wrong }]) {
      const { status, body } = await join(own)
      expect([status, body.code]).toEqual([403, 'room.table_number'])
    }
    for (let i = 1; i < 10; i++) await join({ tableNumber: wrong })
    expect((await join({ tableNumber: String(number) })).status).toBe(429)
    const found = (await thief.send('POST', '/api/rooms/find', { code: room.code })).body
    expect(found.tables[0]).toMatchObject({ name: 'Kestrel', needsNumber: true })
    const own = await kestrel.browser.send('POST', '/api/rooms/find', { code: room.code })
    expect(own.body.tables[0]).toMatchObject({ needsNumber: false })
  })

  it('is not on a room screen that is open in the facilitator’s own browser', async () => {
    await room.lead.send('POST', '/api/rooms/join', {
      code: room.code,
      seatId: freshId(),
      as: 'screen',
      tableId: null,
      tableName: '',
      name: '',
    })
    const url = `/api/rooms/${room.id}`
    expect(leaks((await room.lead.send('GET', `${url}?as=screen`)).body)).toBe(false)
    expect(leaks((await room.lead.send('GET', `${url}?as=lead`)).body)).toBe(true)
  })

  it('is said to be withheld, by a reason, where somebody signed in asks for the record', async () => {
    const { projectId, rounds } = await kestrel.table()
    const { measureId } = await server.db.read
      .selectFrom('prediction')
      .select('measureId')
      .where('cycleId', '=', rounds[0]!.cycleId)
      .executeTakeFirstOrThrow()
    for (const url of [
      `/api/projects/${projectId}`,
      `/api/cycles/${rounds[0]!.cycleId}`,
      `/api/measures/${measureId}`,
      `/api/calibration/projects/${projectId}`,
      `/api/calibration/people/${kestrel.tableId}`,
    ])
      for (const role of ['viewer', 'member'] as const) {
        const answer = await (await server.as(role)).send('GET', url)
        expect([answer.status, answer.body.code], `${role} ${url}`).toEqual([
          403,
          'room.still_open',
        ])
      }
  })

  it('is left out of lists, and so are the tables as people', async () => {
    const member = await server.as('member')
    const units = (await member.send('GET', '/api/units')).body
    expect(units.projects).toEqual([])
    const { people } = (await member.send('GET', '/api/people')).body
    expect(people.map(({ name }: { name: string }) => name)).not.toContain('Kestrel')
    expect((await member.send('GET', '/api/today')).body.items).toEqual([])
  })

  it('cannot be changed after the lock: by its own phone, another table, a coach or an owner', async () => {
    const { rounds } = await kestrel.table()
    const { cycleId } = rounds[0]!
    const before = await predictions(cycleId)
    expect(before).toHaveLength(2)
    const other = { ...plan, time: { expected: 90, low: 80, high: 99 }, strategy: 'Another.' }
    const own = await kestrel.try(
      { kind: 'plan', round: 1, ...other },
      { kind: 'lock', round: 1, ...other },
    )
    expect(own.map(({ outcome, code }) => [outcome, code])).toEqual([
      ['refused', 'cycle.locked'],
      ['refused', 'cycle.locked'],
    ])
    const foreign = await heron.try({
      kind: 'plan',
      round: 1,
      ...other,
      tableId: kestrel.tableId,
    })
    expect(foreign[0]).toMatchObject({ outcome: 'refused', code: 'room.not_yours' })
    const people = await Promise.all(
      (['member', 'coach', 'owner'] as Role[]).map((role) => server.as(role)),
    )
    for (const browser of people)
      for (const prediction of before) {
        const { id, measureId } = prediction
        const url = `/api/cycles/${cycleId}/predictions/${id}`
        const fields = { measureId, ...other.time, confidence: 0.5, why: 'Now I know.' }
        for (const version of [null, prediction.version]) {
          const put = await browser.send('PUT', url, { ...fields, version })
          expect(put.status).toBeGreaterThanOrEqual(400)
        }
        const gone = await browser.send('DELETE', url, { version: prediction.version })
        expect(gone.status).toBeGreaterThanOrEqual(400)
        const planned = await browser.send('PATCH', `/api/cycles/${cycleId}/plan`, {
          version: 2,
          change: 'Another.',
        })
        expect(planned.status).toBeGreaterThanOrEqual(400)
      }
    expect(await predictions(cycleId)).toEqual(before)
    const { addenda } = (await room.lead.send('GET', `/api/cycles/${cycleId}`)).body
    // What the own phone wrote and locked after it is kept beside it, in words.
    expect(addenda).toHaveLength(2)
    for (const { text } of addenda) expect(text).toContain('90 s (80 s to 99 s)')
  })

  it('is not changed by the ordinary routes while the workshop is open, not even by a coach', async () => {
    const { rounds } = await heron.table()
    const answer = await room.lead.send('PATCH', `/api/cycles/${rounds[0]!.cycleId}/plan`, {
      version: 1,
      change: 'From outside.',
    })
    expect([answer.status, answer.body.code]).toEqual([403, 'room.still_open'])
  })

  it('is for the facilitator to see, for everybody once all have locked, and for all afterwards', async () => {
    expect(leaks(await room.state())).toBe(true)
    expect(leaks(await heron.state())).toBe(false)
    await heron.move({ kind: 'lock', round: 1, ...aPlan() })
    expect(leaks(await heron.state())).toBe(true)
    await room.leads({ kind: 'close' })
    const viewer = await server.as('viewer')
    const { rounds } = await kestrel.table()
    const { status, body } = await viewer.send('GET', `/api/cycles/${rounds[0]!.cycleId}`)
    expect(status).toBe(200)
    expect(leaks(body)).toBe(true)
    expect(body.people.map(({ name }: { name: string }) => name)).toContain('Kestrel')
    expect(body.people.map(({ name }: { name: string }) => name)).not.toContain('Heron')
  })

  const predictions = (cycleId: string) =>
    server.db.read
      .selectFrom('prediction')
      .selectAll()
      .where('cycleId', '=', cycleId)
      .orderBy('id')
      .execute()
})

import { rmSync } from 'node:fs'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { backUp } from '../src/storage/backup.ts'
import { openDatabase, type Place } from '../src/storage/database.ts'
import { restore } from '../src/storage/restore.ts'
import { TABLE_NAMES } from '../src/storage/tables.ts'
import { verify } from '../src/storage/verify.ts'
import { onBothEngines } from './support/engines.ts'
import { rawSql } from './support/raw-sql.ts'
import { startTestServer, type TestServer } from './support/server-client.ts'
import { testFolder } from './support/side-by-side.ts'
import {
  aPlan,
  freshId,
  KIT,
  mustMove,
  openWorkshop,
  SETTINGS,
  wholeRound,
} from './support/workshop-client.ts'

onBothEngines('rooms and kits', ({ place }) => {
  let server: TestServer
  let where: Place
  beforeAll(async () => {
    where = await place()
    server = await startTestServer(where)
  }, 60_000)
  afterAll(() => server.close())

  it('keep kits that somebody wrote, and refuse one that cannot be used', async () => {
    const coach = await server.as('coach')
    const id = freshId()
    const made = await coach.send('POST', '/api/kits', { id, kit: KIT })
    expect(made.body).toEqual({ id, kit: KIT, version: 1 })
    const url = `/api/kits/${id}`
    const changed = await coach.send('PATCH', url, {
      kit: { ...KIT, name: 'Tray two' },
      version: 1,
    })
    expect(changed.body).toMatchObject({ kit: { name: 'Tray two' }, version: 2 })
    const stale = await coach.send('PATCH', url, { kit: KIT, version: 1 })
    expect(stale.body.code).toBe('record.stale')
    const bad = await coach.send('PATCH', url, { kit: { ...KIT, name: ' ' }, version: 2 })
    expect([bad.status, bad.body.code]).toEqual([422, 'kit.not_ready'])
    expect(bad.body.details.issues[0].field).toBe('name')
    const viewer = await server.as('viewer')
    expect((await viewer.send('GET', '/api/kits')).body.kits).toHaveLength(1)
    expect((await coach.send('DELETE', url, { version: 2 })).body).toEqual({ removed: 1 })
    expect((await viewer.send('GET', '/api/kits')).body.kits).toEqual([])
  })

  it('are listed with what has happened in them', async () => {
    const room = await openWorkshop(server)
    const phone = await room.join('Kestrel')
    await room.join('Heron')
    await phone.move(...wholeRound(1), ...wholeRound(2))
    const viewer = await server.as('viewer')
    const { rooms } = (await viewer.send('GET', '/api/rooms')).body
    expect(rooms[0]).toMatchObject({
      id: room.id,
      code: room.code,
      unitName: 'Training room',
      facilitatorName: expect.stringMatching(/^coach/),
      kitName: KIT.name,
      tables: 2,
      roundsDone: 2,
      closedAt: null,
    })
  })

  it('can be renamed, and given another kit until a round has begun', async () => {
    const room = await openWorkshop(server)
    const phone = await room.join('Kestrel')
    const url = `/api/rooms/${room.id}`
    const kit = { ...KIT, name: 'Another tray', clockStarts: 'The bell rings.' }
    const settings = { ...SETTINGS, rounds: 2 }
    const changed = await room.lead.send('PATCH', url, { name: 'Second class', kit, settings })
    expect(changed.body.room).toMatchObject({ name: 'Second class', kit, settings })
    const { projectId } = await phone.table()
    const project = await room.lead.send('GET', `/api/projects/${projectId}`)
    expect(project.body.project.name).toBe('Kestrel · Another tray')
    expect(JSON.stringify(project.body.measures)).toContain('The bell rings.')
    await phone.move({ kind: 'plan', round: 1, ...aPlan() })
    const late = await room.lead.send('PATCH', url, { kit: KIT })
    expect(late.body.code).toBe('room.begun')
    const prompts = { settings: { ...SETTINGS, prompts: [99] } }
    expect((await room.lead.send('PATCH', url, prompts)).body.code).toBe('room.prompts')
    expect((await room.lead.send('PATCH', url, { settings: SETTINGS })).status).toBe(200)
  })

  it('give a phone the same seat again, and keep it at its table once that has begun', async () => {
    const room = await openWorkshop(server)
    const phone = await room.join('Kestrel', 'Ana')
    const join = (own: object) =>
      phone.browser.send('POST', '/api/rooms/join', {
        code: ` ${room.code.slice(0, 3)}-${room.code.slice(3).toLowerCase()} `,
        seatId: freshId(),
        as: 'table',
        tableId: null,
        tableName: 'KESTREL',
        name: '',
        ...own,
      })
    const again = await join({})
    expect(again.body.viewer).toEqual({
      as: 'table',
      tableId: phone.tableId,
      seatId: phone.seatId,
    })
    const moved = await join({ tableName: 'Heron' })
    expect(moved.body.viewer.seatId).toBe(phone.seatId)
    expect(moved.body.tables.map((t: { seats: unknown[] }) => t.seats.length)).toEqual([0, 1])
    await phone.move({ kind: 'plan', round: 1, ...aPlan() })
    expect((await join({ tableName: 'Plover' })).body.code).toBe('room.seat_taken')
    expect((await join({ tableName: ' ' })).body.code).toBe('room.table_name')
    expect((await join({ tableId: freshId() })).body.code).toBe('record.not_found')
  })

  it('slow down wrong codes, but never a class that has the right one', async () => {
    const room = await openWorkshop(server)
    const guesser = server.browser()
    await guesser.open()
    const answers: number[] = []
    for (let i = 0; i < 60; i++) {
      const code = `${i % 2 === 0 ? '999999' : 'nonsense'}`
      const answer = await guesser.send('POST', '/api/rooms/find', { code })
      answers.push(answer.status)
      if (answer.status !== 429) continue
      expect(answer.body.code).toBe('room.too_many_tries')
      expect(Number(answer.headers['retry-after'])).toBeGreaterThan(0)
    }
    expect(answers.filter((status) => status === 404).length).toBe(40)
    expect(answers.at(-1)).toBe(429)
    // All of them behind the same address as the guesser.
    for (let i = 0; i < 60; i++) await room.join(`Table ${(i % 12) + 1}`)
    expect((await room.find()).tables).toHaveLength(12)
  }, 60_000)

  it('have room for so many tables', async () => {
    const room = await openWorkshop(server)
    for (let i = 1; i <= 24; i++)
      await room.leads({ kind: 'add-table', newTableId: freshId(), name: `Table ${i}` })
    await expect(room.join('One more')).rejects.toThrow('room.full')
    await room.join('Table 7')
  })

  it('keep readings, inspections and moves as they were, whoever asks the database', async () => {
    const raw = await rawSql(where)
    try {
      for (const [statement, message] of [
        [`UPDATE "reading" SET "seconds" = 1`, /timer read/],
        [`DELETE FROM "reading"`, /reading/],
        [`DELETE FROM "inspection"`, /inspection/],
        [`UPDATE "inspection" SET "seatId" = NULL`, /inspection/],
        [`UPDATE "roomMove" SET "at" = '2026-01-01T00:00:00.000Z'`, /move/],
        [`DELETE FROM "roomMove"`, /move/],
      ] as const)
        await expect(raw.run(statement), statement).rejects.toThrow(message)
    } finally {
      await raw.close()
    }
  })

  it('are in a backup, and come back whole', async () => {
    const folder = testFolder()
    try {
      const file = join(folder, 'copy.sqlite')
      const counts = await backUp(server.db, file)
      for (const table of ['room', 'roomTable', 'roomSeat', 'roomMove', 'reading', 'inspection'])
        expect(counts.get(table), table).toBeGreaterThan(0)
      const target = await place()
      await restore(file, target, false, '2026-03-02T12:00:00.000Z')
      const copy = await openDatabase(target)
      try {
        for (const table of TABLE_NAMES.filter((name) => name !== 'session')) {
          const rows = (db: typeof copy) =>
            db.read.selectFrom(table).selectAll().orderBy('id').execute()
          expect(await rows(copy), table).toEqual(await rows(server.db))
        }
        expect((await copy.snapshot(verify)).findings).toEqual([])
      } finally {
        await copy.close()
      }
    } finally {
      rmSync(folder, { recursive: true, force: true })
    }
  }, 60_000)

  it('go with the invented hospital where they were opened in it, and only then', async () => {
    const own = await openWorkshop(server)
    await (await own.join('Kestrel')).move(...wholeRound(1))
    const owner = await server.as('owner')
    expect((await owner.send('POST', '/api/example')).status).toBe(200)
    const units = (await owner.send('GET', '/api/units')).body.units
    const unitId = units.find((u: { origin: string }) => u.origin === 'example').id
    const id = freshId()
    const opened = await owner.send('POST', '/api/rooms', {
      id,
      name: 'Invented class',
      unitId,
      kit: KIT,
      settings: SETTINGS,
    })
    expect(opened.status).toBe(200)
    const tableId = freshId()
    const ofTable = wholeRound(1).map((move) => ({ ...move, tableId }))
    await mustMove(owner, id, { kind: 'add-table', newTableId: tableId, name: 'X' }, ...ofTable)
    expect((await owner.send('DELETE', `/api/units/${own.unitId}`, { version: 1 })).body.code).toBe(
      'unit.not_empty',
    )
    expect((await owner.send('DELETE', '/api/example')).status).toBe(200)
    expect((await owner.send('GET', `/api/rooms/${id}`)).body.code).toBe('record.not_found')
    expect((await own.state()).tables).toHaveLength(1)
    const left = await server.db.read.selectFrom('person').select('id').execute()
    expect(left.map((row) => row.id)).not.toContain(tableId)
    expect((await server.db.snapshot(verify)).findings).toEqual([])
  }, 60_000)
})

import { afterAll, beforeAll, expect, it } from 'vitest'
import type { CycleReply, ProjectReply } from '../src/api/contract.ts'
import type { RoomCalibrationReply } from '../src/api/workshop-contract.ts'
import type { RoomState } from '../src/domain/workshop/room-state.ts'
import { wrapUp } from '../src/domain/workshop/wrap-up.ts'
import { verify } from '../src/storage/verify.ts'
import { onBothEngines } from './support/engines.ts'
import { type Browser, startTestServer, type TestServer } from './support/server-client.ts'
import {
  freshId,
  openWorkshop,
  type Phone,
  type Workshop,
  wholeRound,
} from './support/workshop-client.ts'

onBothEngines('looking back on a workshop', ({ place }) => {
  let server: TestServer
  let viewer: Browser
  let member: Browser
  let room: Workshop
  let kestrel: Phone
  beforeAll(async () => {
    server = await startTestServer(await place())
    viewer = await server.as('viewer')
    member = await server.as('member')
    room = await openWorkshop(server)
    kestrel = await room.join('Kestrel', 'Ana')
    const wren = await room.join('Wren')
    for (const [i, seconds] of [100, 80, 70].entries()) {
      await kestrel.move(...wholeRound(i + 1, seconds))
      await wren.move(...wholeRound(i + 1, seconds + 10))
    }
    await kestrel.move(
      { kind: 'confidence', when: 'before', value: 3 },
      { kind: 'confidence', when: 'after', value: 7 },
    )
    await room.leads({ kind: 'notes', text: 'Wren argues' })
  }, 60_000)
  afterAll(() => server.close())

  const ward = (own: object = {}) => ({
    projectId: freshId(),
    cycleId: freshId(),
    unitId: room.unitId,
    name: 'Trays on bay 2',
    aim: 'Shorter set-up. Not said yet: how much.',
    question: 'Does a reader save time?',
    change: 'One nurse reads the list aloud for one tray.',
    tableId: kestrel.tableId,
    who: 'Ana',
    ...own,
  })

  it('is for coaches while the workshop is open', async () => {
    for (const path of [
      `rooms/${room.id}/wrap-up`,
      `calibration/workshops/${room.id}`,
      `calibration/tables/${kestrel.tableId}`,
    ]) {
      const refused = await member.send('GET', `/api/${path}`)
      expect([refused.status, refused.body.code], path).toEqual([403, 'room.still_open'])
      expect((await room.lead.send('GET', `/api/${path}`)).status, path).toBe(200)
    }
    const early = await member.send('POST', `/api/rooms/${room.id}/ward`, ward())
    expect(early.body.code).toBe('room.still_open')
  })

  it('holds the predictions of a table, and of all tables, against what came', async () => {
    const { body } = await room.lead.send('GET', `/api/calibration/tables/${kestrel.tableId}`)
    const own = body as RoomCalibrationReply
    expect(own.name).toBe('Kestrel, Morning class')
    // Three rounds of two measures; 50 to 75 s was predicted each time.
    const times = own.predictions.filter((p) => p.measureName === 'Time')
    expect(own.predictions).toHaveLength(6)
    expect(times.map((p) => [p.step, p.outcome, p.low, p.high])).toEqual([
      [1, 100, 50, 75],
      [2, 80, 50, 75],
      [3, 70, 50, 75],
    ])
    const all = await room.lead.send('GET', `/api/calibration/workshops/${room.id}`)
    expect(all.body.predictions).toHaveLength(12)
    expect(all.body).toMatchObject({ name: 'Morning class', hindsight: 0 })
    expect(all.body.pointsOnly).toBe(false)
  })

  it('says so where single numbers were predicted', async () => {
    const single = await openWorkshop(server, { predicts: 'single' })
    await single.join('Heron')
    const { body } = await single.lead.send('GET', `/api/calibration/workshops/${single.id}`)
    expect(body).toEqual({ name: 'Morning class', pointsOnly: true, predictions: [], hindsight: 0 })
  })

  it('is for everybody once it is closed, but for notes and single answers', async () => {
    await room.leads({ kind: 'close' })
    const { status, body } = await viewer.send('GET', `/api/rooms/${room.id}/wrap-up`)
    expect(status).toBe(200)
    const seen = body as RoomState
    expect(JSON.stringify(seen)).not.toContain('Wren argues')
    expect(seen.tables[0]!.seats[0]).toMatchObject({
      name: 'Ana',
      confidenceBefore: null,
      confidenceAfter: null,
    })
    expect(seen.tables[0]!.rounds[0]).toMatchObject({
      seconds: 100,
      learned: 'The card is read twice.',
    })
    expect(wrapUp(seen).learning.curves).toBe(2)
    const whole = await room.lead.send('GET', `/api/rooms/${room.id}/wrap-up`)
    expect(whole.body.tables[0].seats[0]).toMatchObject({ confidenceBefore: 3, confidenceAfter: 7 })
    const calibration = await viewer.send('GET', `/api/calibration/tables/${kestrel.tableId}`)
    expect(calibration.status).toBe(200)
    const stranger = server.browser()
    await stranger.open()
    expect((await stranger.send('GET', `/api/rooms/${room.id}/wrap-up`)).status).toBe(401)
  })

  it('opens a project on a ward, its first test in Plan with everything local asked afresh', async () => {
    const given = ward()
    const { status, body } = await member.send('POST', `/api/rooms/${room.id}/ward`, given)
    expect([status, body]).toEqual([200, { projectId: given.projectId, cycleId: given.cycleId }])
    const project = (await member.send('GET', `/api/projects/${given.projectId}`))
      .body as ProjectReply
    expect(project.project).toMatchObject({
      name: 'Trays on bay 2',
      aim: 'Shorter set-up. Not said yet: how much.',
      unitId: room.unitId,
    })
    expect(project.measures).toEqual([])
    const { cycle } = (await member.send('GET', `/api/cycles/${given.cycleId}`)).body as CycleReply
    expect(cycle).toMatchObject({
      number: 1,
      question: 'Does a reader save time?',
      who: 'Ana',
      lockedAt: null,
      determination: null,
      approval: null,
      couldHarm: null,
    })
    expect(cycle.change).toMatch(/^One nurse reads the list aloud for one tray\.\n\n/)
    expect(cycle.change).toContain(`/workshops/${room.id}/tables/${kestrel.tableId}`)
    // Its own words do not stop the plan from being edited.
    const edited = await member.send('PATCH', `/api/cycles/${given.cycleId}/plan`, {
      version: cycle.version,
      change: `${cycle.change} Twice.`,
    })
    expect(edited.status).toBe(200)
    // Locking asks for the local determination and approval.
    const locked = await member.send('POST', `/api/cycles/${given.cycleId}/lock`, {
      version: edited.body.version,
    })
    expect(locked.body.details.issues.map((i: { code: string }) => i.code)).toContain(
      'cycle.no_determination',
    )
    expect((await server.db.snapshot(verify)).findings).toEqual([])
  })

  it('refuses a table of another workshop, an unknown unit and a viewer, and leaves nothing behind', async () => {
    const other = await openWorkshop(server)
    const stray = (await other.join('Heron')).tableId
    for (const [browser, own, status] of [
      [member, { tableId: stray }, 404],
      [member, { tableId: freshId() }, 404],
      [member, { unitId: freshId() }, 404],
      [member, { name: '' }, 400],
      [viewer, {}, 403],
    ] as const) {
      const given = ward(own)
      expect((await browser.send('POST', `/api/rooms/${room.id}/ward`, given)).status).toBe(status)
      const left = await member.send('GET', `/api/projects/${given.projectId}`)
      expect(left.status).toBe(404)
    }
  })

  it('begins with a fresh question where it comes from no table', async () => {
    const given = ward({ tableId: null, who: '' })
    expect((await member.send('POST', `/api/rooms/${room.id}/ward`, given)).status).toBe(200)
    const { body } = await member.send('GET', `/api/cycles/${given.cycleId}`)
    expect(body.cycle.change).toContain(`/workshops/${room.id}/wrap-up`)
  })

  it('says what is not there', async () => {
    const id = freshId()
    for (const path of [
      `rooms/${id}/wrap-up`,
      `calibration/tables/${id}`,
      `calibration/workshops/${id}`,
    ])
      expect((await viewer.send('GET', `/api/${path}`)).status, path).toBe(404)
  })
})

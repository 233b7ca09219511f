import { afterAll, beforeAll, expect, it } from 'vitest'
import type { CycleReply } from '../src/api/contract.ts'
import type { RoomState } from '../src/domain/workshop/room-state.ts'
import { verify } from '../src/storage/verify.ts'
import { onBothEngines } from './support/engines.ts'
import { startTestServer, type TestServer } from './support/server-client.ts'
import {
  aPlan,
  freshId,
  ITEMS,
  KIT,
  makeMoves,
  mustMove,
  openWorkshop,
  type Phone,
  SETTINGS,
  type Sent,
  type Workshop,
  wholeRound,
} from './support/workshop-client.ts'

const outcomes = (results: readonly { outcome: string; code: string | null }[]) =>
  results.map(({ outcome, code }) => (outcome === 'refused' ? code : outcome))
const lock = (round: number): Sent => ({ kind: 'lock', round, ...aPlan() })
const stop = (trialId: string, seconds: number, own: object = {}): Sent => ({
  kind: 'stop',
  round: 1,
  trialId,
  readingId: freshId(),
  seconds,
  how: 'steady-clock',
  note: '',
  ...own,
})
const inspect = (trialId: string, wrong: number, own: object = {}): Sent => ({
  kind: 'inspect',
  trialId,
  inspectionId: freshId(),
  marks: KIT.checklist.map((_, i): 0 | 1 => (i < wrong ? 0 : 1)),
  ...own,
})

onBothEngines('the moves of a workshop', ({ place }) => {
  let server: TestServer
  beforeAll(async () => {
    server = await startTestServer(await place())
  }, 60_000)
  afterAll(() => server.close())

  const cycleOf = async (room: Workshop, phone: Phone, round = 1): Promise<CycleReply> => {
    const { rounds } = await phone.table()
    const { cycleId } = rounds.find(({ number }) => number === round)!
    return (await room.lead.send('GET', `/api/cycles/${cycleId}`)).body
  }

  it('take a second phone’s clock as a second reading, and its mean where both agree', async () => {
    const room = await openWorkshop(server)
    const one = await room.join('Kestrel', 'Ana')
    const two = await room.join('Kestrel', 'Bo')
    await one.move(lock(1))
    server.clock.now = new Date(server.clock.now.getTime() + 1_000)
    const [mine, theirs] = [freshId(), freshId()]
    await one.move({ kind: 'start', round: 1, trialId: mine })
    await two.move({ kind: 'start', round: 1, trialId: theirs })
    server.clock.now = new Date(server.clock.now.getTime() + 62_000)
    await two.move(stop(theirs, 61.4))
    await one.move(stop(mine, 62.6))
    const [round] = (await one.table()).rounds
    expect(round!.trials).toHaveLength(1)
    expect(round).toMatchObject({ seconds: 62, stage: 'inspect' })
    expect(round!.trials[0]!.readings.map(({ by }) => by).sort()).toEqual(['Ana', 'Bo'])
  })

  it('leave a time out on which two timers disagree, until the table says which to keep', async () => {
    const room = await openWorkshop(server)
    const one = await room.join('Kestrel', 'Ana')
    const two = await room.join('Kestrel', 'Bo')
    const trialId = freshId()
    await one.move(lock(1))
    const readingId = freshId()
    await one.move(stop(trialId, 62, { readingId }))
    await two.move(stop(freshId(), 70))
    let [round] = (await one.table()).rounds
    expect(round).toMatchObject({ seconds: null })
    expect(round!.trials[0]).toMatchObject({ unsettled: true, seconds: null })
    const time = async () =>
      (await cycleOf(room, one)).measures.find(({ measure }) => measure.name === 'Time')!
        .observations
    expect(await time()).toMatchObject([
      { leftOutReason: 'The two timers differ by 8.0 s; the table has not said which to keep.' },
    ])
    const early = await one.try(inspect(trialId, 0), {
      kind: 'keep',
      trialId,
      readingId,
      why: ' ',
    })
    expect(outcomes(early)).toEqual(['done', 'request.invalid'])
    await one.move({ kind: 'keep', trialId, readingId, why: 'Bo stopped late.' })
    ;[round] = (await one.table()).rounds
    expect(round!.seconds).toBe(62)
    expect(round!.trials[0]!.readings.map(({ kept }) => kept).sort()).toEqual([false, true])
    expect(await time()).toMatchObject([
      { value: 62, leftOutReason: null, note: expect.stringContaining('Bo stopped late.') },
    ])
  })

  it('score with two inspectors: right where both say so; looking again replaces one’s own', async () => {
    const room = await openWorkshop(server)
    const one = await room.join('Kestrel')
    const two = await room.join('Kestrel')
    const trialId = freshId()
    await one.move(lock(1), stop(trialId, 62), inspect(trialId, 0))
    expect((await one.table()).rounds[0]).toMatchObject({ right: ITEMS, inspected: ITEMS })
    await two.move(inspect(trialId, 3))
    expect((await one.table()).rounds[0]).toMatchObject({ right: ITEMS - 3 })
    await two.move(inspect(trialId, 1))
    const [round] = (await one.table()).rounds
    expect(round).toMatchObject({ right: ITEMS - 1, score: expect.any(Number) })
    expect(round!.trials[0]!.inspections).toHaveLength(2)
    const short = await one.try(inspect(trialId, 0, { marks: [1, 1] }))
    expect(outcomes(short)).toEqual(['room.marks_length'])
  })

  it('keep a bare count of a paper sheet as no more than a count', async () => {
    const room = await openWorkshop(server)
    const phone = await room.join('Kestrel')
    const trialId = freshId()
    await phone.move(lock(1), stop(trialId, 62, { how: 'paper' }))
    const count = (right: number): Sent => ({
      kind: 'count-right',
      trialId,
      inspectionId: freshId(),
      right,
      tableId: phone.tableId,
    })
    expect(outcomes(await phone.try({ ...count(4) }))).toEqual(['room.not_yours'])
    const tooMany = await makeMoves(room.lead, room.id, [count(ITEMS + 1)])
    expect(outcomes(tooMany)).toEqual(['room.right_count'])
    await room.leads(count(ITEMS - 2))
    const round = async () => (await phone.table()).rounds[0]!
    const quality = async () =>
      (await cycleOf(room, phone)).measures.find(({ measure }) => measure.name !== 'Time')!
        .observations
    const share = (ITEMS - 2) / ITEMS
    expect(await round()).toMatchObject({
      stage: 'debrief',
      right: ITEMS - 2,
      inspected: ITEMS,
      score: KIT.score.find(({ atLeast }) => share >= atLeast)!.score,
    })
    expect((await round()).trials[0]!.inspections).toMatchObject([
      { rightCount: ITEMS - 2, marks: KIT.checklist.map(() => null) },
    ])
    expect(await quality()).toMatchObject([
      {
        numerator: ITEMS - 2,
        denominator: ITEMS,
        note: 'Count only: which items were right is not recorded.',
      },
    ])
    // Somebody who marks every item knows more.
    await phone.move(inspect(trialId, 3))
    expect(await round()).toMatchObject({ right: ITEMS - 3 })
    expect(await quality()).toMatchObject([{ numerator: ITEMS - 3, note: '' }])
  })

  it('void a trial with a reason, and take that back', async () => {
    const room = await openWorkshop(server)
    const phone = await room.join('Kestrel')
    const trialId = freshId()
    await phone.move(lock(1), stop(trialId, 62), inspect(trialId, 2))
    await mustMove(room.lead, room.id, {
      kind: 'void',
      trialId,
      reason: 'The tray was dropped.',
      tableId: phone.tableId,
    })
    expect((await phone.table()).rounds[0]).toMatchObject({ stage: 'ready', seconds: null })
    const left = async () =>
      (await cycleOf(room, phone)).measures.flatMap(({ observations }) =>
        observations.map(({ leftOutReason }) => leftOutReason),
      )
    expect(await left()).toEqual(['The tray was dropped.', 'The tray was dropped.'])
    await phone.move({ kind: 'unvoid', trialId })
    expect((await phone.table()).rounds[0]).toMatchObject({ stage: 'debrief', seconds: 62 })
    expect(await left()).toEqual([null, null])
  })

  it('keep what a second phone locks or decides after the first, beside it', async () => {
    const room = await openWorkshop(server)
    const one = await room.join('Kestrel', 'Ana')
    const two = await room.join('Kestrel', 'Bo')
    await one.move(lock(1))
    expect(outcomes(await two.try(lock(1)))).toEqual(['done'])
    const late: Sent = { kind: 'lock', round: 1, ...aPlan({ why: 'Bo thinks so.' }), id: freshId() }
    expect(outcomes(await two.try(late))).toEqual(['cycle.locked'])
    expect(outcomes(await two.try(late))).toEqual(['already'])
    const [, , , , decide] = wholeRound(1)
    const trialId = freshId()
    await one.move(stop(trialId, 62), inspect(trialId, 0), decide!)
    const other = { ...decide!, reason: 'Bo decides too.' } as Sent
    expect(outcomes(await two.try(other))).toEqual(['cycle.closed'])
    const { addenda, cycle } = await cycleOf(room, one)
    expect(addenda.map(({ text }) => text)).toEqual([
      expect.stringContaining('Why: Bo thinks so.'),
      expect.stringContaining('Reason: Bo decides too.'),
    ])
    expect(cycle.lockedById).toBe(one.tableId)
  })

  it('count from when they were made, whatever the device’s clock, and say when a lock was late', async () => {
    const room = await openWorkshop(server)
    const phone = await room.join('Kestrel')
    const minute = 60_000
    const trialId = freshId()
    await phone.move(
      { ...lock(1), ageMs: 10 * minute },
      { kind: 'start', round: 1, trialId, ageMs: 9 * minute },
      stop(trialId, 62, { ageMs: 9 * minute - 62_000 }),
    )
    const { cycle, trials, addenda } = await cycleOf(room, phone)
    const now = server.clock.now.getTime()
    expect(cycle.lockedAt).toBe(new Date(now - 10 * minute).toISOString())
    expect(trials[0]!.at).toBe(new Date(now - 9 * minute).toISOString())
    expect(addenda.map(({ text }) => text)).toEqual([
      'Recorded offline; reached the server 10 min later.',
    ])
    expect((await phone.table()).rounds[0]!.seconds).toBe(62)
  })

  it('make the trial at the stop where the start never came, and never before the lock by a slow way', async () => {
    const room = await openWorkshop(server)
    const phone = await room.join('Kestrel')
    await phone.move(lock(1), stop(freshId(), 9))
    const { cycle, trials } = await cycleOf(room, phone)
    expect(trials[0]!.at).toBe(cycle.lockedAt)
  })

  it('refuse what is missing before the lock, in words, and keep the plan so far', async () => {
    const room = await openWorkshop(server)
    const phone = await room.join('Kestrel')
    const results = await phone.try(
      { kind: 'lock', round: 1, ...aPlan({ quality: null }) },
      { kind: 'lock', round: 1, ...aPlan({ why: ' ', strategy: '' }) },
      { kind: 'lock', round: 1, ...aPlan({ time: { expected: 60, low: 70, high: 80 } }) },
      { kind: 'start', round: 1, trialId: freshId() },
      { kind: 'lock', round: 5, ...aPlan() },
      { kind: 'lock', round: 1, ...aPlan({ confidence: 1.5 }) },
      { kind: 'plan', round: 1, ...aPlan({ quality: null }) },
    )
    expect(outcomes(results)).toEqual([
      'room.predict_both',
      'cycle.not_ready',
      'cycle.not_ready',
      'cycle.not_locked',
      'room.no_such_round',
      'request.invalid',
      'done',
    ])
    expect(results[1]!.message).toBe(
      'Say what will be changed. Say why you expect this of Time. Say why you expect this of Items right.',
    )
    expect((await phone.table()).rounds[0]).toMatchObject({
      lockedAt: null,
      predictions: { time: { expected: 60 }, quality: null },
    })
  })

  it('ask about words that look like a patient, each move by itself', async () => {
    const room = await openWorkshop(server)
    const phone = await room.join('Kestrel')
    const named = aPlan({ why: 'As with NHS 943 476 5919.' })
    const [asked, done] = await phone.try({ kind: 'plan', round: 1, ...named }, lock(1))
    expect(asked).toMatchObject({ outcome: 'refused', code: 'care.looks_like_identifier' })
    expect(done!.outcome).toBe('done')
    const again = await phone.try({ kind: 'plan', round: 2, ...named, textChecked: true })
    expect(outcomes(again)).toEqual(['done'])
  })

  it('cannot be read one by one without spoiling the others', async () => {
    const room = await openWorkshop(server)
    const phone = await room.join('Kestrel')
    const url = `/api/rooms/${room.id}/moves`
    const { status, body } = await phone.browser.send('POST', url, {
      moves: [null, { kind: 'fly' }, { id: 7 }, { ...lock(1), id: freshId(), ageMs: -5 }],
    })
    expect(status).toBe(200)
    expect(outcomes(body.results)).toEqual(Array(4).fill('request.invalid'))
    expect((await phone.table()).rounds).toEqual([])
  })

  it('are the table’s own: no phone acts for another table, the screen for none', async () => {
    const room = await openWorkshop(server)
    const kestrel = await room.join('Kestrel')
    const heron = await room.join('Heron')
    const trialId = freshId()
    await kestrel.move(lock(1), stop(trialId, 62))
    const tried = await heron.try(
      { ...lock(1), tableId: kestrel.tableId },
      { kind: 'void', trialId, reason: 'No.' },
      inspect(trialId, 0),
      { kind: 'close' },
      { kind: 'remove-table', ofTableId: kestrel.tableId },
    )
    expect(outcomes(tried)).toEqual([
      'room.not_yours',
      'record.not_found',
      'record.not_found',
      'room.not_yours',
      'room.not_yours',
    ])
    const screen = server.browser()
    await screen.open()
    await screen.send('POST', '/api/rooms/join', {
      code: room.code.toLowerCase(),
      seatId: freshId(),
      as: 'screen',
      tableId: null,
      tableName: '',
      name: '',
    })
    expect(outcomes(await makeMoves(screen, room.id, [lock(1)]))).toEqual(['room.not_yours'])
    const state: RoomState = (await screen.send('GET', `/api/rooms/${room.id}`)).body
    expect(state.viewer).toEqual({ as: 'screen' })
    expect(state.tables).toHaveLength(2)
  })

  it('let a coach’s browser be facilitator and phone at once, as it asks', async () => {
    const room = await openWorkshop(server, { tryOut: true })
    const joined = await room.lead.send('POST', '/api/rooms/join', {
      code: room.code,
      seatId: freshId(),
      as: 'table',
      tableId: null,
      tableName: 'Alone',
      name: '',
    })
    expect(joined.body.viewer.as).toBe('table')
    const as = async (who: string) =>
      (await room.lead.send('GET', `/api/rooms/${room.id}${who}`)).body.viewer?.as
    expect(await as('')).toBe('lead')
    expect(await as('?as=lead')).toBe('lead')
    expect(await as('?as=table')).toBe('table')
    expect(await as('?as=screen')).toBeUndefined()
    const results = await makeMoves(room.lead, room.id, [lock(1)], '?as=table')
    expect(outcomes(results)).toEqual(['done'])
  })

  it('let the facilitator run the lesson', async () => {
    const room = await openWorkshop(server)
    const phone = await room.join('Kestrel')
    const heron = freshId()
    await room.leads(
      { kind: 'moment', moment: 'predict' },
      { kind: 'round', round: 1 },
      { kind: 'pace', pace: 'alone' },
      { kind: 'countdown', of: 'plan', seconds: 120 },
      { kind: 'extend', seconds: 30 },
      { kind: 'talking-point', index: 3 },
      { kind: 'notes', text: 'Quick today.' },
      { kind: 'add-table', newTableId: heron, name: 'Heron' },
      { kind: 'rename-table', ofTableId: heron, name: 'Grey heron' },
      { kind: 'nudge', toTableId: phone.tableId, text: 'Predict first.' },
      { kind: 'excuse', ofTableId: heron, round: 1 },
    )
    const { room: view, tables } = await room.state()
    const now = server.clock.now.getTime()
    expect(view).toMatchObject({
      moment: 'predict',
      round: 1,
      settings: { ...SETTINGS, pace: 'alone' },
      countdown: { kind: 'plan', endsAt: new Date(now + 150_000).toISOString() },
      talkingPoint: 3,
      notes: 'Quick today.',
    })
    expect(tables).toMatchObject([
      { name: 'Kestrel', nudge: { text: 'Predict first.' } },
      { name: 'Grey heron', excused: [1], nudge: null },
    ])
    expect((await phone.state()).room.notes).toBeNull()
    const refused = await makeMoves(room.lead, room.id, [
      { kind: 'round', round: 7 },
      { kind: 'rename-table', ofTableId: heron, name: 'kestrel' },
      { kind: 'add-table', newTableId: freshId(), name: ' Kestrel ' },
      { kind: 'countdown', of: 'plan', seconds: 0 },
      { kind: 'extend', seconds: 30 },
      { kind: 'nudge', toTableId: null, text: '' },
      { kind: 'unexcuse', ofTableId: heron, round: 1 },
      { kind: 'seat', name: 'Lead', roles: [] },
    ])
    expect(outcomes(refused)).toEqual([
      'room.no_such_round',
      'room.table_name',
      'room.table_name',
      'done',
      'room.no_countdown',
      'done',
      'done',
      'room.not_yours',
    ])
    const project = await room.lead.send('GET', `/api/projects/${tables[1]!.projectId}`)
    expect(project.body.project.name).toBe(`Grey heron · ${KIT.name}`)
  })

  it('let the facilitator take tables and phones out, and in again', async () => {
    const room = await openWorkshop(server)
    const phone = await room.join('Kestrel', 'Ana')
    await room.leads({ kind: 'remove-table', ofTableId: phone.tableId })
    expect(outcomes(await phone.try(lock(1)))).toEqual(['room.table_removed'])
    expect((await room.find()).tables).toEqual([])
    await room.leads({ kind: 'restore-table', ofTableId: phone.tableId })
    await room.leads({ kind: 'remove-seat', seatId: phone.seatId })
    const url = `/api/rooms/${room.id}`
    expect((await phone.browser.send('GET', url)).body.code).toBe('room.removed')
    const back = await phone.browser.send('POST', '/api/rooms/join', {
      code: room.code,
      seatId: freshId(),
      as: 'table',
      tableId: phone.tableId,
      tableName: '',
      name: '',
    })
    expect(back.body.code).toBe('room.removed')
    await room.leads({ kind: 'restore-seat', seatId: phone.seatId })
    await phone.move(
      { kind: 'seat', name: 'Ana K', roles: ['timer', 'inspector', 'timer'] },
      { kind: 'confidence', when: 'before', value: 4 },
    )
    expect((await phone.table()).seats).toEqual([
      {
        id: phone.seatId,
        name: 'Ana K',
        roles: ['timer', 'inspector'],
        confidenceBefore: 4,
        confidenceAfter: null,
      },
    ])
  })

  it('do not wait for a table that came late or back; what it locks then says so', async () => {
    const room = await openWorkshop(server)
    const kestrel = await room.join('Kestrel')
    await room.leads({ kind: 'round', round: 1 })
    await kestrel.move(lock(1))
    const late = await room.join('Late')
    expect((await late.table()).excused).toEqual([1])
    expect((await late.state()).tables[0]!.rounds[0]!.withheld).toBe(false)
    const unexcused = await makeMoves(room.lead, room.id, [
      { kind: 'unexcuse', ofTableId: late.tableId, round: 1 },
    ])
    expect(outcomes(unexcused)).toEqual(['room.already_shown'])
    await late.move(lock(1))
    const { addenda } = await cycleOf(room, late)
    expect(addenda.map(({ text }) => text)).toEqual([
      'The class’s predictions of this round were already shown.',
    ])
    await room.leads({ kind: 'remove-table', ofTableId: late.tableId })
    await kestrel.move(lock(2))
    await room.leads({ kind: 'restore-table', ofTableId: late.tableId })
    expect((await late.table()).excused).toEqual([1, 2])
    await room.leads({ kind: 'round', round: 3 })
    const later = await room.join('Later')
    expect(await later.table()).toMatchObject({ firstRound: 3 })
    expect(outcomes(await later.try(lock(2)))).toEqual(['room.no_such_round'])
    await later.move(...wholeRound(3))
    expect((await later.table()).rounds.map(({ number }) => number)).toEqual([3, 4])
  })

  it('let the facilitator key a sheet of paper in, round by round', async () => {
    const room = await openWorkshop(server)
    const tableId = freshId()
    await room.leads({ kind: 'round', round: 3 })
    const sheet = [1, 2, 3].flatMap((round) =>
      wholeRound(round, 70 - round)
        .filter(({ kind }) => kind !== 'start')
        .map((move) => ({ ...move, tableId, ...(move.kind === 'stop' ? { how: 'paper' } : {}) })),
    ) as Sent[]
    await room.leads({ kind: 'add-table', newTableId: tableId, name: 'Paper', firstRound: 1 })
    await room.leads(...sheet)
    const table = (await room.state()).tables.find(({ id }) => id === tableId)!
    expect(table.rounds.map(({ seconds }) => seconds)).toEqual([69, 68, 67, null])
    for (const round of table.rounds.slice(0, 3))
      expect(round.trials[0]!.startedAt).toBe(round.lockedAt)
  })

  it('are taken after the room has closed, where they were made before', async () => {
    const room = await openWorkshop(server)
    const phone = await room.join('Kestrel')
    server.clock.now = new Date(server.clock.now.getTime() + 60_000)
    await room.leads({ kind: 'close' })
    server.clock.now = new Date(server.clock.now.getTime() + 60_000)
    const results = await phone.try({ ...lock(1), ageMs: 90_000 }, { ...lock(2), ageMs: 30_000 })
    expect(outcomes(results)).toEqual(['done', 'room.closed'])
    const code = { code: room.code }
    expect((await phone.browser.send('POST', '/api/rooms/find', code)).body.code).toBe(
      'room.closed',
    )
    await room.leads({ kind: 'reopen' })
    await phone.move(lock(2))
  })

  it('leave a record that verifies', async () => {
    expect((await server.db.snapshot(verify)).findings).toEqual([])
  })
})

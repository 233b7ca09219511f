import { afterAll, beforeAll, expect, it } from 'vitest'
import type { CycleReply } from '../src/api/contract.ts'
import { onBothEngines } from './support/engines.ts'
import { startTestServer, type TestServer } from './support/server-client.ts'
import {
  aPlan,
  freshId,
  KIT,
  openWorkshop,
  type Phone,
  type Sent,
  wholeRound,
} from './support/workshop-client.ts'

// Two phones of one table that were both out of reach during a round, and come back one by one.

const MINUTE = 60_000
const outcomes = (results: readonly { outcome: string; code: string | null }[]) =>
  results.map(({ outcome, code }) => (outcome === 'refused' ? code : outcome))
const marks = (wrong: number) => KIT.checklist.map((_, i): 0 | 1 => (i < wrong ? 0 : 1))

/** A trial as one phone recorded it by itself. @param startedAgo Milliseconds. */
function aTrial(startedAgo: number, seconds: number, wrong: number, own: object = {}) {
  const trialId = freshId()
  const readingId = freshId()
  const stoppedAgo = startedAgo - seconds * 1000
  const at = { round: 1, trialId }
  const moves: Sent[] = [
    { kind: 'start', ...at, id: freshId(), ageMs: startedAgo },
    {
      ...{ kind: 'stop', ...at, readingId, seconds, how: 'steady-clock', note: '' },
      ...{ id: freshId(), ageMs: stoppedAgo, ...own },
    },
    {
      ...{ kind: 'inspect', trialId, inspectionId: freshId(), marks: marks(wrong) },
      ...{ id: freshId(), ageMs: stoppedAgo - 10_000 },
    },
  ]
  return { trialId, readingId, moves }
}
const lockAgo = (minutes: number, own: object = {}): Sent => ({
  ...{ kind: 'lock', round: 1, ageMs: minutes * MINUTE, ...aPlan() },
  ...own,
})

onBothEngines('two phones of a table that were both away', ({ place }) => {
  let server: TestServer
  beforeAll(async () => {
    server = await startTestServer(await place())
  }, 60_000)
  afterAll(() => server.close())

  async function atOneTable() {
    const room = await openWorkshop(server)
    const [one, two] = [await room.join('Kestrel', 'Ana'), await room.join('Kestrel', 'Bo')]
    const round = async () => (await one.table()).rounds[0]!
    const cycle = async (): Promise<CycleReply> =>
      (await room.lead.send('GET', `/api/cycles/${(await round()).cycleId}`)).body
    const notes = async () => (await cycle()).addenda.map(({ text }) => text)
    return { room, one, two, round, cycle, notes }
  }
  const sent = async (phone: Phone, moves: readonly Sent[]) => outcomes(await phone.try(...moves))

  it('time one trial, each with its own clock, and inspect it twice', async () => {
    const { one, two, round, notes } = await atOneTable()
    await one.move(lockAgo(10))
    const mine = aTrial(8 * MINUTE, 62, 1)
    const theirs = aTrial(8 * MINUTE - 800, 61, 2, { note: 'The page was reloaded.' })
    expect(await sent(one, mine.moves)).toEqual(['done', 'done', 'done'])
    expect(await sent(two, theirs.moves)).toEqual(['done', 'done', 'done'])
    const { trials, ...found } = await round()
    expect(trials).toHaveLength(1)
    expect(trials[0]!.id).toBe(mine.trialId)
    expect(trials[0]!.startedBySeatId).toBe(one.seatId)
    expect(trials[0]!.readings).toMatchObject([
      { by: 'Ana', seconds: 62, how: 'steady-clock', note: '' },
      { by: 'Bo', seconds: 61, how: 'steady-clock', note: 'The page was reloaded.' },
    ])
    expect(trials[0]!.inspections.map(({ by }) => by)).toEqual(['Ana', 'Bo'])
    expect(found).toMatchObject({ seconds: 61.5, right: KIT.checklist.length - 2 })
    expect(await notes()).toHaveLength(1)
    // Sent again, nothing is doubled.
    expect(await sent(two, theirs.moves)).toEqual(['already', 'already', 'already'])
    expect((await round()).trials[0]!.inspections).toHaveLength(2)
  })

  it('are asked which time to keep where they disagree, by the name each gave the trial', async () => {
    const { one, two, round } = await atOneTable()
    await one.move(lockAgo(10))
    await one.move(...aTrial(8 * MINUTE, 62, 0).moves)
    // Asked how long it took, the phone cannot say when; when it started, it did say.
    const theirs = aTrial(8 * MINUTE, 70, 0, { how: 'typed' })
    await two.move(...theirs.moves)
    expect((await round()).trials).toMatchObject([{ unsettled: true, seconds: null }])
    const { trialId, readingId } = theirs
    await two.move({ kind: 'keep', trialId, readingId, why: 'Ana looked away' })
    expect((await round()).seconds).toBe(70)
  })

  it('keep two trials where they ran one after the other, and say so', async () => {
    const { one, two, round, notes, room } = await atOneTable()
    await one.move(lockAgo(20))
    const mine = aTrial(15 * MINUTE, 62, 0)
    const theirs = aTrial(10 * MINUTE, 75, 3)
    await one.move(...mine.moves)
    await two.move(...theirs.moves)
    expect((await round()).trials.map(({ readings }) => readings.length)).toEqual([1, 1])
    expect(await round()).toMatchObject({ seconds: 75, right: KIT.checklist.length - 3 })
    expect((await notes()).at(-1)).toBe(
      'Bo timed a trial that was not at the same time as the one before it. Both are kept; the later to arrive counts unless it is made void.',
    )
    const { trialId } = theirs
    await room.leads({ kind: 'void', trialId, reason: 'A rehearsal', tableId: two.tableId })
    expect(await round()).toMatchObject({ seconds: 62, right: KIT.checklist.length })
  })

  it('have one trial void for both, and the repeat timed by both', async () => {
    const { one, two, round } = await atOneTable()
    await one.move(lockAgo(20))
    const mine = aTrial(15 * MINUTE, 62, 0)
    await one.move(...mine.moves, {
      ...{ kind: 'void', trialId: mine.trialId, reason: 'The tray fell', ageMs: 12 * MINUTE },
    })
    const theirs = aTrial(15 * MINUTE - 500, 63, 0)
    await two.move(...theirs.moves)
    expect((await round()).stage).toBe('ready')
    await one.move(...aTrial(10 * MINUTE, 58, 0).moves)
    await two.move(...aTrial(10 * MINUTE - 300, 59, 0).moves)
    const { trials, seconds } = await round()
    expect(trials.map(({ readings }) => readings.length)).toEqual([2, 2])
    expect(seconds).toBe(58.5)
  })

  it('lock and decide both: the first to arrive stands, and the record keeps every word', async () => {
    const { one, two, round, notes, cycle, room } = await atOneTable()
    const decide = (reason: string): Sent => ({ ...wholeRound(1)[4]!, reason }) as Sent
    const mine = aTrial(8 * MINUTE, 62, 0)
    const theirs = aTrial(8 * MINUTE - 800, 61, 2)
    await one.move(lockAgo(10), ...mine.moves, decide('Ana: quicker'))
    const before = await round()
    const why = 'Bo has counted the steps.'
    expect(
      await sent(two, [lockAgo(9, { why }), ...theirs.moves, decide('Bo: far quicker')]),
    ).toEqual(['cycle.locked', 'done', 'done', 'done', 'cycle.closed'])
    const after = await round()
    expect(after).toMatchObject({ seconds: before.seconds, right: before.right, stage: 'done' })
    expect(after.trials).toHaveLength(1)
    expect(after.trials[0]!.readings).toMatchObject([
      { by: 'Ana', kept: null },
      { by: 'Bo', kept: false },
    ])
    expect(after.trials[0]!.inspections).toHaveLength(2)
    const said = await notes()
    expect(said.some((text) => text.includes(why))).toBe(true)
    expect(said.some((text) => text.includes('Reason: Bo: far quicker'))).toBe(true)
    expect((await cycle()).decision?.reason).toBe('Ana: quicker')

    // A trial of its own that comes after the decision stays on the record, and counts for nothing.
    const other = aTrial(3 * MINUTE, 55, 1)
    const results = await two.try(...other.moves)
    expect(outcomes(results)).toEqual(['done', 'cycle.closed', 'done'])
    expect(results[1]!.hint).toBe('It is kept as a void trial. Go on with what the page shows.')
    const voided = { kind: 'void', trialId: theirs.trialId, reason: 'The tray fell' } as const
    expect(await sent(two, [voided])).toEqual(['cycle.closed'])
    expect((await notes()).at(-1)).toBe(
      'After the decision, Bo would make trial 1 void: The tray fell',
    )
    expect((await round()).trials[1]).toMatchObject({
      voidReason: expect.stringContaining('had decided the round before'),
      readings: [{ seconds: 55 }],
      inspections: [{ by: 'Bo' }],
    })
    expect(await round()).toMatchObject({ seconds: before.seconds, right: before.right })
    expect((await room.lead.send('GET', `/api/rooms/${room.id}`)).status).toBe(200)
  })

  it('keep beside the lock what the other was still writing', async () => {
    const { one, two, notes } = await atOneTable()
    await one.move(lockAgo(1))
    const plan: Sent = { kind: 'plan', round: 1, ...aPlan({ strategy: 'Bo would sort first' }) }
    expect(await sent(two, [plan])).toEqual(['cycle.locked'])
    expect((await notes()).at(-1)).toContain('Bo was still writing:\nStrategy: Bo would sort first')
  })
})

import { afterAll, beforeAll, expect, it } from 'vitest'
import type { CycleReply } from '../src/api/contract.ts'
import { verify } from '../src/storage/verify.ts'
import { onBothEngines } from './support/engines.ts'
import { startTestServer, type TestServer } from './support/server-client.ts'
import {
  aPlan,
  freshId,
  ITEMS,
  makeMoves,
  openWorkshop,
  wholeRound,
} from './support/workshop-client.ts'

onBothEngines('a workshop', ({ place }) => {
  let server: TestServer
  beforeAll(async () => {
    server = await startTestServer(await place())
  }, 60_000)
  afterAll(() => server.close())

  it('goes from an open room to a decided round, as ordinary records', async () => {
    const room = await openWorkshop(server)
    expect(room.code).toMatch(/^[34679CDFHJKMNPQRTWXY]{6}$/)
    const kestrel = await room.join('Kestrel', 'Ana')
    expect(await room.find()).toMatchObject({ tables: [{ name: 'Kestrel', seats: 1 }] })
    await room.leads({ kind: 'round', round: 1 }, { kind: 'moment', moment: 'predict' })
    await kestrel.move({ kind: 'plan', round: 1, ...aPlan({ why: '' }) })
    expect((await kestrel.table()).rounds[0]).toMatchObject({ stage: 'plan', number: 1 })
    await kestrel.move(...wholeRound(1))
    const [round, next] = (await kestrel.table()).rounds
    expect(round).toMatchObject({
      stage: 'done',
      seconds: 62,
      right: ITEMS - 1,
      inspected: ITEMS,
      strategy: aPlan().strategy,
      predictions: { time: { expected: 60 }, why: 'We have seen the card.' },
      decision: { kind: 'adapt', nextChange: 'The reader points.' },
      trials: [{ startedBySeatId: kestrel.seatId, readings: [{ by: 'Ana', seconds: 62 }] }],
    })
    expect(next).toMatchObject({ number: 2, stage: 'plan', predictions: { why: '' } })
    expect(next?.strategy).toBe('Two lay out, one reads the card.\n\nThe reader points.')

    const { body } = await room.lead.send('GET', `/api/cycles/${round!.cycleId}`)
    const { cycle, decision, measures, trials } = body as CycleReply
    expect(cycle).toMatchObject({ determination: 'exercise', who: 'Kestrel: Ana', number: 1 })
    expect(cycle.lockedById).toBe(kestrel.tableId)
    expect(decision?.byId).toBe(kestrel.tableId)
    expect(trials).toHaveLength(1)
    expect(measures.map(({ observations }) => observations.length)).toEqual([1, 1])
    expect((await server.db.snapshot(verify)).findings).toEqual([])
  })

  it('does a move once, however often it is sent', async () => {
    const room = await openWorkshop(server)
    const phone = await room.join('Kestrel')
    const moves = wholeRound(1).map((move) => ({ ...move, id: freshId() }))
    const answers = await Promise.all([
      makeMoves(phone.browser, room.id, moves),
      makeMoves(phone.browser, room.id, moves),
      makeMoves(phone.browser, room.id, moves),
    ])
    const outcomes = moves.map((_, i) => answers.map((results) => results[i]!.outcome).sort())
    for (const three of outcomes) expect(three).toEqual(['already', 'already', 'done'])
    const { rounds } = await phone.table()
    expect(rounds[0]!.trials).toHaveLength(1)
    expect(rounds[0]!.trials[0]!.readings).toHaveLength(1)
  })
})

import { describe, expect, it } from 'vitest'
import { SAMPLE_SETTINGS, sampleRoom } from '../../../../tests/support/sample-room.ts'
import { trayFromACard } from '../../../domain/workshop/kits/tray-from-a-card.ts'
import {
  carriedOver,
  EMPTY_ROW,
  entryOf,
  isAsked,
  type RowText,
  recordedOf,
  rowIds,
  rowOf,
  rowProblems,
} from './sheet.ts'
import { movesOf } from './sheet-moves.ts'

const rules = { kit: trayFromACard, settings: SAMPLE_SETTINGS }
const NOTHING = { plan: false, time: false, right: false }
const ROW: RowText = {
  strategy: 'One hands, one lays',
  time: '1:00 1:15 1:30',
  quality: '10 11 12',
  measured: '1:31 1:32',
  right: '11 3',
  learned: 'Sort first',
  decision: 'adapt',
  reason: 'Slower than said',
  next: 'Sort the box first',
}
let made = 0
const ids = rowIds(() => `id-${made++}`)
const save = (row: RowText, there = undefined as Parameters<typeof recordedOf>[0]) =>
  movesOf(
    {
      tableId: 't',
      round: 2,
      entry: entryOf(row, recordedOf(there), rules),
      ids,
      there,
      items: 12,
    },
    500,
  )

describe('a round of a paper sheet', () => {
  it('becomes a lock, a reading for each timer, an inspection and a decision, in that order', () => {
    expect(rowProblems(ROW, NOTHING, rules)).toEqual({})
    const moves = save(ROW)
    expect(moves.map(({ body }) => body.kind)).toEqual([
      'lock',
      'stop',
      'stop',
      'inspect',
      'decide',
    ])
    expect(moves.every(({ body, madeAt }) => body.tableId === 't' && madeAt === 500)).toBe(true)
    expect(moves[0]!.body).toMatchObject({
      round: 2,
      strategy: 'One hands, one lays',
      time: { low: 60, expected: 75, high: 90 },
      quality: { low: 10 / 12, expected: 11 / 12, high: 1 },
      confidence: 0.8,
    })
    expect(moves[1]!.body).toMatchObject({ seconds: 91, how: 'paper', trialId: ids.trial })
    expect(moves[2]!.body).toMatchObject({ seconds: 92, readingId: ids.readings[1] })
    expect(moves.at(-1)!.body).toMatchObject({
      decision: 'adapt',
      nextChange: 'Sort the box first',
      predictionReview:
        'From the paper sheet. Time 1:31.5, slower than said (1:00 to 1:30). Items right 11, as said (10 to 12).',
    })
  })

  it('has the same ids however often it is sent', () => {
    expect(save(ROW).map(({ id }) => id)).toEqual(
      save({ ...ROW, learned: 'x' }).map(({ id }) => id),
    )
    expect(new Set(save(ROW).map(({ id }) => id)).size).toBe(5)
  })

  it('says which timer is kept where the two disagree', () => {
    const moves = save({ ...ROW, measured: '1:31 1:40 keep 1:40 first one stopped early' })
    expect(moves.map(({ body }) => body.kind)).toEqual([
      'lock',
      'stop',
      'stop',
      'keep',
      'inspect',
      'decide',
    ])
    expect(moves[3]!.body).toMatchObject({
      readingId: ids.readings[1],
      why: 'first one stopped early',
    })
  })

  it('keeps a bare count as a count, and makes up no marks', () => {
    const moves = save({ ...ROW, right: '10 of 12' })
    expect(moves[3]!.body).toEqual({
      kind: 'count-right',
      trialId: ids.trial,
      inspectionId: ids.inspection,
      right: 10,
      tableId: 't',
    })
    expect(moves.at(-1)!.body).toMatchObject({
      predictionReview: expect.stringContaining('Items right 10, as said (10 to 12).'),
    })
  })

  it('is saved without an inspection where the sheet has none', () => {
    expect(save({ ...ROW, right: '' }).map(({ body }) => body.kind)).not.toContain('inspect')
  })

  it('leaves alone what phones have recorded, and adds the rest', () => {
    const there = sampleRoom().tables[0]!.rounds[2]!
    const locked = { ...there, stage: 'ready' as const, trials: [], right: null, decision: null }
    expect(isAsked('strategy', ROW, recordedOf(locked))).toBe(false)
    expect(save(ROW, locked).map(({ body }) => body.kind)).toEqual([
      'stop',
      'stop',
      'inspect',
      'decide',
    ])
    const timed = { ...locked, trials: [{ ...there.trials[0]!, right: null }] }
    const moves = save(ROW, timed)
    expect(moves.map(({ body }) => body.kind)).toEqual(['inspect', 'decide'])
    expect(moves[0]!.body).toMatchObject({ trialId: there.trials[0]!.id })
  })
})

it('asks for a next change only where the table adapts', () => {
  expect(isAsked('next', { ...ROW, decision: 'd' }, NOTHING)).toBe(true)
  expect(isAsked('next', { ...ROW, decision: 'adopt' }, NOTHING)).toBe(false)
  expect(rowProblems({ ...ROW, next: '' }, NOTHING, rules)).toEqual({
    next: 'Adapt needs the next change.',
  })
})

it('says for every blank cell what belongs there, but not for a missing inspection', () => {
  expect(Object.keys(rowProblems(EMPTY_ROW, NOTHING, rules))).toEqual([
    'strategy',
    'time',
    'quality',
    'measured',
    'learned',
    'decision',
    'reason',
  ])
})

it('carries the next change over as the strategy, and the predicted items right', () => {
  expect(carriedOver('strategy', ROW)).toBe('Sort the box first')
  expect(carriedOver('strategy', { ...ROW, next: '' })).toBe('One hands, one lays')
  expect(carriedOver('quality', ROW)).toBe('10 11 12')
  expect(carriedOver('time', ROW)).toBe('')
  expect(carriedOver('strategy', null)).toBe('')
  const recorded = rowOf(sampleRoom().tables[0]!.rounds[0]!, 12)
  expect(recorded.quality).toMatch(/^\d+ \d+ \d+$/)
})

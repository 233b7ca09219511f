import { describe, expect, it } from 'vitest'
import {
  openRound,
  sampleRoom,
  sampleRound,
  sampleTable,
  withTable,
} from '../../../tests/support/sample-room.ts'
import { changeInto, errorIn, heldIn, qualityIn } from './class-findings.ts'
import {
  compareSentences,
  curveSentences,
  errorSentences,
  qualitySentences,
  spreadSentences,
} from './class-sentences.ts'
import type { RoomState } from './room-state.ts'
import { roundRows } from './wrap-up-rounds.ts'

const state = sampleRoom()
const rows = roundRows(state)
/** Only the first table, with its first n rounds. */
const alone = (n: number) =>
  roundRows({
    ...state,
    tables: state.tables.slice(0, 1).map((t) => ({ ...t, rounds: t.rounds.slice(0, n) })),
  })
const each = (change: (r: RoomState['tables'][number]['rounds'][number]) => object) =>
  roundRows({
    ...state,
    tables: state.tables.map((t) => ({
      ...t,
      rounds: t.rounds.map((r) => ({ ...r, ...change(r) })),
    })),
  })

// Expected figures are by hand from the six tables of the fixture.
describe('findings of a class', () => {
  it('counts the ranges that held', () => {
    // 44 in 38–55, 51 in 45–60, 39 in 35–50; 62, 58 and 66 are above theirs.
    expect(heldIn(rows, 3)).toEqual({ held: 3, of: 6 })
    expect(heldIn(rows, 4)).toBeNull()
  })

  it('takes each table against itself', () => {
    // Ratios 44/71, 62/83, 58/70, 51/77, 66/90, 39/61: the middle two are .6623 and .7333.
    const found = changeInto(rows, 3)
    expect(found).toMatchObject({ tables: 6, quicker: 6, slower: 0 })
    expect(found?.middle).toBeCloseTo((51 / 77 + 66 / 90) / 2, 12)
  })

  it('measures how far off predictions were by the actual time', () => {
    // |46.5−44|/44, |55−62|/62, |50−58|/58, |52.5−51|/51, |55−66|/66, |42.5−39|/39.
    expect(errorIn(rows, 3)?.middle).toBeCloseTo((3.5 / 39 + 7 / 62) / 2, 12)
    expect(errorIn(rows, 3)).toMatchObject({ tables: 6, longer: 3, shorter: 3 })
  })

  it('finds the quickest with every item right, and who was quicker without', () => {
    expect(qualityIn(rows, 3, 12)).toEqual({
      tables: 6,
      best: { table: 'Kestrel', seconds: 44 },
      quickerWithout: ['Swift'],
    })
  })

  it('leaves out a table that was removed', () => {
    const without = withTable(state, 6, (t) => ({ ...t, removed: true }))
    expect(qualityIn(roundRows(without), 3, 12)?.quickerWithout).toEqual([])
  })
})

describe('sentences for the room screen', () => {
  it('says what the third round came to', () => {
    expect(compareSentences(rows, 3)).toEqual([
      'Three of six predicted ranges held.',
      'All six tables were quicker than in round 2; the middle table by 30 %.',
      'Quicker, but with fewer items right than before: Plover and Swift.',
    ])
  })

  it('says nothing of a change in the first round', () => {
    expect(compareSentences(rows, 1)).toEqual(['One of six predicted ranges held.'])
  })

  it('says that nothing has run, before the first round and in a round that is on', () => {
    expect(compareSentences([], 0)).toEqual(['The first round has not begun.'])
    expect(compareSentences(rows, 4)).toEqual(['No table has a time in round 4 yet.'])
  })

  it('claims nothing of predictions that it cannot see', () => {
    const hidden = each(() => ({ predictions: null, withheld: true }))
    expect(compareSentences(hidden, 1)).toEqual([
      'No prediction of time to hold these times against.',
    ])
    expect(errorSentences(hidden)).toEqual(['No prediction has a time beside it yet.'])
  })

  it('does not call a single number held or not', () => {
    const single = each((r) => ({
      predictions: { ...r.predictions, time: { low: 50, expected: 50, high: 50 } },
    }))
    expect(compareSentences(single, 1)[0]).toBe(
      'Half of the expected times of round 1 were within 49 % of what came.',
    )
  })

  it('speaks of one table as one', () => {
    expect(compareSentences(alone(2), 2)).toEqual([
      'The one predicted range held.',
      'The time fell by 26 % since round 1.',
    ])
    expect(spreadSentences(alone(2))).toEqual(['It takes two tables with a time to see a spread.'])
  })

  it('says when some were slower', () => {
    const mixed = withTable(state, 1, (t) => ({
      ...t,
      rounds: [
        ...t.rounds.slice(0, 2),
        sampleRound(1, 3, { seconds: 90, right: 12, low: 38, high: 55 }),
      ],
    }))
    expect(compareSentences(roundRows(mixed), 3)[1]).toBe(
      'Five of six tables were quicker than in round 2; the middle table by 26 %.',
    )
  })

  it('fits a curve from three rounds on, and says why not before', () => {
    expect(curveSentences(alone(2))).toEqual([
      'No curve yet: it takes three timed rounds of a table. Two so far.',
    ])
    const [first, second] = curveSentences(rows)
    // Recomputed apart from the project: slopes on logs a table, their mean, Student's t with 5 d.f.
    expect(first).toBe(
      'The typical table: twice as many rounds take the time to 67 % of what it was (95 % interval 59 % to 77 %).',
    )
    expect(second).toMatch(/^The same curve would give 0:4\d at go 4\.$/)
  })

  it('does not promise more learning where the interval holds no change', () => {
    const noisy = roundRows({
      ...state,
      tables: [
        sampleTable(
          1,
          [70, 80, 68].map((seconds, i) =>
            sampleRound(1, i + 1, { seconds, right: 12, low: 50, high: 90 }),
          ),
          'Kestrel',
        ),
      ],
    })
    expect(curveSentences(noisy)[1]).toBe('With so few rounds, no change at all would fit as well.')
  })

  it('says how far tables lie apart, first and last', () => {
    // 120 over 88 and 66 over 39.
    expect(spreadSentences(rows)[0]).toBe(
      'The slowest table took 1.36 times as long as the quickest in round 1, 1.69 times in round 3.',
    )
  })

  it('says how far off predictions were', () => {
    expect(errorSentences(rows)[0]).toMatch(
      /^Half of the expected times were within \d+ % of what came in round 1, within 10 % in round 3\.$/,
    )
  })

  it('sets time against quality', () => {
    expect(qualitySentences(rows, 3, 12)).toEqual([
      'Quickest with every item right: Kestrel, 0:44.',
      'Quicker, but not with every item right: Swift.',
    ])
    const none = each(() => ({ right: 9 }))
    expect(qualitySentences(none, 3, 12)).toEqual([
      'None of the six tables inspected in round 3 had every item right.',
    ])
    expect(qualitySentences(rows, 4, 12)).toEqual([
      'No table was timed and inspected in round 4 yet.',
    ])
  })

  it('ignores a round that is only planned', () => {
    const planned = withTable(state, 1, (t) => ({ ...t, rounds: [...t.rounds, openRound(1, 4)] }))
    expect(compareSentences(roundRows(planned), 3)).toEqual(compareSentences(rows, 3))
  })
})

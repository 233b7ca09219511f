import { describe, expect, it } from 'vitest'
import { sampleRoom, withTable } from '../../../tests/support/sample-room.ts'
import { marks, seatsWith, type ToldRound, toldRoom } from '../../../tests/support/wrap-up-room.ts'
import type { RoomState } from './room-state.ts'
import { wrapUp } from './wrap-up.ts'
import { wrapUpText } from './wrap-up-text.ts'
import type { WrapUpPart } from './wrap-up-words.ts'

const partOf = (room: RoomState, key: WrapUpPart['key'], tableId: string | null = null) =>
  wrapUpText(wrapUp(room, tableId)).find((part) => part.key === key)!
const said = (room: RoomState, key: WrapUpPart['key']) => {
  const { sentences, limits } = partOf(room, key)
  return [...sentences, ...limits].join(' ')
}
const ofTable = (room: RoomState, key: WrapUpPart['key']) => {
  const { sentences, limits } = partOf(room, key, room.tables[0]!.id)
  return [...sentences, ...limits].join(' ')
}
const timed = (...times: (number | null)[]): ToldRound[] => times.map((seconds) => ({ seconds }))

describe('the learning curve in words', () => {
  it('gives the progress ratio with its interval and where it comes from', () => {
    const room = toldRoom({ A: timed(100, 80, 70.21, 64), B: timed(90, 70, 62, 55), C: timed(80) })
    expect(said(room, 'learning')).toMatch(
      /^For a typical table, twice as many rounds took the time to 79 % of what it was \(progress ratio; 95 % interval \d+ % to \d+ %, from the curves of 2 tables\), starting from 1:34\.\d in the first round\./,
    )
    expect(said(room, 'learning')).toContain('1 table with fewer than 3 timed rounds is not in it.')
  })

  it('says why there is none', () => {
    expect(said(toldRoom({ A: timed(100, 80) }), 'learning')).toBe(
      'No learning curve is fitted: it takes 3 timed rounds of a table, and no table has more than 2.',
    )
    expect(ofTable(toldRoom({ A: [] }), 'learning')).toBe(
      'No learning curve is fitted: it takes 3 timed rounds of a table, and this table has none.',
    )
  })

  it('says so where no change at all would fit as well, and where times grew', () => {
    expect(said(toldRoom({ A: timed(100, 80, 95) }), 'learning')).toContain(
      'The interval includes 100 %, so times that do not change at all would also fit.',
    )
    expect(ofTable(toldRoom({ A: timed(50, 70, 85, 98.1) }), 'learning')).toContain(
      'Times became longer from round to round.',
    )
  })
})

describe('the spread in words', () => {
  it('compares the same tables, and ranks nobody', () => {
    const room = toldRoom({ A: timed(120, 60), B: timed(60, 40), C: timed(400, null) })
    expect(said(room, 'spread')).toBe(
      'In round 2 the times of 2 tables lay between 0:40 and 1:00; the middle one was 0:50. The slowest of the 2 tables that did both took 2.0 times as long as the fastest in round 1, and 1.50 times in round 2. The fastest and the slowest of a few tables move by chance from round to round; this ranks nobody.',
    )
    expect(said(toldRoom({ A: timed(50) }), 'spread')).toContain('nothing to compare')
  })
})

describe('time and quality in words', () => {
  const room = toldRoom({
    Kestrel: [
      { seconds: 90, right: 11 },
      { seconds: 70, right: 12 },
      { seconds: 50, right: 12 },
      { seconds: 40, right: 9 },
    ],
    Wren: [{ seconds: 30, right: 8 }],
    Heron: [
      { seconds: null, right: 8 },
      { seconds: 30, right: 12 },
    ],
  })

  it('says when everything was right first, and where it never was', () => {
    expect(said(room, 'correct')).toBe(
      'Kestrel: everything was right first in round 2, after 2:40 on the clock in all. Its fastest round with everything right was round 3, 0:50. Heron: everything was right first in round 2, an earlier round has no time, so the total is not known. No round with every item right: Wren. It counts the clock only, not the time for planning and inspecting between rounds.',
    )
    expect(ofTable(toldRoom({ A: [{ seconds: 50, right: 12 }] }), 'correct')).toContain(
      'Everything was right first in round 1, after 0:50 on the clock.',
    )
    expect(ofTable(toldRoom({ A: timed(50) }), 'correct')).toBe(
      'No round had every item of the checklist right.',
    )
    expect(said(toldRoom({}), 'correct')).toBe('No round has begun.')
  })

  it('names who traded quality for speed, and speed for quality', () => {
    expect(said(room, 'trades')).toBe(
      'Kestrel traded quality for speed from round 3 to 4 (0:10 faster, 9 of 12 right instead of 12). Of 3 steps from one round to the next, 2 gained in one without losing in the other, and 0 lost in one without gaining in the other. One item more or less can be chance; look for what repeats.',
    )
    const slower = toldRoom({
      A: [
        { seconds: 60, right: 9 },
        { seconds: 75, right: 12 },
      ],
    })
    expect(ofTable(slower, 'trades')).toContain(
      'The table traded speed for quality from round 1 to 2 (0:15 slower, 12 of 12 right instead of 9).',
    )
    const again = toldRoom({
      A: [
        { seconds: 60, right: 12 },
        { seconds: 50, right: 8, inspected: 10 },
        { seconds: 40, right: 7, inspected: 10 },
      ],
    })
    expect(said(again, 'trades')).toContain(
      'A traded quality for speed from round 1 to 2 (0:10 faster, 8 of 10 right instead of 12 of 12) and from round 2 to 3 (0:10 faster, 7 of 10 right instead of 8).',
    )
    const better = toldRoom({
      A: [
        { seconds: 60, right: 9 },
        { seconds: 50, right: 12 },
      ],
    })
    expect(said(better, 'trades')).toContain('No step from one round to the next traded')
    expect(said(toldRoom({ A: timed(60, 50) }), 'trades')).toContain('cannot be set against')
  })
})

describe('predictions in words', () => {
  const range = { low: 40, expected: 50, high: 60 }

  it('sets the share inside against the stated confidence', () => {
    const miss = Array.from({ length: 12 }, (_, i) => ({ seconds: i === 0 ? 55 : 70, time: range }))
    const text = said(toldRoom({ A: miss }), 'predictions')
    expect(text).toContain(
      '1 of 12 outcomes fell inside the stated range, 8 % (95 % interval 1 % to 35 %), where 80 % was stated: the ranges were too narrow.',
    )
    expect(text).toContain(
      'Times were predicted 37 % too short on average (12 predictions; too hopeful, by more than chance explains).',
    )
    expect(text).toContain(
      'In round 1, 1 of 1 fell inside with ranges 40 % of the expected value wide; in round 12, 0 of 1',
    )
    expect(text).toContain('are alike, so the real uncertainty is wider')
  })

  it('says when it is too few, when it fits, and when ranges were too wide', () => {
    const hits = (n: number) => Array.from({ length: n }, () => ({ seconds: 50, time: range }))
    expect(said(toldRoom({ A: hits(4) }), 'predictions')).toContain('too few to tell whether')
    expect(said(toldRoom({ A: hits(12) }), 'predictions')).toContain('do not contradict it')
    expect(said(toldRoom({ A: hits(40) }), 'predictions')).toContain('wider than they needed to be')
    expect(said(toldRoom({ A: hits(4) }), 'predictions')).toContain('neither too high nor too low')
  })

  it('says of single numbers that they have no coverage', () => {
    const point = { low: 50, expected: 50, high: 50 }
    const quality = { low: 1, expected: 1, high: 1 }
    const rounds = [
      { seconds: 40, time: point, right: 9, quality },
      { seconds: 41, time: point, right: 9, quality },
    ]
    const text = said(toldRoom({ A: rounds }, { predicts: 'single' }), 'predictions')
    expect(text).toContain('no range that an outcome could fall inside, so there is no coverage')
    expect(text).not.toContain('fell inside the stated range')
    expect(text).toContain('Times were predicted 23 % too long on average')
    expect(text).toContain('Items right were predicted 33 % too high on average')
  })

  it('says where there is none', () => {
    expect(said(toldRoom({ A: timed(50) }), 'predictions')).toBe(
      'No locked prediction has an outcome yet.',
    )
  })
})

describe('decisions in words', () => {
  it('gives ratios with their number, and says that practice is in them', () => {
    const pair = (second: number, decision: ToldRound['decision'] = 'adapt') => [
      { seconds: 100, right: 12, decision: decision ?? null },
      { seconds: second, right: 11 },
    ]
    const room = toldRoom({
      A: pair(50),
      B: pair(80),
      C: pair(100),
      D: pair(90, 'adopt'),
      E: pair(60, 'abandon'),
      F: pair(70, 'abandon'),
    })
    const { sentences, limits } = partOf(room, 'decisions')
    expect(sentences).toEqual([
      'After adopt (the same again) the next round took 0.90 times the time of the one before (1 round). Items right: more in 0, as many in 0, fewer in 1 of 1.',
      'After adapt (something changed) the next round took 0.74 times the time of the one before, typically (3 rounds; 95 % interval 0.31 to 1.77). Items right: more in 0, as many in 0, fewer in 3 of 3.',
      'After abandon (something else) the next round took 0.65 times the time of the one before, typically (2 rounds; 0.60 and 0.70). Items right: more in 0, as many in 0, fewer in 2 of 2.',
    ])
    expect(limits[0]).toContain('Practice alone makes rounds faster')
    expect(said(toldRoom({ A: timed(100) }), 'decisions')).toContain('No timed round follows')
  })
})

describe('agreement in words', () => {
  it('gives plain differences below three trials with two timers, then limits', () => {
    const two = toldRoom({
      A: [
        { seconds: 60, timers: [[61, 60]] },
        { seconds: 50, timers: [[50, 50.4]] },
      ],
    })
    expect(said(two, 'timers')).toBe(
      '2 trials had two timers. First timer less second: +1.0 s (A, round 1) and −0.4 s (A, round 2). Limits of agreement take 3 such trials.',
    )
    const timers = [
      [61, 60],
      [50, 50.4],
      [44, 43.7],
      [62, 61],
    ] as const
    expect(said(toldRoom({ A: [{ seconds: 60, timers }] }), 'timers')).toMatch(
      /^In 4 trials with two timers, the first read \+0\.5 s against the second on average \(95 % interval −0\.6 s to \+1\.5 s\)\. Two timers of one trial are expected to differ by −0\.8 s to \+1\.8 s in 19 trials of 20/,
    )
    const close = toldRoom({ A: [{ seconds: 60, timers: [[60, 60.04]] }] })
    expect(said(close, 'timers')).toContain('First timer less second: 0.0 s (A, round 1)')
    expect(said(toldRoom({ A: timed(60) }), 'timers')).toBe('No trial was timed by two people.')
  })

  it('gives kappa from thirty items on, and percent agreement always', () => {
    const room = (first: (0 | 1)[], second: (0 | 1)[]) =>
      toldRoom({ A: [{ seconds: 60, inspectors: [first, second] }] })
    const good = room([...marks(25, 0), ...marks(0, 25)], [...marks(20, 5), ...marks(10, 15)])
    expect(said(good, 'inspectors')).toBe(
      'Two people inspected 1 trial apart, 50 items in all. They agreed on 35, 70 % (95 % interval 56 % to 81 %); 15 looked right to one and wrong to the other. Cohen’s kappa, the agreement beyond what chance would give, is 0.40 (95 % interval 0.15 to 0.65). The pairs of inspectors are different people, taken together here.',
    )
    expect(said(room(marks(12, 0), marks(11, 1)), 'inspectors')).toContain(
      'not given below 30 items',
    )
    expect(said(room(marks(40, 0), marks(40, 0)), 'inspectors')).toContain('in the same box')
    const lopsided = room(
      [...marks(46, 0), ...marks(2, 2)],
      [...marks(46, 0), ...marks(0, 2), 1, 0],
    )
    expect(said(lopsided, 'inspectors')).toContain('keeps kappa low even where inspectors agree')
    expect(said(toldRoom({ A: timed(60) }), 'inspectors')).toBe(
      'No trial was inspected by two people, item by item.',
    )
  })

  it('says that a bare count takes no part, and what it cannot show', () => {
    const count = { seconds: 60, right: 10, countOnly: 10 }
    expect(said(toldRoom({ A: [count] }), 'inspectors')).toBe(
      'No trial was inspected by two people, item by item. Of 1 trial only the count of items right is recorded, not which items; it takes no part in this, and cannot show which items went wrong.',
    )
    const pair = { seconds: 60, inspectors: [marks(12, 0), marks(11, 1)] } as const
    const both = said(toldRoom({ A: [count, count, pair] }), 'inspectors')
    expect(both).toContain('Two people inspected 1 trial apart, 12 items in all.')
    expect(both).toContain('Of 2 trials only the count of items right is recorded')
  })
})

describe('confidence in words', () => {
  const withSeats = (answers: readonly (readonly [number | null, number | null])[]) =>
    withTable(toldRoom({ A: [] }), 1, (t) => ({ ...t, seats: seatsWith(answers) }))

  it('gives the change with its interval and says what it is not', () => {
    const room = withSeats([
      [3, 6],
      [4, 6],
      [5, 5],
      [6, 5],
      [2, null],
    ])
    expect(said(room, 'confidence')).toBe(
      '4 people answered both times, from 0 to 10. On average they went from 4.5 to 5.5, up 1.0 (95 % interval of the change −1.9 to +3.9). 2 went up, 1 stayed, 1 went down. 1 person answered before only, 0 after only; they are not counted. Asked of people who just took part; not evidence of skill.',
    )
    expect(
      said(
        withSeats([
          [3, 2],
          [4, 3],
          [5, 4],
        ]),
        'confidence',
      ),
    ).toContain('down 1.0 (everybody by the same)')
    expect(
      said(
        withSeats([
          [3, 4],
          [4, 3],
          [5, 5],
        ]),
        'confidence',
      ),
    ).toContain('no change (95 %')
  })

  it('shows no single answer, and says where it was not asked', () => {
    expect(said(withSeats([[3, 9]]), 'confidence')).toBe(
      '1 person answered both times. Below 3 nothing is shown, since it would show single answers.',
    )
    expect(said(withSeats([]), 'confidence')).toContain('Nobody answered both times.')
    const unasked = sampleRoom({
      settings: { ...sampleRoom().room.settings, asksConfidence: false },
    })
    expect(said(unasked, 'confidence')).toBe('The question was not asked.')
  })
})

it('says nothing of other tables on the page of one table', () => {
  const room = sampleRoom()
  const text = JSON.stringify(wrapUpText(wrapUp(room, room.tables[0]!.id)))
  expect(room.tables.slice(1).some((t) => text.includes(t.name))).toBe(false)
})

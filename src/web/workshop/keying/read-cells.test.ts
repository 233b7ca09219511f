import { describe, expect, it } from 'vitest'
import {
  readDecision,
  readMeasured,
  readQualitySaid,
  readRight,
  readTimeSaid,
} from './read-cells.ts'

const value = (read: unknown) => ({ kind: 'value', value: read })
const problem = (part: string) => ({ kind: 'problem', message: expect.stringContaining(part) })

describe('the predicted time', () => {
  it('is low, expected and high, in any way durations are written', () => {
    const wanted = value({ low: 60, expected: 75, high: 90 })
    expect(readTimeSaid('1:00 1:15 1:30')).toEqual(wanted)
    expect(readTimeSaid(' 60 75  90 ')).toEqual(wanted)
    expect(readTimeSaid('60 s; 75 s; 1:30')).toEqual(wanted)
  })

  it('may be one time alone, which then stands for exactly that', () => {
    expect(readTimeSaid('1:15')).toEqual(value({ low: 75, expected: 75, high: 75 }))
  })

  it('is refused where it is two times, out of order or unreadable, and nothing is guessed', () => {
    expect(readTimeSaid('1:00 1:30')).toEqual(problem('low, expected and high'))
    expect(readTimeSaid('1:30 1:15 1:00')).toEqual(problem('rising order'))
    expect(readTimeSaid('1:75')).toEqual(problem('60 or more after a colon'))
    expect(readTimeSaid('about a minute')).toEqual(problem('not a duration'))
    expect(readTimeSaid('  ')).toEqual({ kind: 'blank' })
  })

  // METHODS 2: a stopwatch that shows 1:02 is read as 102.
  it('asks where a number could be a stopwatch read without its colon', () => {
    expect(readTimeSaid('58 102 115')).toMatchObject({
      kind: 'question',
      asClock: '58 1:02 1:15',
      asSeconds: '58 102s 115s',
    })
    expect(readTimeSaid('58 102s 115s')).toEqual(value({ low: 58, expected: 102, high: 115 }))
  })
})

describe('the predicted quality', () => {
  it('is typed in items and kept as shares', () => {
    expect(readQualitySaid('9 10 12', 12)).toEqual(value({ low: 0.75, expected: 10 / 12, high: 1 }))
    expect(readQualitySaid('all', 12)).toEqual(value({ low: 1, expected: 1, high: 1 }))
  })

  it('is never more than there are items', () => {
    expect(readQualitySaid('11 12 13', 12)).toEqual(problem('“13” is not a number of items'))
    expect(readQualitySaid('10.5', 12)).toEqual(problem('“10.5”'))
  })
})

describe('the measured time', () => {
  it('is one time, or two of two timers that agree', () => {
    expect(readMeasured('1:31', 2)).toEqual(value({ seconds: [91], keep: null }))
    expect(readMeasured('91 1:33', 2)).toEqual(value({ seconds: [91, 93], keep: null }))
    expect(readMeasured('1:31.2', 2)).toEqual(value({ seconds: [91.2], keep: null }))
  })

  it('asks which to keep, and why, where two timers disagree', () => {
    expect(readMeasured('1:31 1:38', 2)).toEqual(problem('differ by 0:07'))
    expect(readMeasured('1:31 1:38 keep 1:38', 2)).toEqual(problem('which to keep and why'))
    expect(readMeasured('1:31 1:38 keep 1:38 first one stopped early', 2)).toEqual(
      value({ seconds: [91, 98], keep: { index: 1, why: 'first one stopped early' } }),
    )
    expect(readMeasured('1:31 1:38 keep 1:35 between', 2)).toEqual(problem('neither'))
  })

  it('asks about 131, and keeps what stands behind the times when it is answered', () => {
    expect(readMeasured('131 138 keep 138 slow', 2)).toMatchObject({
      kind: 'question',
      asClock: '1:31 1:38 keep 138 slow',
    })
  })

  it('refuses nothing, three times, and more than an hour', () => {
    expect(readMeasured('0', 2)).toEqual(problem('more than 0 s'))
    expect(readMeasured('2:00:00', 2)).toEqual(problem('at most an hour'))
    expect(readMeasured('1:31 1:32 1:33', 2)).toEqual(problem('one time, or two'))
  })
})

describe('the inspection', () => {
  const marks = (...wrong: number[]) =>
    value({ marks: Array.from({ length: 12 }, (_, i) => (wrong.includes(i + 1) ? 0 : 1)) })

  it('is the count, then the numbers of what was not right', () => {
    expect(readRight('12', 12)).toEqual(marks())
    expect(readRight('all', 12)).toEqual(marks())
    expect(readRight('10 3 7', 12)).toEqual(marks(3, 7))
    expect(readRight('10 3, 7', 12)).toEqual(marks(3, 7))
    expect(readRight('', 12)).toEqual({ kind: 'blank' })
  })

  it('does not make up which items were wrong', () => {
    expect(readRight('11', 12)).toEqual(problem('Write which item was not right'))
    expect(readRight('9', 12)).toEqual(problem('which 3 items were not right'))
    expect(readRight('0', 12)).toEqual(marks(1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12))
  })

  it('takes a bare count where it is said to be one, however it is written', () => {
    for (const text of ['10 ?', '10?', '10 of 12', '10 OF 12', '10/12', ' 10 / 12 '])
      expect(readRight(text, 12)).toEqual(value({ marks: null, right: 10 }))
    expect(readRight('12 of 12', 12)).toEqual(marks())
    expect(readRight('0 ?', 12)).toEqual(marks(1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12))
    expect(readRight('13 ?', 12)).toEqual(problem('“13” is not a number of items'))
    expect(readRight('9 of 10', 12)).toEqual(problem('The checklist has 12 items, not 10.'))
    expect(readRight('9', 12)).toEqual(problem('If the sheet does not say which, write 9 ?'))
  })

  it('says where the count and the numbers disagree', () => {
    expect(readRight('10 3', 12)).toEqual(problem('leaves 2 not right; 1 is named'))
    expect(readRight('12 3', 12)).toEqual(problem('leaves 0 not right'))
    expect(readRight('10 3 3', 12)).toEqual(problem('twice'))
    expect(readRight('11 13', 12)).toEqual(problem('“13” is not the number of an item'))
    expect(readRight('13', 12)).toEqual(problem('“13” is not a number of items'))
  })
})

it('takes one key for a decision', () => {
  expect(['a', 'D', 'x', 'adapt'].map(readDecision)).toEqual([
    value('adopt'),
    value('adapt'),
    value('abandon'),
    value('adapt'),
  ])
  expect(readDecision('maybe')).toEqual(problem('Press a for adopt'))
})

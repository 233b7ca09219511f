import { describe, expect, it } from 'vitest'
import { sampleRound } from '../../tests/support/sample-room.ts'
import {
  clockParts,
  foundText,
  itemsText,
  minuteText,
  predictionText,
  unsentText,
} from './words.ts'

const round = sampleRound(1, 3, { seconds: 41.3, right: 11, low: 38, high: 55 })

it('shows a clock with its tenth, cut and never rounded up', () => {
  expect(clockParts(41_399)).toEqual({ main: '0:41', tenth: '.3' })
  expect(clockParts(62_000)).toEqual({ main: '1:02', tenth: '.0' })
})

it('says a prediction in one sentence', () => {
  expect(predictionText(round.predictions, 12)).toBe('0:38 to 0:55, 10 to 12 of 12 items right.')
  expect(predictionText(null, 12)).toBe('Nothing predicted yet.')
  expect(itemsText({ low: 1, expected: 1, high: 1 }, 12)).toBe('all 12 items right')
})

describe('what a round found', () => {
  it('is said beside what was predicted', () => {
    expect(foundText(round, 12)).toEqual([
      'It took 0:41.3; you said 0:38 to 0:55. That is inside your range.',
      '11 of 12 items were right; you said 10 to 12 of 12 items right. That is inside your range.',
    ])
  })

  it('names the direction in words', () => {
    const slow = sampleRound(1, 3, { seconds: 96, right: 9, low: 38, high: 55 })
    expect(foundText(slow, 12).join(' ')).toMatch(/slower than you said.*worse than you said/)
  })

  it('takes an end of the range as inside it', () => {
    const edge = sampleRound(1, 3, { seconds: 55, right: 10, low: 38, high: 55 })
    expect(foundText(edge, 12).join(' ')).not.toMatch(/than you said/)
  })
})

it('says quietly what has not been sent', () => {
  expect(unsentText(3, true)).toBe('Kept on this phone; 3 things to send.')
  expect(unsentText(1, false)).toBe(
    'This browser keeps nothing: leave the page open. 1 thing to send.',
  )
})

it('tells a screen reader about full minutes only', () => {
  expect(minuteText(59_999)).toBe('')
  expect(minuteText(125_000)).toBe('2 minutes')
})

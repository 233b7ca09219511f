import { describe, expect, it } from 'vitest'
import { itemsTyped, readItems, readTime, timeTyped } from './plan-form.ts'

const typed = (low: string, expected: string, high: string) => ({ low, expected, high })

describe('a predicted time', () => {
  it('is read in every way of writing it', () => {
    expect(readTime(typed('38', '0:45', '1 min 2 s'), 'range')).toEqual({
      is: 'right',
      value: { low: 38, expected: 45, high: 62 },
    })
  })

  it('is one number where the room asks for one', () => {
    expect(readTime(typed('', '1:02', ''), 'single')).toEqual({
      is: 'right',
      value: { low: 62, expected: 62, high: 62 },
    })
  })

  it('is asked about where a stopwatch may have been read without its colon', () => {
    expect(readTime(typed('50', '102', '130'), 'range')).toEqual({
      ...{ is: 'unclear', part: 'expected', seconds: 102, perhaps: 62 },
    })
  })

  it.each([
    [typed('', '45', '50'), 'low', 'Fill in the lowest, such as 0:45.'],
    [typed('50', '45', '60'), 'low', 'The lowest is above the expected value.'],
    [typed('40', '45', '42'), 'high', 'The highest is below the expected value.'],
    [typed('0', '45', '50'), 'low', 'A time is more than 0 seconds.'],
    [typed('40', 'quick', '50'), 'expected', '"quick" is not a duration Pawl can read.'],
  ])('names what is wrong with %o', (given, part, message) => {
    expect(readTime(given, 'range')).toMatchObject({
      ...{ is: 'wrong', part, message: expect.stringContaining(message) },
    })
  })

  it('stands in its fields again as it was', () => {
    const read = readTime(typed('0:38', '0:45', '1:02.5'), 'range')
    expect(read.is === 'right' && timeTyped(read.value)).toEqual(typed('0:38', '0:45', '1:02.5'))
  })
})

describe('predicted items', () => {
  it('are a share of the checklist', () => {
    expect(readItems(typed('9', '11', '12'), 'range', 12)).toEqual({
      is: 'right',
      value: { low: 0.75, expected: 11 / 12, high: 1 },
    })
    expect(itemsTyped({ low: 0.75, expected: 11 / 12, high: 1 }, 12)).toEqual(
      typed('9', '11', '12'),
    )
  })

  it.each(['13', '-1', '1.5', 'all'])('are not %s of 12', (text) => {
    expect(readItems(typed('', text, ''), 'single', 12)).toMatchObject({
      ...{ is: 'wrong', part: 'expected' },
    })
  })
})

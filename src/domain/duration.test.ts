import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { formatDuration, parseDuration } from './duration.ts'

describe('parseDuration', () => {
  // The forms a timer calls out; METHODS 2, common practice.
  it.each([
    ['1:02', 62],
    ['62', 62],
    ['62 s', 62],
    ['62s', 62],
    ['1 min 2 s', 62],
    ['1m2s', 62],
    ['1 minute 2 seconds', 62],
    ['62.4', 62.4],
    ['62,4', 62.4],
    ['1:02.4', 62.4],
    ['01:02', 62],
    ['0:41.3', 41.3],
    ['1:00:00', 3600],
    ['1 h 5 min', 3900],
    ['2 min', 120],
    ['0', 0],
    [' 45 ', 45],
  ])('reads %j as %d seconds', (text, seconds) => {
    expect(parseDuration(text)).toEqual({ seconds, perhaps: null })
  })

  it.each([
    ['102', 102, 62],
    ['130', 130, 90],
    ['1030', 1030, 630],
    ['100', 100, 60],
    ['102.5', 102.5, 62.5],
  ])('asks about %j: %d seconds, or %d', (text, seconds, perhaps) => {
    expect(parseDuration(text)).toEqual({ seconds, perhaps })
  })

  it.each(['175', '99', '5', '12345'])('does not ask about %j', (text) => {
    expect(parseDuration(text).perhaps).toBeNull()
  })

  it.each(['', 'soon', '-3', '1:2:3:4', '1:', ':30', '3 apples', 'NaN', '1e3'])(
    'refuses %j and says how to write it',
    (text) => {
      expect(() => parseDuration(text)).toThrow(
        expect.objectContaining({
          code: 'duration.unreadable',
          hint: expect.stringContaining('1:02'),
        }),
      )
    },
  )

  it.each(['1:75', '1:60', '1:75:00'])('refuses %j: sixty or more after a colon', (text) => {
    expect(() => parseDuration(text)).toThrow(expect.objectContaining({ code: 'duration.sixty' }))
  })

  it('reads back whatever is shown, to the tenth of a second', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 500_000 }), (tenths) => {
        const reading = parseDuration(formatDuration(tenths / 10))
        expect(reading.seconds).toBeCloseTo(tenths / 10, 6)
        expect(reading.perhaps).toBeNull()
      }),
    )
  })
})

describe('formatDuration', () => {
  it.each([
    [62, '1:02'],
    [41.34, '0:41.3'],
    [59.96, '1:00'],
    [3599.97, '1:00:00'],
    [3661, '1:01:01'],
    [0, '0:00'],
    [-5, '−0:05'],
  ])('shows %d as %s', (seconds, text) => {
    expect(formatDuration(seconds)).toBe(text)
  })
})

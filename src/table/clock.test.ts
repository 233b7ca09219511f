import { describe, expect, it } from 'vitest'
import { advance, ageOf, type ClockReading, startRun, startRunAt, timeOf } from './clock.ts'

// No published table exists for this; each case is worked by hand from what really passed.
const DAY = Date.parse('2026-03-02T09:00:00Z')
const MIN = 60_000

const read = (
  trueMs: number,
  more: Partial<ClockReading> & { slept?: number; set?: number } = {},
): ClockReading => {
  const { slept = 0, set = 0, ...rest } = more
  return {
    steady: 5000 + trueMs - slept,
    wall: DAY + trueMs + set,
    page: 'one',
    visible: true,
    server: null,
    ...rest,
  }
}
const play = (...readings: ClockReading[]) =>
  timeOf(readings.slice(1).reduce(advance, startRun(readings[0]!)))

describe('a clock on one page', () => {
  it('counts by the steady clock and says so', () => {
    expect(play(read(0), read(20_000), read(41_320))).toEqual({
      seconds: 41.3,
      how: 'steady-clock',
      note: '',
      choose: null,
    })
  })

  it.each([10 * MIN, -10 * MIN])('does not care that the clock of day is %i ms wrong', (set) => {
    expect(play(read(0, { set }), read(62_000, { set }))).toMatchObject({
      seconds: 62,
      how: 'steady-clock',
    })
  })

  it.each([
    [10 * MIN, 'forward'],
    [-10 * MIN, 'back'],
  ])('keeps to the steady clock when the clock of day is set by %i ms in sight', (set, way) => {
    expect(play(read(0), read(10_000), read(10_100, { set }), read(30_000, { set }))).toEqual({
      seconds: 30,
      how: 'steady-clock',
      note: `The device's clock was set ${way} by 10:00.`,
      choose: null,
    })
  })

  it('goes by the clock of day after a sleep out of sight', () => {
    const asleep = { slept: 40_000 }
    expect(
      play(
        read(0),
        read(5000, { visible: false }),
        read(45_000, { visible: false, ...asleep }),
        read(50_000, asleep),
      ),
    ).toEqual({ seconds: 50, how: 'device-clock', note: 'Asleep for 0:40.', choose: null })
  })

  it('lets the server correct a sleep that looked like a clock set in sight', () => {
    // A lid shut on a page in sight: the steady clock loses 40 s.
    const asleep = { slept: 40_000 }
    expect(
      play(read(0, { server: DAY }), read(45_000, { ...asleep, server: DAY + 45_200 })),
    ).toMatchObject({ seconds: 45, how: 'server-clock' })
  })

  it('asks when the clock went back out of sight and no server is known', () => {
    const timed = play(
      read(0),
      read(5000, { visible: false }),
      read(65_000, { visible: false, set: -30_000 }),
      read(70_000, { set: -30_000 }),
    )
    expect(timed.choose).toEqual([70, 40])
  })

  it('lets the server settle the same', () => {
    const set = -30_000
    expect(
      play(
        read(0, { server: DAY }),
        read(5000, { visible: false }),
        read(70_000, { visible: false, set, server: DAY + 70_300 }),
      ),
    ).toMatchObject({ seconds: 70, how: 'server-clock', choose: null })
  })

  it('never lets the server overrule an undisturbed steady clock', () => {
    expect(play(read(0, { server: DAY }), read(60_000, { server: DAY + 70_000 }))).toMatchObject({
      seconds: 60,
      how: 'steady-clock',
    })
  })
})

describe('a clock across pages', () => {
  const later = (trueMs: number, more: Parameters<typeof read>[1] = {}) =>
    read(trueMs, { page: 'two', steady: trueMs - 25_000, ...more })

  it('goes by the clock of day after a reload', () => {
    expect(play(read(0), read(20_000), later(25_200), later(41_300))).toEqual({
      seconds: 41.3,
      how: 'device-clock',
      note: 'The page was reloaded while the clock ran.',
      choose: null,
    })
  })

  it.each([10 * MIN, -10 * MIN])('is not misled by a clock that is always %i ms off', (set) => {
    expect(play(read(0, { set }), read(20_000, { set }), later(41_300, { set })).seconds).toBe(41.3)
  })

  it('keeps a jump that was seen before the reload out of the time', () => {
    const set = 10 * MIN
    expect(play(read(0), read(9900), read(10_000, { set }), later(26_000, { set })).seconds).toBe(
      26,
    )
  })

  it('goes by the server when the clock was set while no page was there', () => {
    const set = 10 * MIN
    expect(
      play(
        read(0, { server: DAY }),
        read(20_000, { server: DAY + 20_000 }),
        later(41_300, { set, server: DAY + 41_500 }),
      ),
    ).toMatchObject({ seconds: 41.5, how: 'server-clock' })
  })

  it('asks when the clock went back while no page was there', () => {
    expect(play(read(0), read(20_000), later(30_000, { set: -MIN })).choose).toEqual([25])
  })
})

it("learns the server's clock late where nothing has disturbed the run", () => {
  const run = advance(startRun(read(0)), read(8000, { server: DAY + 9000 }))
  expect(run.start.server).toBe(DAY + 1000)
})

it('can start at a moment that has passed', () => {
  expect(timeOf(advance(startRunAt(read(300), 300), read(10_000))).seconds).toBe(10)
})

describe('the age of a move', () => {
  it.each([
    ['on the same page', read(0), read(9000), 9000],
    ['with a clock set back', read(0), read(9000, { set: -MIN }), 9000],
    ['after a sleep', read(0), read(90_000, { slept: 60_000 }), 90_000],
    ['after a reload', read(0), read(90_000, { page: 'two', steady: 10 }), 90_000],
    ['never below zero', read(0), read(5000, { page: 'two', set: -MIN }), 0],
    [
      'by the server where the device differs from it',
      read(0, { server: DAY }),
      read(9000, { set: 10 * MIN, server: DAY + 9100 }),
      9100,
    ],
  ])('%s', (_case, made, now, ms) => {
    expect(ageOf(made, now)).toBe(ms)
  })
})

import fc from 'fast-check'
import { expect, it } from 'vitest'
import { beganWith, sameTrial, settle, type TimedTrial, unsettledReason } from './timing.ts'

const reading = (seconds: number, kept: number | null = null) => ({ seconds, kept })

it('takes the mean of timers that agree, and asks where they do not (METHODS 2)', () => {
  expect(settle([reading(62)], 2).seconds).toBe(62)
  expect(settle([reading(62), reading(63)], 2).seconds).toBe(62.5)
  expect(settle([reading(60), reading(62)], 2).seconds).toBe(61)
  expect(settle([reading(60), reading(62.1)], 2)).toMatchObject({ seconds: null, unsettled: true })
  expect(settle([], 2)).toEqual({ seconds: null, unsettled: false, apart: 0 })
  expect(unsettledReason(9.04)).toContain('9.0 s')
})

it('takes the reading that was kept, whatever the others say', () => {
  expect(settle([reading(62, 1), reading(102, 0)], 2).seconds).toBe(62)
  expect(settle([reading(62), reading(102, 0)], 2).seconds).toBe(62)
})

it('lies between the shortest and the longest reading, in any order', () => {
  const times = fc.array(fc.double({ min: 0.1, max: 3600, noNaN: true }), {
    minLength: 1,
    maxLength: 4,
  })
  fc.assert(
    fc.property(times, fc.double({ min: 0, max: 60, noNaN: true }), (seconds, within) => {
      const forward = settle(
        seconds.map((s) => reading(s)),
        within,
      )
      const back = settle(
        seconds.toReversed().map((s) => reading(s)),
        within,
      )
      expect(back.unsettled).toBe(forward.unsettled)
      if (forward.seconds === null) {
        expect(forward.apart).toBeGreaterThan(within)
        return
      }
      expect(forward.seconds).toBeGreaterThanOrEqual(Math.min(...seconds) - 0.001)
      expect(forward.seconds).toBeLessThanOrEqual(Math.max(...seconds) + 0.001)
      expect(back.seconds).toBeCloseTo(forward.seconds, 2)
    }),
  )
})

const trial = (own: Partial<TimedTrial> = {}): TimedTrial => ({
  id: 'A',
  at: '2026-03-02T09:00:00.000Z',
  voidReason: null,
  seatIds: ['S1'],
  seconds: 60,
  ...own,
})
const t0 = Date.parse('2026-03-02T09:00:00.000Z')
const run = (from: number, to: number) => ({ from: t0 + from * 1000, to: t0 + to * 1000 })

it('takes an overlapping run of another phone as the same trial, give or take 5 seconds', () => {
  const found = (from: number, to: number, seat: string | null = 'S2') =>
    sameTrial([trial()], run(from, to), seat)?.id ?? null
  expect(found(1, 61)).toBe('A')
  expect(found(-60, -4)).toBe('A')
  expect(found(-60, -6)).toBeNull()
  expect(found(64, 120)).toBe('A')
  expect(found(66, 120)).toBeNull()
  expect(found(1, 61, 'S1')).toBeNull()
})

it('joins one that still runs, and of several the last', () => {
  const running = trial({ seconds: null })
  expect(sameTrial([running], run(500, 560), 'S2')?.id).toBe('A')
  expect(sameTrial([trial(), trial({ id: 'B' })], run(0, 60), 'S2')?.id).toBe('B')
})

it('joins a void trial where the run began within it, and none that comes after', () => {
  const void_ = trial({ voidReason: 'Dropped the tray.' })
  expect(sameTrial([void_], run(2, 70), 'S2')?.id).toBe('A')
  expect(sameTrial([void_], run(61, 120), 'S2')).toBeNull()
  expect(sameTrial([void_], run(-30, 20), 'S2')).toBeNull()
  expect(sameTrial([{ ...void_, seconds: null }], run(2, 70), 'S2')).toBeNull()
  expect(sameTrial([trial({ id: 'B' }), void_], run(2, 70), 'S2')?.id).toBe('B')
})

it('places a run that has not ended by when it began', () => {
  const begins = (from: number) => sameTrial([trial()], run(from, Infinity), 'S2')?.id ?? null
  expect(begins(59)).toBe('A')
  expect(begins(61)).toBeNull()
  expect(beganWith(trial(), run(-4, 0))).toBe(true)
  expect(beganWith(trial(), run(-6, 0))).toBe(false)
})

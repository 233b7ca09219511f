import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { openRound, sampleRound } from '../../tests/support/sample-room.ts'
import { itemsPlot, plotText, timePlot } from './plot.ts'

const rounds = [
  sampleRound(1, 1, { seconds: 96, right: 11, low: 60, high: 90 }),
  sampleRound(1, 2, { seconds: 71, right: 12, low: 70, high: 90 }),
]

describe('the plot of own rounds', () => {
  it('draws the bracket around its tick, and the outcome where it fell', () => {
    const [first] = timePlot(rounds).rounds
    const { top, tick, bottom } = first!.bracket!
    expect(top).toBeLessThan(tick)
    expect(tick).toBeLessThan(bottom)
    // 96 s is slower than the 90 s said: above the bracket.
    expect(first!.dot).toBeLessThan(top)
  })

  it('always holds every time and every prediction', () => {
    const seconds = fc.integer({ min: 1, max: 20_000 })
    fc.assert(
      fc.property(fc.array(fc.tuple(seconds, seconds, seconds), { maxLength: 8 }), (list) => {
        const plot = timePlot(
          list.map(([time, a, b], i) =>
            sampleRound(1, i + 1, {
              ...{ seconds: time, right: 6, low: Math.min(a, b), high: Math.max(a, b) },
            }),
          ),
        )
        for (const { bracket, dot, x } of plot.rounds) {
          expect(Math.min(dot!, bracket!.top)).toBeGreaterThanOrEqual(12)
          expect(Math.max(dot!, bracket!.bottom)).toBeLessThanOrEqual(plot.baseline)
          expect(x).toBeGreaterThan(44)
          expect(x).toBeLessThan(plot.width)
        }
        expect(plot.ticks.length).toBeLessThanOrEqual(6)
      }),
    )
  })

  it('leaves out what was not predicted or not measured', () => {
    const [round] = timePlot([openRound(1, 1)]).rounds
    expect(round).toMatchObject({ bracket: null, dot: null })
  })

  it('puts items on the scale of the whole list', () => {
    const part = { ...rounds[0]!, right: 6, inspected: 6 }
    expect(itemsPlot([part], 12).rounds[0]!.dot).toBe(12)
  })

  it('is said in words as well', () => {
    expect(plotText(rounds, 12)[0]).toBe(
      'Round 1: predicted 1:00 to 1:30, 10 to 12 of 12 items right; got 1:36, 11 of 12 items right.',
    )
  })
})

import { describe, expect, it } from 'vitest'
import { hasSignal } from './phase-signals.ts'
import { ruleSetOf } from './rules.ts'
import { runLengthDistribution } from './run-length.ts'
import { type ChangedProcess, simulateTimeToSignal } from './simulate-time-to-signal.ts'
import { createRandom } from './special/random.ts'
import { rareSignalChances } from './time-to-rare-signal.ts'
import { timeToCountSignal } from './time-to-signal.ts'
import type { RuleSetId } from './types.ts'

const CHARTS = 20_000
/** Four Monte Carlo standard errors at p = ½. */
const NEAR = 4 * Math.sqrt(0.25 / CHARTS)

const cumulated = (chances: Float64Array) => {
  let sum = 0
  return chances.map((p) => {
    sum += p
    return sum
  })
}
const furthest = (a: Float64Array, b: Float64Array) =>
  Math.max(...a.map((x, t) => Math.abs(x - b[t]!)))

describe('simulateTimeToSignal', () => {
  it.each(['zone-tests', 'shewhart-healthcare', 'eight-tests'] as const)(
    'ER7: agrees with the chain of %s, trends and all (Champ & Woodall 1987)',
    (id) => {
      for (const shift of [0, 1]) {
        const exact = cumulated(runLengthDistribution(ruleSetOf(id).pointRules, 40, shift))
        const { chances } = simulateTimeToSignal(id, { kind: 'normal', shift }, [], 40, {
          charts: CHARTS,
        })
        expect(furthest(chances, exact)).toBeLessThan(NEAR)
      }
    },
  )

  it('ER7: agrees with the exact chances of counts where no rule is about order', () => {
    for (const kind of ['p', 'u'] as const) {
      const change = { kind, before: 0.3, after: 0.45, denominators: [20, 35] }
      const exact = timeToCountSignal('zone-tests', change, 30).chances
      const { chances } = simulateTimeToSignal('zone-tests', change, [], 30, { charts: CHARTS })
      expect(furthest(chances, exact)).toBeLessThan(NEAR)
    }
  })

  it('ER7: a T chart has the exact chain with trends, which the simulated times agree with', () => {
    const exact = rareSignalChances('t', 'shewhart-healthcare', 20, 50, 30, 'with')
    const without = rareSignalChances('t', 'shewhart-healthcare', 20, 50, 30)
    exact.forEach((chance, t) => {
      expect(chance).toBeGreaterThanOrEqual(without[t]! - 1e-12)
    })
    // Six in a row rising or falling alone, whatever the distribution of independent times.
    const trend = ruleSetOf('shewhart-healthcare').pointRules.filter((r) => r.shape === 'trend')
    const alone = cumulated(runLengthDistribution(trend, 30))
    exact.forEach((chance, t) => {
      expect(chance).toBeGreaterThanOrEqual(alone[t]! - 1e-12)
      expect(chance).toBeLessThanOrEqual(without[t]! + alone[t]! + 1e-12)
    })
  })

  it.each([
    ['run-classic', []],
    ['run-length-adjusted', []],
    ['run-length-adjusted', [1, -1, -1, 1, 0, 1, -1, 1, -1, 1, -1, -1]],
  ] as const)('ER7: reads %s with %j before it as the chart itself is read', (id, earlier) => {
    for (let seed = 1; seed <= 60; seed++) {
      const random = createRandom(seed)
      const values = Array.from({ length: 30 }, () => 0.6 + random.normal())
      const wanted = values.findIndex((_, t) => {
        const all = [...earlier, ...values.slice(0, t + 1)]
        const zones = Uint8Array.from(all, (x) => (x > 0 ? 1 : x < 0 ? 5 : 0))
        return hasSignal(Float64Array.from(all), zones, ruleSetOf(id))
      })
      const process = { kind: 'normal', shift: 0.6 } as const
      const { chances } = simulateTimeToSignal(id, process, earlier, 30, { charts: 1, seed })
      expect(chances.indexOf(1)).toBe(wanted)
    }
  })

  it('ER7: starts afresh where the points before already signal, and says so', () => {
    const run = new Array<number>(14).fill(1)
    const process = { kind: 'normal', shift: 0 } as const
    const answer = simulateTimeToSignal('run-length-adjusted', process, run, 9, { charts: 50 })
    expect(answer.alreadySignals).toBe(true)
    expect(answer.chances.at(-1)).toBe(0)
  })

  it('ER7: a run chart of times between events counts the sides of its centre', () => {
    const twice = simulateTimeToSignal(
      'run-length-adjusted',
      { kind: 't', center: 10 * Math.LN2, after: 20 },
      [],
      40,
      { charts: CHARTS },
    )
    // P(above the old median) after the mean doubles is 2^(−½): the same as a shift of that quantile.
    const shift = 0.5449521
    const normal = simulateTimeToSignal('run-length-adjusted', { kind: 'normal', shift }, [], 40, {
      charts: CHARTS,
      seed: 2,
    })
    expect(furthest(twice.chances, normal.chances)).toBeLessThan(1.5 * NEAR)
  })

  it('ER7: stops when told to, and refuses what cannot be', () => {
    const process = { kind: 'normal', shift: 0 } as const
    const stopped = simulateTimeToSignal('zone-tests', process, [], 5, {
      charts: 1000,
      onProgress: () => false,
    })
    expect(stopped.charts).toBe(20)
    const refuse = (p: ChangedProcess, id: RuleSetId = 'zone-tests', horizon = 5) =>
      expect(() => simulateTimeToSignal(id, p, [], horizon)).toThrow(
        expect.objectContaining({ code: 'stats.out_of_range' }),
      )
    refuse(process, 'zone-tests', 0)
    refuse({ kind: 'normal', shift: Number.NaN })
    refuse({ kind: 't', center: 1, after: 2 })
    refuse({ kind: 't', center: 1, after: 0 }, 'run-classic')
    refuse({ kind: 'p', before: 0.5, after: 1.2, denominators: [3] })
    refuse({ kind: 'p', before: 0.5, after: 0.6, denominators: [] })
    refuse({ kind: 'p', before: 0.5, after: 0.6, denominators: [2.5] })
  })
})

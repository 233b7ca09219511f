import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { phaseSignals } from './phase-signals.ts'
import { RULE_SETS } from './rules.ts'
import { scanPoints, zonesOf } from './scan-points.ts'
import type { RuleSetId } from './types.ts'

const standard = { center: 0, sigma: 1, lower: -3, upper: 3 }

/** One-based positions at which a rule is met, as the published examples list them. */
function met(z: readonly number[], set: RuleSetId, slug: string): number[] {
  const values = Float64Array.from(z)
  const hits = scanPoints(values, zonesOf(values, standard), RULE_SETS[set])
  const bit = 1 << RULE_SETS[set].pointRules.findIndex((rule) => rule.slug === slug)
  return [...hits.keys()].filter((i) => (hits[i]! & bit) !== 0).map((i) => i + 1)
}

/** One-based members of each signal of a rule. */
function stretches(z: readonly number[], set: RuleSetId, slug: string): number[][] {
  const values = Float64Array.from(z)
  return phaseSignals(values, zonesOf(values, standard), RULE_SETS[set])
    .signals.filter((signal) => signal.rule === slug)
    .map((signal) => signal.members.map((i) => i + 1))
}

// Sequences in sigmas with the points at which each of Nelson's tests is met, worked out by hand
// from the figure of Nelson 1984 (strict inequalities; the point that completes the pattern).
const mixed = [
  0.3, -1.1, 2.1, 2.3, -0.4, 0.8, 1.2, 1.3, 1.1, 1.6, 0.9, 0.4, 0.2, 0.1, 0.6, 0.3, -3.4,
]

describe('eight tests (Nelson 1984)', () => {
  it('ET1: a point beyond a limit', () => {
    expect(met([0.2, -0.5, 3.01, 1.2, -3.2, 2.9], 'eight-tests', 'beyond-limits')).toEqual([3, 5])
  })
  it('ET1 GEN2: a point on a limit is inside', () => {
    expect(met([3, -3, 2.999, 3.0001], 'eight-tests', 'beyond-limits')).toEqual([4])
    expect(met([3, -3, 2.999, 3.0001], 'eight-tests', 'two-of-three')).toEqual([3, 4])
  })
  it('ET2: nine on one side', () => {
    const z = [-0.1, 0.2, 0.5, 0.1, 0.9, 0.3, 0.4, 0.6, 0.2, 0.8, 0.1, -0.3]
    expect(met(z, 'eight-tests', 'shift')).toEqual([10, 11])
    expect(stretches(z, 'eight-tests', 'shift')).toEqual([[2, 3, 4, 5, 6, 7, 8, 9, 10, 11]])
    expect(met(mixed, 'eight-tests', 'shift')).toEqual([14, 15, 16])
  })
  it('ET3: six rising; equal neighbours end it', () => {
    expect(met([1.5, -0.9, -0.5, -0.1, 0.2, 0.3, 0.9, 1.1], 'eight-tests', 'trend')).toEqual([7, 8])
    expect(met([-1, -0.5, -0.1, -0.1, 0.2, 0.3, 0.9], 'eight-tests', 'trend')).toEqual([])
  })
  it('ET4 ET7: alternation, and all of it within 1 sigma', () => {
    const z = Array.from({ length: 16 }, (_, i) => (i % 2 === 0 ? 0.5 : -0.5))
    expect(met(z, 'eight-tests', 'alternating')).toEqual([14, 15, 16])
    expect(met(z, 'eight-tests', 'near-center')).toEqual([15, 16])
    expect(stretches(z, 'eight-tests', 'alternating')).toEqual([z.map((_, i) => i + 1)])
  })
  it('ET4: equal neighbours end an alternation', () => {
    const z = Array.from({ length: 20 }, (_, i) => (i === 10 ? -0.5 : i % 2 === 0 ? 0.5 : -0.5))
    expect(met(z, 'eight-tests', 'alternating')).toEqual([])
  })
  it('ET5 ET6: zones on one side', () => {
    expect(met(mixed, 'eight-tests', 'two-of-three')).toEqual([4, 5])
    expect(met(mixed, 'eight-tests', 'four-of-five')).toEqual([10, 11])
    const z = [1.2, 1.4, 0.2, 1.1, 1.3, -1.2, 1.5, 1.6, 1.2, 1.1]
    expect(met(z, 'eight-tests', 'four-of-five')).toEqual([5, 8, 9, 10])
    // Windows that share points are one signal, made of the points beyond 1 sigma.
    expect(stretches(z, 'eight-tests', 'four-of-five')).toEqual([[1, 2, 4, 5, 7, 8, 9, 10]])
  })
  it('ET8: eight on both sides, none within 1 sigma; one side alone does not count', () => {
    const z = [1.1, -1.2, 1.3, -1.4, -1.1, 1.5, 1.2, -1.3, 1.4, 0.2]
    expect(met(z, 'eight-tests', 'none-near-center')).toEqual([8, 9])
    expect(met(Array(12).fill(1.5), 'eight-tests', 'none-near-center')).toEqual([])
  })
})

describe('zone tests (Western Electric 1956)', () => {
  it('ZT1 ZT2: beyond a limit, two of three beyond 2 sigma', () => {
    expect(met([2.1, 0, 2.2, -3.1, -2.5], 'zone-tests', 'two-of-three')).toEqual([3, 5])
    expect(met([2.1, 0, 2.2, -3.1, -2.5], 'zone-tests', 'beyond-limits')).toEqual([4])
  })
  it('ZT2 GEN12: two on opposite sides are not two on one side', () => {
    expect(met([2.1, -2.2, 0], 'zone-tests', 'two-of-three')).toEqual([])
  })
  it('ZT3: four of five beyond 1 sigma', () => {
    expect(met([1.1, 1.2, 0.5, 1.3, 1.4], 'zone-tests', 'four-of-five')).toEqual([5])
  })
  it('ZT4 GEN1: eight on one side, points on the line passed over', () => {
    const z = [0.1, 0.2, 0, 0.3, 0.4, 0, 0, 0.5, 0.1, 0.2, 0.3, 0, -1]
    expect(met(z, 'zone-tests', 'shift')).toEqual([11])
    expect(stretches(z, 'zone-tests', 'shift')).toEqual([[1, 2, 4, 5, 8, 9, 10, 11]])
  })
})

describe('Shewhart rules for health care (Provost & Murray 2011, from memory)', () => {
  it('SH1: consecutive points beyond one limit are one signal', () => {
    expect(stretches([4, 5, -4, 0, 4], 'shewhart-healthcare', 'beyond-limits')).toEqual([
      [1, 2],
      [3],
      [5],
    ])
  })
  it('SH2: eight on one side, not seven', () => {
    expect(met(Array(7).fill(0.5), 'shewhart-healthcare', 'shift')).toEqual([])
    expect(met(Array(9).fill(-0.5), 'shewhart-healthcare', 'shift')).toEqual([8, 9])
  })
  it('SH3: six rising, repeats passed over', () => {
    const z = [0.5, 0, 0.1, 0.1, 0.2, 0.3, 0.3, 0.4, 0.5, -1]
    expect(met(z, 'shewhart-healthcare', 'trend')).toEqual([9])
    expect(stretches(z, 'shewhart-healthcare', 'trend')).toEqual([[2, 3, 5, 6, 8, 9]])
    expect(met([5, 4, 3, 2, 1], 'shewhart-healthcare', 'trend')).toEqual([])
    expect(met([6, 5, 4, 3, 2, 1], 'shewhart-healthcare', 'trend')).toEqual([6])
  })
  it('SH4: two of three close to one limit', () => {
    expect(stretches([2.5, 0, 2.5, 0, 0], 'shewhart-healthcare', 'two-of-three')).toEqual([[1, 3]])
  })
  it('SH5: fifteen within 1 sigma, the 1-sigma line included', () => {
    const z: number[] = Array.from({ length: 15 }, (_, i) => (i % 2 === 0 ? 1 : -0.2))
    expect(met(z, 'shewhart-healthcare', 'near-center')).toEqual([15])
    expect(met(z.with(7, 1.01), 'shewhart-healthcare', 'near-center')).toEqual([])
  })
})

describe('all point rules against a second, slower reading of SPEC.md', () => {
  // Values on a coarse grid, so that ties, points on lines and repeats are common.
  // The reach varies, so that quiet stretches within 1 sigma occur as well as wild ones.
  const series = fc
    .record({ reach: fc.integer({ min: 2, max: 14 }), lift: fc.integer({ min: -4, max: 4 }) })
    .chain(({ reach, lift }) =>
      fc.array(
        fc.integer({ min: -reach, max: reach }).map((k) => (k + lift) / 4),
        { minLength: 1, maxLength: 60 },
      ),
    )
  const sameSide = (w: number[], need: number, beyond: number) =>
    w.filter((x) => x > beyond).length >= need || w.filter((x) => x < -beyond).length >= need

  function slow(z: number[], i: number, slug: string, set: RuleSetId): boolean {
    const last = (n: number) => (i + 1 < n ? null : z.slice(i + 1 - n, i + 1))
    const seen = (n: number) => z.slice(Math.max(0, i + 1 - n), i + 1)
    switch (slug) {
      case 'beyond-limits':
        return Math.abs(z[i]!) > 3
      case 'two-of-three':
        return sameSide(seen(3), 2, 2)
      case 'four-of-five':
        return sameSide(seen(5), 4, 1)
      case 'near-center':
        return last(15)?.every((x) => Math.abs(x) <= 1) ?? false
      case 'none-near-center': {
        const w = last(8)
        return (
          (w?.every((x) => Math.abs(x) > 1) ?? false) &&
          w !== null &&
          w.some((x) => x > 0) &&
          w.some((x) => x < 0)
        )
      }
      case 'shift': {
        const useful = z.slice(0, i + 1).filter((x) => x !== 0)
        const length = set === 'eight-tests' ? 9 : 8
        const w = useful.slice(-length)
        return z[i] !== 0 && w.length === length && (w.every((x) => x > 0) || w.every((x) => x < 0))
      }
      case 'trend': {
        const line =
          set === 'eight-tests'
            ? z.slice(0, i + 1)
            : z.slice(0, i + 1).filter((x, k) => x !== z[k - 1])
        if (i > 0 && z[i] === z[i - 1]) return false
        const w = line.slice(-6)
        const steps = w.slice(1).map((x, k) => x - w[k]!)
        return w.length === 6 && (steps.every((d) => d > 0) || steps.every((d) => d < 0))
      }
      case 'alternating': {
        const w = last(14)
        if (w === null) return false
        const steps = w.slice(1).map((x, k) => Math.sign(x - w[k]!))
        return steps.every((d, k) => d !== 0 && (k === 0 || d === -steps[k - 1]!))
      }
      default:
        throw new Error(slug)
    }
  }

  it.each(['shewhart-healthcare', 'zone-tests', 'eight-tests'] as const)(
    'GEN1 GEN2: %s is met at the same points',
    (set) => {
      fc.assert(
        fc.property(series, (z) => {
          for (const { slug } of RULE_SETS[set].pointRules) {
            const expected = z.flatMap((_, i) => (slow(z, i, slug, set) ? [i + 1] : []))
            expect(met(z, set, slug), slug).toEqual(expected)
          }
        }),
        { numRuns: 300 },
      )
    },
  )

  it.each(['shewhart-healthcare', 'zone-tests', 'eight-tests', 'run-classic'] as const)(
    'GEN12: stretches of %s never repeat a point, and mirror when the chart is turned over',
    (set) => {
      fc.assert(
        fc.property(series, (z) => {
          for (const { slug } of RULE_SETS[set].pointRules) {
            const found = stretches(z, set, slug)
            const flat = found.flat()
            if (slug !== 'alternating') expect(new Set(flat).size, slug).toBe(flat.length)
            expect(
              stretches(
                z.map((x) => -x),
                set,
                slug,
              ),
              slug,
            ).toEqual(found)
          }
        }),
        { numRuns: 300 },
      )
    },
  )
})

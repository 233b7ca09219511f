import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { AppError } from '../errors.ts'
import { analyze } from './analyze.ts'
import { falseSignalChance } from './false-signal-chance.ts'
import { CHART_KINDS, type PhaseStart, type RuleSetId, type Series } from './types.ts'

const odd = fc.oneof(
  { weight: 8, arbitrary: fc.integer({ min: 0, max: 30 }) },
  { weight: 2, arbitrary: fc.double({ min: -5, max: 50, noNaN: true }) },
  {
    weight: 1,
    arbitrary: fc.constantFrom(null, null, 0, -1, 1e300, -1e300, 5e-324, Number.NaN, Infinity),
  },
)
const tame = fc.oneof(
  { weight: 12, arbitrary: fc.integer({ min: 0, max: 30 }) },
  { weight: 1, arbitrary: fc.constant(null) },
)
const column = (n: number) =>
  fc.oneof(
    fc.array(tame, { minLength: n, maxLength: n }),
    fc.array(odd, { minLength: n, maxLength: n }),
  )

const given = fc.integer({ min: 0, max: 45 }).chain((n) =>
  fc.record({
    n: fc.constant(n),
    values: column(n),
    numerators: column(n),
    denominators: column(n),
    subgroups: fc.array(
      fc.oneof(fc.constant(null), fc.array(fc.integer({ min: -9, max: 9 }), { maxLength: 6 })),
      { minLength: n, maxLength: n },
    ),
    which: fc.constantFrom('values', 'fractions', 'subgroups', 'all'),
    kind: fc.constantFrom('auto' as const, ...CHART_KINDS),
    ruleSet: fc.constantFrom<RuleSetId | undefined>(
      undefined,
      'run-classic',
      'run-length-adjusted',
      'shewhart-healthcare',
      'zone-tests',
      'eight-tests',
      'none',
    ),
    leftOut: fc.array(fc.integer({ min: 0, max: Math.max(0, n - 1) }), { maxLength: 4 }),
    starts: fc.uniqueArray(fc.integer({ min: 1, max: n + 3 }), { maxLength: 4 }),
    frozen: fc.option(fc.integer({ min: 1, max: n + 3 })),
    better: fc.constantFrom('up' as const, 'down' as const, null),
  }),
)

describe('analyze on anything', () => {
  it('GEN1 GEN4 GEN9: answers without NaN, with positions that exist, or refuses with a code', () => {
    fc.assert(
      fc.property(given, (g) => {
        const series: Series = {
          at: Array.from({ length: g.n }, (_, i) => String(i + 1)),
          ...(g.which === 'values' || g.which === 'all' ? { values: g.values } : {}),
          ...(g.which === 'fractions' || g.which === 'all'
            ? { numerators: g.numerators, denominators: g.denominators }
            : {}),
          ...(g.which === 'subgroups' || g.which === 'all' ? { subgroups: g.subgroups } : {}),
          leftOut: g.leftOut.map((index) => ({ index, reason: 'a reason' })),
        }
        const phases: PhaseStart[] = g.starts
          .toSorted((a, b) => a - b)
          .map((at, k) => ({
            at: String(at),
            frozenThrough: k === 0 && g.frozen !== null ? String(g.frozen) : null,
          }))
        try {
          const analysis = analyze(series, {
            kind: g.kind,
            phases,
            better: g.better,
            ...(g.ruleSet === undefined ? {} : { ruleSet: g.ruleSet }),
          })
          const text = JSON.stringify(analysis, (_key, value) => {
            if (typeof value === 'number') expect(Number.isFinite(value)).toBe(true)
            return value
          })
          expect(JSON.parse(text)).toEqual(analysis)
          expect(analysis.points).toHaveLength(g.n)
          for (const [s, signal] of analysis.signals.entries()) {
            expect(signal.text).toMatch(/^[^\n]+\.$/)
            expect(signal.points.length).toBeGreaterThan(0)
            for (const [k, p] of signal.points.entries()) {
              expect(analysis.points[p]!.signals).toContain(s)
              expect(analysis.points[p]!.leftOut).toBeNull()
              expect(analysis.points[p]!.value).not.toBeNull()
              if (k > 0) expect(p).toBeGreaterThan(signal.points[k - 1]!)
            }
          }
          const { chance } = falseSignalChance(analysis, { budget: 500 })
          expect(chance).toBeGreaterThanOrEqual(0)
          expect(chance).toBeLessThanOrEqual(1)
        } catch (error) {
          if (!(error instanceof AppError)) throw error
          expect(error.code).toMatch(/^stats\./)
          expect(error.hint).not.toBe('')
        }
      }),
      { numRuns: 1500 },
    )
  })
})

/** Invented series, charted, for tests of layout, painting and description. */
import fc from 'fast-check'
import type { ChartTest, TestMark, TimeChartSpec } from '../../src/charts/spec.ts'
import { analyze } from '../../src/stats/analyze.ts'
import type { Analysis } from '../../src/stats/types.ts'

const DAY = 86_400_000

/** ISO date `days` after `start`. */
function dayAfter(start: string, days: number): string {
  return new Date(Date.parse(start) + days * DAY).toISOString().slice(0, 10)
}

// Share of discharge summaries sent within a day, 26 weeks of an invented ward.
const SENT = [
  24, 17, 21, 23, 19, 22, 18, 21, 24, 20, 7, 20, 22, 19, 22, 21, 23, 26, 28, 30, 29, 31, 29, 32, 31,
  33,
]

/** A P chart of two phases, the first with frozen limits. */
function sampleAnalysis(): Analysis {
  const at = SENT.map((_, i) => dayAfter('2026-02-02', 7 * i))
  return analyze(
    { at, numerators: SENT, denominators: SENT.map((_, i) => 40 + ((i * 7) % 5)) },
    {
      kind: 'p',
      better: 'up',
      phases: [
        { at: at[0]!, frozenThrough: at[12]! },
        { at: '2026-05-25', reason: 'Test 4 was adopted.' },
      ],
    },
  )
}

export const SAMPLE_TESTS: readonly ChartTest[] = [
  {
    id: 'one',
    number: 1,
    label: 'Checklist on the door',
    mark: 'abandon',
    from: '2026-04-20',
    to: '2026-04-22',
  },
  {
    id: 'two',
    number: 2,
    label: 'One doctor, one day',
    mark: 'adapt',
    from: '2026-05-11',
    to: '2026-05-18',
    bracket: { low: 0.5, high: 0.62, expected: 0.55, outcome: 0.58 },
  },
  {
    id: 'three',
    number: 3,
    label: 'The day shift',
    mark: 'adopt',
    from: '2026-06-01',
    to: '2026-06-15',
    bracket: { low: 0.6, high: 0.8, expected: 0.7, outcome: 0.84 },
  },
  {
    id: 'four',
    number: 4,
    label: 'The night shift',
    mark: 'running',
    from: '2026-07-20',
    to: '2026-08-03',
    bracket: { low: 0.7, high: 0.95, expected: 0.8 },
  },
]

export function sampleSpec(width = 1200): TimeChartSpec {
  return {
    title: 'Discharge summaries sent within a day',
    subtitle: 'An invented ward. Better is up.',
    analysis: sampleAnalysis(),
    format: 'percent',
    better: 'up',
    goal: 0.8,
    tests: SAMPLE_TESTS,
    annotations: [{ at: '2026-04-13', text: 'Printer out for three days' }],
    width,
  }
}

const MARKS: readonly TestMark[] = ['adopt', 'adapt', 'abandon', 'waiting', 'running', 'planned']

/** Any chart that could turn up: kinds, gaps, phases, tests, notes, goals, sizes. */
export const anySpec: fc.Arbitrary<TimeChartSpec> = fc
  .record({
    n: fc.integer({ min: 1, max: 90 }),
    scale: fc.constantFrom(1e-6, 0.01, 1, 60, 1e6),
    offset: fc.integer({ min: -3, max: 50 }),
    seed: fc.array(fc.integer({ min: 0, max: 20 }), { minLength: 90, maxLength: 90 }),
    gaps: fc.array(fc.integer({ min: 0, max: 89 }), { maxLength: 6 }),
    dated: fc.boolean(),
    kind: fc.constantFrom('run' as const, 'individuals' as const, 'p' as const),
    phases: fc.array(fc.integer({ min: 1, max: 89 }), { maxLength: 4 }),
    frozen: fc.boolean(),
    tests: fc.array(
      fc.record({
        from: fc.integer({ min: -20, max: 120 }),
        length: fc.integer({ min: 0, max: 30 }),
        mark: fc.constantFrom(...MARKS),
        low: fc.integer({ min: -10, max: 60 }),
        range: fc.integer({ min: 0, max: 40 }),
        hasBracket: fc.boolean(),
      }),
      { maxLength: 12 },
    ),
    notes: fc.array(
      fc.record({ at: fc.integer({ min: 0, max: 100 }), text: fc.string({ maxLength: 40 }) }),
      { maxLength: 6 },
    ),
    goal: fc.option(fc.integer({ min: -10, max: 100 }), { nil: null }),
    width: fc.integer({ min: 320, max: 1920 }),
    textScale: fc.constantFrom(1, 1.5),
    heading: fc.boolean(),
  })
  .map((o) => {
    const label = (i: number) => (o.dated ? dayAfter('2025-01-06', 7 * i) : String(i + 1))
    const at = Array.from({ length: o.n }, (_, i) => label(i))
    const gap = new Set(o.gaps)
    const drawn = o.seed.slice(0, o.n)
    const starts = [...new Set(o.phases)].filter((i) => i < o.n).sort((a, b) => a - b)
    const phases = [0, ...starts].map((i, k) => ({
      at: at[i]!,
      frozenThrough: o.frozen && k === 0 ? at[Math.min(o.n - 1, i + 5)]! : null,
    }))
    const isShare = o.kind === 'p'
    const unit = isShare ? 0.01 : o.scale
    const analysis = isShare
      ? analyze(
          {
            at,
            numerators: drawn.map((v, i) => (gap.has(i) ? null : v)),
            denominators: drawn.map((v) => 20 + v),
          },
          { kind: 'p', phases },
        )
      : analyze(
          { at, values: drawn.map((v, i) => (gap.has(i) ? null : (v + o.offset) * o.scale)) },
          { kind: o.kind, phases },
        )
    return {
      title: 'Any chart',
      subtitle: 'Drawn at random',
      analysis,
      format: isShare ? 'percent' : 'number',
      goal: o.goal === null ? null : o.goal * unit,
      tests: o.tests.map((t, i) => ({
        id: `t${i}`,
        number: i + 1,
        label: 'A change',
        mark: t.mark,
        from: o.dated || t.from >= 0 ? label(t.from) : null,
        to: label(Math.max(0, t.from) + t.length),
        bracket: t.hasBracket
          ? { low: t.low * unit, high: (t.low + t.range) * unit, expected: t.low * unit }
          : null,
      })),
      annotations: o.notes.map((note) => ({ at: label(note.at), text: note.text })),
      width: o.width,
      textScale: o.textScale,
      heading: o.heading,
    } satisfies TimeChartSpec
  })

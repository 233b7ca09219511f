import { z } from 'zod'
import type { FindingReply, FindingsReply } from './finding-contract.ts'
import * as r from './records.ts'

const number = z.number().nullable()
const summary = z.object({
  n: z.int(),
  value: number,
  numerator: number,
  denominator: number,
  from: z.string().nullable(),
  to: z.string().nullable(),
})
const signal = z.object({
  rule: z.string(),
  points: z.array(z.int()),
  direction: z.enum(['up', 'down']).nullable(),
  better: z.boolean().nullable(),
  text: z.string(),
})
const change = z.object({
  kind: z.enum(['ratio', 'difference']),
  estimate: number,
  interval: z.object({ lower: number, upper: number }).nullable(),
  method: z
    .enum([
      'newcombe',
      'conditional-ratio',
      'gap-ratio',
      'welch-log',
      'welch',
      'permutation-log',
      'permutation',
      'gap-root',
      'seasonal',
    ])
    .nullable(),
  widened: z.number(),
  seasonRemoved: z.boolean(),
  ifAlone: z.boolean(),
  alike: number,
  claim: z.enum(['up', 'down']).nullable(),
  doubt: z.enum(['few-points', 'chance', 'drift', 'neighbours', 'course', 'no-spread']).nullable(),
  points: z.object({ test: z.int(), before: z.int() }),
})
const limit = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('dated-before-lock'), n: z.int(), of: z.int() }),
  z.object({ kind: z.literal('few'), n: z.int() }),
  z.object({ kind: z.literal('no-comparator') }),
  z.object({ kind: z.literal('other-test-only'), number: z.int() }),
  z.object({ kind: z.literal('tests-between'), numbers: z.array(z.int()) }),
  z.object({ kind: z.literal('alike'), r: z.number() }),
  z.object({ kind: z.literal('likeness-unchecked'), n: z.int() }),
  z.object({ kind: z.literal('season-removed') }),
  z.object({ kind: z.literal('season-unchecked') }),
  z.object({ kind: z.literal('event'), at: z.string(), text: z.string() }),
])

/** A finding as figures with its sentences. */
export const finding = z.object({
  measureId: r.measure.shape.id,
  measureName: z.string(),
  predictionId: r.prediction.shape.id.nullable(),
  outcome: summary,
  verdict: z.enum(['inside', 'better', 'worse', 'above', 'below']).nullable(),
  error: z.object({ kind: z.enum(['ratio', 'difference']), value: z.number() }).nullable(),
  score: number,
  comparator: z
    .object({
      kind: z.enum(['baseline', 'test']),
      frozen: z.boolean(),
      number: z.int().nullable(),
      summary,
    })
    .nullable(),
  change: change.nullable(),
  predictedChange: z.object({ low: z.number(), expected: number, high: z.number() }).nullable(),
  placing: z
    .object({
      value: z.number(),
      lower: z.number(),
      upper: z.number(),
      where: z.enum(['inside', 'above', 'below']),
    })
    .nullable(),
  signals: z.array(signal),
  better: z.boolean().nullable(),
  harm: z.boolean(),
  limits: z.array(limit),
  text: z.object({
    headline: z.string(),
    sentences: z.array(z.string()),
    limits: z.array(z.string()),
  }),
}) satisfies z.ZodType<FindingReply>

export const findingsReply = z.object({
  cycleId: r.cycle.shape.id,
  findings: z.array(finding),
  elsewhere: z.array(z.object({ measureId: r.measure.shape.id, measureName: z.string(), signal })),
  overlaps: z.array(z.object({ number: z.int(), title: z.string(), cycleId: r.cycle.shape.id })),
  limits: z.array(z.string()),
  suggestion: z.object({ kind: r.suggestion, reasons: z.array(z.string()) }),
}) satisfies z.ZodType<FindingsReply>

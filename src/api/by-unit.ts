import { z } from 'zod'
import type { ByUnitReply } from './finding-contract.ts'
import * as r from './records.ts'

const estimate = z.object({ value: z.number(), low: z.number(), high: z.number() })
const side = z.object({ n: z.int(), mean: z.number().nullable() })
const claim = z.enum(['better', 'worse', 'higher', 'lower', 'none'])

const unitEffect = z.object({
  measureId: r.measure.shape.id,
  unitId: r.unit.shape.id,
  unitName: z.string(),
  start: z
    .object({
      at: z.string(),
      name: z.string(),
      testId: z.string(),
      source: z.enum(['own-test', 'chosen', 'project-test']),
    })
    .nullable(),
  kind: z.enum(['unsuitable', 'too-few', 'constant', 'fitted']).nullable(),
  claim: z.enum([...claim.options, 'withheld']).nullable(),
  before: side.nullable(),
  after: side.nullable(),
  change: estimate.nullable(),
  distance: estimate.nullable(),
  weight: z.number().nullable(),
  text: z.object({ unit: z.string(), start: z.string(), change: z.string() }),
})

/** What measures did that are taken on several units. */
export const byUnitReply = z.object({
  projectId: r.project.shape.id,
  measures: z.array(
    z.object({
      measureId: r.measure.shape.id,
      measureName: z.string(),
      scale: z.enum(['plain', 'log', 'logit']),
      units: z.array(unitEffect),
      together: z
        .object({
          n: z.int(),
          change: estimate,
          base: z.number(),
          distance: estimate,
          claim,
          q: z.number(),
          p: z.number(),
          iSquared: z.number(),
          differ: z.boolean(),
        })
        .nullable(),
      stepped: z.enum(['each-moved', 'not-each', 'same-time']).nullable(),
      text: z.object({
        headline: z.string(),
        sentences: z.array(z.string()),
        limits: z.array(z.string()),
      }),
    }),
  ),
}) satisfies z.ZodType<ByUnitReply>

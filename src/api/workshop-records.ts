import { z } from 'zod'
import { CARD_SHAPES, type Kit } from '../domain/workshop/kit.ts'
import { KIT_LIMITS } from '../domain/workshop/kit-issues.ts'
import { PACES, type RoomSettings } from '../domain/workshop/room.ts'
import * as f from './fields.ts'

/**
 * Kits and settings as requests and replies carry them. What makes a kit usable is asked by
 * `kitIssues`; here is only its shape, with room for what a form may hold.
 */

const line = f.text.max(2 * KIT_LIMITS.text)
const lines = z.array(line).max(2 * KIT_LIMITS.lines)
const cell = z.int().min(0).max(100)

const cardPlace = z.strictObject({
  label: line,
  column: cell,
  row: cell,
  columns: cell,
  rows: cell,
  shape: z.enum(CARD_SHAPES),
})

export const kit = z.strictObject({
  name: line,
  summary: line,
  bring: lines,
  task: lines,
  clockStarts: line,
  clockStops: line,
  card: z.strictObject({
    columns: cell,
    rows: cell,
    places: z.array(cardPlace).max(2 * KIT_LIMITS.places),
    note: line,
  }),
  checklist: lines,
  score: z
    .array(z.strictObject({ atLeast: f.number, score: f.number, label: line }))
    .max(2 * KIT_LIMITS.steps[1]),
  prompts: lines,
  hints: lines,
  variations: lines,
}) satisfies z.ZodType<Kit>

const seconds = z.number().min(5).max(3600)

export const roomSettings = z.strictObject({
  rounds: z.int().min(1).max(8),
  pace: z.enum(PACES),
  predicts: z.enum(['range', 'single']),
  planSeconds: seconds.nullable(),
  trialSeconds: seconds.nullable(),
  timersAgreeWithin: z.number().min(0).max(60),
  prompts: z.array(z.int().min(0).max(100)).max(100),
  rotateRoles: z.boolean(),
  asksConfidence: z.boolean(),
  tryOut: z.boolean(),
}) satisfies z.ZodType<RoomSettings>

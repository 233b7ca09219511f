import { z } from 'zod'
import { DECISIONS } from '../domain/record.ts'
import { KIT_LIMITS } from '../domain/workshop/kit-issues.ts'
import type { Move, MoveResult } from '../domain/workshop/moves.ts'
import { MOMENTS, PACES, SEAT_ROLES, TIMED_HOW } from '../domain/workshop/room.ts'
import * as f from './fields.ts'

/** Every move of a workshop, field by field. Each is read by itself: a bad one spoils no other. */

/** A phone may have been offline for a month; an older move is a fault of its clock. */
const OLDEST_MS = 31 * 24 * 3600_000
const round = z.int().min(1).max(99)
const short = f.text.max(2000)
const name = f.name.max(60)

const expectation = z
  .strictObject({
    expected: z.number().min(0).max(1e6),
    low: z.number().min(0).max(1e6),
    high: z.number().min(0).max(1e6),
  })
  .nullable()
const plan = {
  round,
  strategy: short,
  time: expectation,
  quality: expectation,
  confidence: f.confidence,
  why: short,
}
const marks = z
  .array(z.union([z.literal(0), z.literal(1), z.null()]))
  .max(2 * KIT_LIMITS.checklist[1])

const sent = {
  id: f.id,
  ageMs: z.number().min(0).max(OLDEST_MS),
  tableId: z.exactOptional(f.id),
  textChecked: z.exactOptional(z.boolean()),
}
const kind = <K extends string, S extends z.ZodRawShape>(is: K, shape: S) =>
  z.strictObject({ kind: z.literal(is), ...shape, ...sent })

export const move = z.discriminatedUnion('kind', [
  kind('plan', plan),
  kind('lock', plan),
  kind('start', { round, trialId: f.id }),
  kind('stop', {
    round,
    trialId: f.id,
    readingId: f.id,
    // An hour is far beyond any workshop's task.
    seconds: z.number().positive().max(3600),
    how: z.enum(TIMED_HOW),
    note: short,
  }),
  kind('keep', { trialId: f.id, readingId: f.id, why: f.reason.max(2000) }),
  kind('void', { trialId: f.id, reason: f.reason.max(2000) }),
  kind('unvoid', { trialId: f.id }),
  kind('inspect', { trialId: f.id, inspectionId: f.id, marks }),
  kind('decide', {
    round,
    surprises: short,
    learned: short,
    predictionReview: short,
    decision: z.enum(DECISIONS),
    reason: short,
    nextChange: short,
  }),
  kind('seat', { name: f.label, roles: z.array(z.enum(SEAT_ROLES)).max(SEAT_ROLES.length) }),
  kind('confidence', { when: z.enum(['before', 'after']), value: z.int().min(0).max(10) }),
  kind('moment', { moment: z.enum(MOMENTS) }),
  kind('round', { round: z.int().min(0).max(8) }),
  kind('pace', { pace: z.enum(PACES) }),
  kind('countdown', { of: z.enum(['start', 'plan']), seconds: z.number().min(0).max(7200) }),
  kind('extend', { seconds: z.number().min(1).max(7200) }),
  kind('nudge', { toTableId: f.id.nullable(), text: f.text.max(400) }),
  kind('talking-point', { index: z.int().min(0).max(200) }),
  kind('notes', { text: f.text }),
  kind('add-table', { newTableId: f.id, name, firstRound: z.exactOptional(round) }),
  kind('rename-table', { ofTableId: f.id, name }),
  kind('remove-table', { ofTableId: f.id }),
  kind('restore-table', { ofTableId: f.id }),
  kind('remove-seat', { seatId: f.id }),
  kind('restore-seat', { seatId: f.id }),
  kind('count-right', { trialId: f.id, inspectionId: f.id, right: z.int().min(0) }),
  kind('excuse', { ofTableId: f.id, round }),
  kind('unexcuse', { ofTableId: f.id, round }),
  kind('close', {}),
  kind('reopen', {}),
]) satisfies z.ZodType<Move>

export const moveResult = z.strictObject({
  id: z.string(),
  outcome: z.enum(['done', 'already', 'refused']),
  code: z.string().nullable(),
  message: z.string().nullable(),
  hint: z.string().nullable(),
}) satisfies z.ZodType<MoveResult>

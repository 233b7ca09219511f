import { z } from 'zod'
import { DECISIONS } from '../domain/record.ts'
import { MOMENTS, SEAT_ROLES, TIMED_HOW } from '../domain/workshop/room.ts'
import { ROUND_STAGES, type RoomChange, type RoomState } from '../domain/workshop/room-state.ts'
import * as f from './fields.ts'
import { moveResult } from './moves.ts'
import { kit, roomSettings } from './workshop-records.ts'

const expectation = z.object({ expected: z.number(), low: z.number(), high: z.number() })

const trial = z.object({
  id: f.id,
  number: z.int(),
  startedAt: f.instant,
  startedBySeatId: f.id.nullable(),
  voidReason: z.string().nullable(),
  readings: z.array(
    z.object({
      id: f.id,
      seatId: f.id.nullable(),
      by: z.string(),
      seconds: z.number(),
      how: z.enum(TIMED_HOW),
      note: z.string(),
      kept: z.boolean().nullable(),
    }),
  ),
  seconds: z.number().nullable(),
  unsettled: z.boolean(),
  inspections: z.array(
    z.object({
      id: f.id,
      seatId: f.id.nullable(),
      by: z.string(),
      marks: z.array(z.union([z.literal(0), z.literal(1), z.null()])),
      rightCount: z.int().nullable(),
    }),
  ),
  right: z.int().nullable(),
  inspected: z.int().nullable(),
})

const round = z.object({
  number: z.int(),
  cycleId: f.id,
  stage: z.enum(ROUND_STAGES),
  lockedAt: f.instant.nullable(),
  strategy: z.string().nullable(),
  predictions: z
    .object({
      time: expectation.nullable(),
      quality: expectation.nullable(),
      confidence: z.number(),
      why: z.string(),
    })
    .nullable(),
  withheld: z.boolean(),
  trials: z.array(trial),
  seconds: z.number().nullable(),
  right: z.int().nullable(),
  inspected: z.int().nullable(),
  score: z.number().nullable(),
  decision: z
    .object({
      kind: z.enum(DECISIONS),
      reason: z.string().nullable(),
      nextChange: z.string().nullable(),
    })
    .nullable(),
  surprises: z.string().nullable(),
  learned: z.string().nullable(),
  predictionReview: z.string().nullable(),
})

const table = z.object({
  id: f.id,
  name: z.string(),
  place: z.int(),
  projectId: f.id,
  firstRound: z.int(),
  excused: z.array(z.int()),
  removed: z.boolean(),
  seats: z.array(
    z.object({
      id: f.id,
      name: z.string(),
      roles: z.array(z.enum(SEAT_ROLES)),
      confidenceBefore: z.int().nullable(),
      confidenceAfter: z.int().nullable(),
    }),
  ),
  rounds: z.array(round),
  nudge: z.object({ text: z.string(), at: f.instant }).nullable(),
  joinNumber: z.int().nullable(),
  lastMoveAt: f.instant.nullable(),
})

export const roomState = z.object({
  seq: z.int(),
  now: f.instant,
  viewer: z.union([
    z.object({ as: z.literal('lead') }),
    z.object({ as: z.literal('table'), tableId: f.id, seatId: f.id }),
    z.object({ as: z.literal('screen') }),
  ]),
  room: z.object({
    id: f.id,
    code: z.string(),
    name: z.string(),
    unitId: f.id,
    kit,
    settings: roomSettings,
    moment: z.enum(MOMENTS),
    round: z.int(),
    countdown: z
      .object({ kind: z.enum(['start', 'plan']), startedAt: f.instant, endsAt: f.instant })
      .nullable(),
    talkingPoint: z.int(),
    notes: z.string().nullable(),
    openedAt: f.instant,
    closedAt: f.instant.nullable(),
  }),
  tables: z.array(table),
}) satisfies z.ZodType<RoomState>

/** One `change` of the feed. */
export const roomChange = z.object({
  seq: z.int(),
  now: f.instant,
  room: z.exactOptional(roomState.shape.room),
  tables: z.array(table),
}) satisfies z.ZodType<RoomChange>

const kitReply = z.object({ id: f.id, kit, version: f.version })

/** What the routes of the workshop answer. */
export const workshopReplies = {
  'GET /api/kits': z.object({ kits: z.array(kitReply) }),
  'POST /api/kits': kitReply,
  'PATCH /api/kits/:id': kitReply,
  'DELETE /api/kits/:id': z.object({ removed: z.int() }),
  'GET /api/rooms': z.object({
    rooms: z.array(
      z.object({
        id: f.id,
        code: z.string(),
        name: z.string(),
        unitId: f.id,
        unitName: z.string(),
        facilitatorName: z.string(),
        kitName: z.string(),
        tryOut: z.boolean(),
        openedAt: f.instant,
        closedAt: f.instant.nullable(),
        tables: z.int(),
        roundsDone: z.int(),
      }),
    ),
  }),
  'POST /api/rooms': roomState,
  'PATCH /api/rooms/:id': roomState,
  'POST /api/rooms/find': z.object({
    roomId: f.id,
    name: z.string(),
    kitName: z.string(),
    tables: z.array(
      z.object({ id: f.id, name: z.string(), seats: z.int(), needsNumber: z.boolean() }),
    ),
  }),
  'POST /api/rooms/join': roomState,
  'GET /api/rooms/:id': roomState,
  'GET /api/rooms/:id/wrap-up': roomState,
  'POST /api/rooms/:id/moves': z.object({ results: z.array(moveResult), seq: z.int() }),
  'POST /api/rooms/:id/ward': z.object({ projectId: f.id, cycleId: f.id }),
}

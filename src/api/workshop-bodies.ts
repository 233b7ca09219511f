import { z } from 'zod'
import * as f from './fields.ts'
import { move } from './moves.ts'
import { kit, roomSettings } from './workshop-records.ts'

/** How a code is typed: with spaces, dashes or small letters, as one likes. */
const code = z.string().max(40)
/** Moves that one request may bring; a phone that has more sends them in turns. */
const MOVES = 200

/** What the routes of the workshop take. */
export const workshopBodies = {
  'POST /api/kits': z.strictObject({ id: f.id, kit }),
  'PATCH /api/kits/:id': z.strictObject({ kit, version: f.version }),
  'DELETE /api/kits/:id': z.strictObject({ version: f.version }),
  'POST /api/rooms': z.strictObject({
    id: f.id,
    name: f.name.max(100),
    unitId: f.id,
    kit,
    settings: roomSettings,
  }),
  'PATCH /api/rooms/:id': z.strictObject({
    name: z.exactOptional(f.name.max(100)),
    kit: z.exactOptional(kit),
    settings: z.exactOptional(roomSettings),
  }),
  'POST /api/rooms/find': z.strictObject({ code }),
  'POST /api/rooms/join': z.strictObject({
    code,
    seatId: f.id,
    as: z.enum(['table', 'screen']),
    tableId: f.id.nullable(),
    tableName: f.label,
    tableNumber: z.exactOptional(z.string().max(12)),
    name: f.label,
  }),
  'POST /api/rooms/:id/moves': z.strictObject({ moves: z.array(move).max(MOVES) }),
  'POST /api/rooms/:id/ward': z.strictObject({
    projectId: f.id,
    cycleId: f.id,
    unitId: f.id,
    name: f.name,
    aim: f.text,
    question: f.text,
    change: f.text,
    tableId: f.id.nullable(),
    who: f.text,
  }),
}

/** As the request is read: the moves one by one, by whoever does them. */
export const anyMoves = z.strictObject({ moves: z.array(z.unknown()).max(MOVES) })

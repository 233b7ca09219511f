import type { Kysely } from 'kysely'
import type { RouteName } from '../../api/contract.ts'
import type { Id, Person } from '../../domain/record.ts'
import { AppError } from '../../errors.ts'
import { openTables, projectOfRecord } from '../../storage/rooms.ts'
import type { Schema } from '../../storage/tables.ts'
import { mustBeClosedFor } from './still-open.ts'

const OF_RECORDS =
  /\/api\/(?:projects|cycles|measures|trials|phases|annotations|ramps|calibration|experiments)\b/
/** Fields of a request that name a record it belongs to. */
const NAMING = ['projectId', 'measureId', 'cycleId', 'buildsOnId'] as const

/**
 * Keeps the records of a workshop that is open to its own phones and the facilitator, whichever
 * route is asked: nobody below coach reads them, and nobody writes them past the workshop's moves.
 *
 * @throws AppError `room.still_open`.
 */
export async function mustLeaveOpenRooms(
  read: Kysely<Schema>,
  name: RouteName,
  me: Person | null,
  params: Readonly<Record<string, string>>,
  body: unknown,
): Promise<void> {
  if (me === null || !OF_RECORDS.test(name)) return
  const writes = !name.startsWith('GET')
  if (!writes && (me.role === 'coach' || me.role === 'owner')) return
  const open = await openTables(read)
  if (open.length === 0) return
  for (const id of [...Object.values(params), ...namedIn(body)]) {
    const projectId = await projectOfRecord(read, id)
    const table = open.find((t) => t.projectId === projectId || t.id === id)
    if (table === undefined) continue
    mustBeClosedFor(me, { name: table.roomName, closedAt: null })
    throw new AppError(
      'room.still_open',
      `The workshop ${table.roomName} is still open; its records change through its console only.`,
      'Make the change on the console, or close the workshop first.',
      { roomId: table.roomId },
    )
  }
}

function namedIn(body: unknown): Id[] {
  if (typeof body !== 'object' || body === null) return []
  const fields = body as Readonly<Record<string, unknown>>
  return NAMING.map((field) => fields[field]).filter((id) => typeof id === 'string')
}

import type { FoundRoom } from '../../api/workshop-contract.ts'
import type { Id } from '../../domain/record.ts'
import { readCode } from '../../domain/workshop/code.ts'
import type { Kit } from '../../domain/workshop/kit.ts'
import { newTable, projectName } from '../../domain/workshop/new-table.ts'
import type { Room, RoomSettings } from '../../domain/workshop/room.ts'
import type { RoomState, Viewer } from '../../domain/workshop/room-state.ts'
import { kitOf, settingsOf } from '../../domain/workshop/table-state.ts'
import { visibleTo } from '../../domain/workshop/visible.ts'
import { AppError } from '../../errors.ts'
import { notFound, type Write } from '../../storage/record.ts'
import {
  findRoomByCode,
  listRooms,
  seatCounts,
  seatsOfBrowser,
  tablesOf,
} from '../../storage/rooms.ts'
import { findUnit } from '../../storage/units.ts'
import { tokenHash } from '../browser-token.ts'
import type { Handlers, Surroundings } from '../call.ts'
import { doMoves } from '../workshop/do-moves.ts'
import { openRoom } from '../workshop/open-room.ts'
import { closedRoom } from '../workshop/refusals.ts'
import { numberTables, tablesInUse } from '../workshop/table-number.ts'
import { takeSeat } from '../workshop/take-seat.ts'
import { readRoom } from '../workshop/whole-room.ts'
import { mustBeUsable } from './kits.ts'

async function stateFor({ db, at }: Surroundings, id: Id, viewer: Viewer): Promise<RoomState> {
  const whole = await readRoom(db.read, id)
  return visibleTo({ ...whole, now: at, viewer: { as: 'lead' } }, viewer)
}

/** What a request brings that a code is looked up with. */
export type Looking = Pick<Surroundings, 'db' | 'address' | 'codeLimit' | 'at' | 'token'>

/** The open room that a code belongs to. @throws AppError `room.unknown_code`, `room.closed`. */
async function roomOfCode(call: Looking, typed: string): Promise<Room> {
  const { db, address, codeLimit } = call
  const now = Date.parse(call.at)
  const code = readCode(typed)
  codeLimit.mayTry(address, code, now)
  const room = code === null ? undefined : await findRoomByCode(db.read, code)
  if (room === undefined) {
    codeLimit.wrong(address, now)
    throw new AppError(
      'room.unknown_code',
      `No workshop has the code “${typed.trim().slice(0, 12)}”.`,
      'Look at the room screen: six letters and digits.',
      { issues: [{ code: 'room.unknown_code', field: 'code', message: 'Opens no workshop.' }] },
    )
  }
  codeLimit.right(address, room.code)
  if (room.closedAt !== null) throw closedRoom()
  return room
}

/** The room of a code, and its tables. @throws AppError as `roomOfCode`. */
export async function findTables(call: Looking, typed: string): Promise<FoundRoom> {
  const room = await roomOfCode(call, typed)
  const { read } = call.db
  const tables = await tablesOf(read, room.id)
  const seats = await seatCounts(read, room.id)
  const inUse = await tablesInUse(read, room.id)
  const hash = tokenHash(call.token ?? '')
  const own = (await seatsOfBrowser(read, room.id, hash)).map(({ tableId }) => tableId)
  return {
    roomId: room.id,
    name: room.name,
    kitName: kitOf(room).name,
    tables: tables
      .filter(({ removedAt }) => removedAt === null)
      .map(({ id, name }) => ({
        ...{ id, name, seats: seats.get(id) ?? 0 },
        needsNumber: inUse.has(id) && !own.includes(id),
      })),
  }
}

/** @throws AppError `room.prompts` where a prompt is switched on that the kit does not have. */
function mustFit(kit: Kit, settings: RoomSettings): void {
  const wrong = settings.prompts.find((index) => index >= kit.prompts.length)
  if (wrong === undefined) return
  throw new AppError(
    'room.prompts',
    `The kit has ${kit.prompts.length} prompts; there is no prompt ${wrong + 1}.`,
    'Choose the prompts to show again.',
    { issues: [{ code: 'room.prompts', field: 'settings.prompts', message: 'Choose again.' }] },
  )
}

export const roomRoutes: Handlers<
  | 'GET /api/rooms'
  | 'POST /api/rooms'
  | 'PATCH /api/rooms/:id'
  | 'POST /api/rooms/find'
  | 'POST /api/rooms/join'
  | 'GET /api/rooms/:id'
  | 'POST /api/rooms/:id/moves'
> = {
  'GET /api/rooms': async ({ db }) => ({
    rooms: (await listRooms(db.read)).map(({ room, ...named }) => ({
      id: room.id,
      code: room.code,
      name: room.name,
      unitId: room.unitId,
      kitName: kitOf(room).name,
      tryOut: settingsOf(room).tryOut,
      openedAt: room.openedAt,
      closedAt: room.closedAt,
      ...named,
    })),
  }),

  'POST /api/rooms': async (call) => {
    const { db, body, me, at } = call
    mustBeUsable(body.kit)
    mustFit(body.kit, body.settings)
    const code = await db.record({ action: 'room.open', by: me, at }, async (write) => {
      if ((await findUnit(write.read, body.unitId)) === undefined)
        throw notFound('unit', body.unitId)
      return (await openRoom(write, body, me.id, at)).code
    })
    // The class is usually behind the address of whoever opened the room.
    call.codeLimit.right(call.address, code)
    return stateFor(call, body.id, { as: 'lead' })
  },

  'PATCH /api/rooms/:id': async (call) => {
    const { db, params, body, me, at } = call
    if (body.kit !== undefined) mustBeUsable(body.kit)
    await db.record({ action: 'room.change', by: me, at }, async (write) => {
      const room = await write.current('room', params.id, null)
      mustFit(body.kit ?? kitOf(room), body.settings ?? settingsOf(room))
      if (body.kit !== undefined) await changeKit(write, room, body.kit)
      await write.update('room', room.id, null, {
        ...(body.name === undefined ? {} : { name: body.name }),
        ...(body.kit === undefined ? {} : { kit: JSON.stringify(body.kit) }),
        ...(body.settings === undefined ? {} : { settings: JSON.stringify(body.settings) }),
      })
    })
    return stateFor(call, params.id, { as: 'lead' })
  },

  'POST /api/rooms/find': async (call) => findTables(call, call.body.code),

  'POST /api/rooms/join': async (call) => {
    const room = await roomOfCode(call, call.body.code)
    await numberTables(call, room)
    const viewer = await takeSeat(call, room)
    return stateFor(call, room.id, viewer)
  },

  'GET /api/rooms/:id': async (call) => stateFor(call, call.params.id, call.asker.viewer),

  'POST /api/rooms/:id/moves': async (call) => doMoves(call),
}

/** @throws AppError `room.begun` once a round has begun. */
async function changeKit(write: Write, room: Room, kit: Kit): Promise<void> {
  if (JSON.stringify(kit) === room.kit) return
  for (const table of await tablesOf(write.read, room.id)) {
    const begun = await write.read
      .selectFrom('cycle')
      .select('id')
      .where('projectId', '=', table.projectId)
      .limit(1)
      .executeTakeFirst()
    if (begun !== undefined)
      throw new AppError(
        'room.begun',
        `${table.name} has begun its first round; the task stays as it is.`,
        'Open another workshop for another kit.',
        { tableId: table.id },
      )
    const { timeMeasureId, qualityMeasureId, projectId, name } = table
    const { measures } = newTable(
      room,
      kit,
      { tableId: table.id, projectId, timeMeasureId, qualityMeasureId },
      { name, place: 1, firstRound: 1, excused: [], origin: 'own', joinNumber: 100, at: '' },
    )
    for (const { id, operationalDefinition } of measures)
      await write.update('measure', id, null, { operationalDefinition })
    await write.update('project', projectId, null, { name: projectName(name, kit) })
  }
}

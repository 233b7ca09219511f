import { randomBytes } from 'node:crypto'
import type { NewRoom } from '../../api/workshop-contract.ts'
import type { Id, Instant } from '../../domain/record.ts'
import { makeCode } from '../../domain/workshop/code.ts'
import type { Room } from '../../domain/workshop/room.ts'
import type { Write } from '../../storage/record.ts'
import { findRoomByCode } from '../../storage/rooms.ts'

/** Opens a workshop: nobody has joined yet, and its code opens no other one. */
export async function openRoom(
  write: Write,
  { id, name, unitId, kit, settings }: NewRoom,
  facilitatorId: Id,
  at: Instant,
): Promise<Room> {
  return write.insert('room', {
    id,
    code: await freshCode(write),
    name,
    unitId,
    facilitatorId,
    kit: JSON.stringify(kit),
    settings: JSON.stringify(settings),
    moment: 'join',
    round: 0,
    countdown: null,
    talkingPoint: 0,
    notes: '',
    openedAt: at,
    closedAt: null,
    version: 1,
  })
}

/** A code that no room has. */
async function freshCode(write: Write): Promise<string> {
  for (;;) {
    const code = makeCode(randomBytes(16))
    if (code !== null && (await findRoomByCode(write.read, code)) === undefined) return code
  }
}

import type { Id, Instant } from '../../domain/record.ts'
import { trayFromACard } from '../../domain/workshop/kits/tray-from-a-card.ts'
import type { MoveBody } from '../../domain/workshop/moves.ts'
import type { RoomSeat } from '../../domain/workshop/room.ts'
import { AppError } from '../../errors.ts'
import type { Write } from '../../storage/record.ts'
import { newToken, tokenHash } from '../browser-token.ts'
import { newId } from '../call.ts'
import { doMoveIn } from '../workshop/do-move.ts'
import type { Mover } from '../workshop/move-context.ts'
import { openRoom } from '../workshop/open-room.ts'
import { takeSeatIn } from '../workshop/take-seat.ts'
import { secondsLater } from './calendar.ts'
import { CLASS_TABLES, type ClassTable, type RoundStory } from './class-story.ts'

const KIT = trayFromACard
const ITEMS = KIT.checklist.length
const ROUNDS = 4
const MINUTE = 60
/** From one round to the next. */
const ROUND = 17 * MINUTE

interface Given {
  readonly write: Write
  readonly unitId: Id
  readonly facilitator: { readonly id: Id; readonly name: string }
  /** When the room was opened; the class is over some 95 minutes later. */
  readonly openedAt: Instant
}

type Moves = (mover: Mover, second: number, move: MoveBody & { tableId?: Id }) => Promise<void>
interface Held {
  readonly moves: Moves
  readonly openedAt: Instant
}
interface Seated extends ClassTable {
  readonly phones: readonly RoomSeat[]
}

/** Holds a finished workshop: the room opened, seats taken and every move made as phones make them. */
export async function writeClass(given: Given): Promise<void> {
  const { write, unitId, facilitator, openedAt } = given
  const roomId = newId(openedAt)
  const settings = {
    rounds: ROUNDS,
    pace: 'together',
    predicts: 'range',
    planSeconds: 5 * MINUTE,
    trialSeconds: null,
    timersAgreeWithin: 2,
    prompts: [0, 1, 3],
    rotateRoles: false,
    asksConfidence: true,
    tryOut: false,
  } as const
  const room = { id: roomId, name: 'Learning by doing (invented)', unitId, kit: KIT, settings }
  await openRoom(write, room, facilitator.id, openedAt)
  const moves: Moves = async (mover, second, move) => {
    const at = secondsLater(openedAt, second)
    const done = await doMoveIn({ write, mover, at, receivedAt: at }, roomId, {
      ...move,
      id: newId(at),
      ageMs: 0,
    })
    if (done.outcome !== 'done') throw new AppError(done.code!, done.message!, done.hint!)
  }
  const lead: Mover = { seat: null, lead: facilitator }
  const tables: Seated[] = []
  for (const table of CLASS_TABLES)
    tables.push({ ...table, phones: await sitDown(write, roomId, table, openedAt) })
  for (const table of tables)
    for (const [i, [, before]] of table.seats.entries())
      await moves(phone(table, i), 8 * MINUTE, {
        kind: 'confidence',
        when: 'before',
        value: before,
      })
  for (let round = 1; round <= ROUNDS; round++)
    await holdRound({ moves, openedAt }, lead, tables, round, 10 * MINUTE + (round - 1) * ROUND)
  const end = 10 * MINUTE + ROUNDS * ROUND
  await moves(lead, end, { kind: 'moment', moment: 'wrap-up' })
  for (const table of tables)
    for (const [i, [, , after]] of table.seats.entries())
      await moves(phone(table, i), end + 2 * MINUTE, {
        kind: 'confidence',
        when: 'after',
        value: after,
      })
  await moves(lead, end + 15 * MINUTE, {
    kind: 'notes',
    text: 'Next time: show the predictions of round 1 once more before the wrap-up. Plover’s check that made it faster was the best talk of the day.',
  })
  await moves(lead, end + 16 * MINUTE, { kind: 'close' })
}

async function sitDown(
  write: Write,
  roomId: Id,
  { name: tableName, seats }: ClassTable,
  openedAt: Instant,
): Promise<RoomSeat[]> {
  const phones: RoomSeat[] = []
  for (const [i, [name]] of seats.entries()) {
    const at = secondsLater(openedAt, 5 * MINUTE + i * 20)
    // The token is kept nowhere: nobody comes back to these seats.
    const asked = { seatId: newId(at), as: 'table', tableId: null, tableName, name } as const
    phones.push(await takeSeatIn(write, roomId, asked, tokenHash(newToken()), at))
  }
  return phones
}

const phone = ({ phones }: Seated, i: number): Mover => ({ seat: phones[i]!, lead: null })

/** One round of the class, in the order things happen: nobody starts before all have locked. */
async function holdRound(
  held: Held,
  lead: Mover,
  tables: readonly Seated[],
  round: number,
  from: number,
): Promise<void> {
  const { moves } = held
  await moves(lead, from, { kind: 'round', round })
  await moves(lead, from, { kind: 'moment', moment: 'predict' })
  for (const [t, table] of tables.entries()) {
    const told = table.rounds[round - 1]!
    await moves(phone(table, 0), from + 3 * MINUTE + t * 15, {
      kind: 'lock',
      round,
      strategy: told.strategy,
      time: rangeOf(told.time, 1),
      quality: rangeOf(told.right, ITEMS),
      confidence: 0.8,
      why: told.why,
    })
  }
  const start = from + 5 * MINUTE
  await moves(lead, start, { kind: 'moment', moment: 'running' })
  for (const table of tables) await runTrial(held, table, round, start)
  await moves(lead, start + 6 * MINUTE, { kind: 'moment', moment: 'compare' })
  await moves(lead, start + 8 * MINUTE, { kind: 'moment', moment: 'debrief' })
  for (const [t, table] of tables.entries()) {
    const { decision, learned, next, strategy } = table.rounds[round - 1]!
    await moves(phone(table, 0), start + 10 * MINUTE + t * 20, {
      kind: 'decide',
      round,
      surprises: '',
      learned,
      predictionReview: reviewOf(table.rounds[round - 1]!),
      decision,
      reason: decision === 'adopt' ? `We would keep it: ${strategy}` : learned,
      nextChange: next,
    })
  }
}

/** Start, stop and inspection of one table's round; a second phone starts and stops by itself. */
async function runTrial(
  { moves, openedAt }: Held,
  table: Seated,
  round: number,
  start: number,
): Promise<void> {
  const { seconds, kept, wrong } = table.rounds[round - 1]!
  const trialId = newId(openedAt)
  const readings = seconds.map(() => newId(openedAt))
  for (const i of seconds.keys())
    await moves(phone(table, i), start + i * 0.3, { kind: 'start', round, trialId })
  for (const [i, own] of seconds.entries())
    await moves(phone(table, i), start + i * 0.3 + own, {
      kind: 'stop',
      round,
      trialId,
      readingId: readings[i]!,
      seconds: own,
      how: 'steady-clock',
      note: '',
    })
  if (kept !== undefined) {
    const [reading, why] = kept
    await moves(phone(table, 0), start + 3.5 * MINUTE, {
      kind: 'keep',
      trialId,
      readingId: readings[reading]!,
      why,
    })
  }
  for (const [i, items] of wrong.entries()) {
    const inspector = table.phones.length - wrong.length + i
    await moves(phone(table, inspector), start + 4 * MINUTE + i * 20, {
      kind: 'inspect',
      trialId,
      inspectionId: newId(openedAt),
      marks: KIT.checklist.map((_, n) => (items.includes(n + 1) ? 0 : 1)),
    })
  }
}

const rangeOf = ([expected, low, high]: RoundStory['time'], of: number) => ({
  expected: expected / of,
  low: low / of,
  high: high / of,
})

/** What the table says of its prediction, from its figures. */
function reviewOf({ time: [, low, high], seconds, kept }: RoundStory): string {
  const took =
    kept === undefined ? seconds.reduce((a, b) => a + b, 0) / seconds.length : seconds[kept[0]]!
  if (took > high) return 'Slower than the whole range: we did not see what would hold us up.'
  if (took < low) return 'Faster than the whole range.'
  return 'Inside the range.'
}

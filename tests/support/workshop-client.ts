import type { FoundRoom } from '../../src/api/workshop-contract.ts'
import { makeId } from '../../src/domain/id.ts'
import type { Id } from '../../src/domain/record.ts'
import { trayFromACard } from '../../src/domain/workshop/kits/tray-from-a-card.ts'
import type { MoveBody, MoveResult, RoundPlan } from '../../src/domain/workshop/moves.ts'
import type { RoomSettings } from '../../src/domain/workshop/room.ts'
import type { RoomState, TableState } from '../../src/domain/workshop/room-state.ts'
import type { Browser, TestServer } from './server-client.ts'

export const SETTINGS: RoomSettings = {
  rounds: 4,
  pace: 'together',
  predicts: 'range',
  planSeconds: null,
  trialSeconds: null,
  timersAgreeWithin: 2,
  prompts: [0],
  rotateRoles: false,
  asksConfidence: true,
  tryOut: false,
}
export const KIT = trayFromACard
export const ITEMS = KIT.checklist.length

let made = 0
/** A fresh id, made as a phone makes it. */
export function freshId(): Id {
  return makeId(1_700_000_000_000 + ++made, crypto.getRandomValues(new Uint8Array(10)))
}

export const aPlan = (own: Partial<RoundPlan> = {}): RoundPlan => ({
  strategy: 'Two lay out, one reads the card.',
  time: { expected: 60, low: 50, high: 75 },
  quality: { expected: 0.9, low: 0.8, high: 1 },
  confidence: 0.8,
  why: 'We have seen the card.',
  ...own,
})

export type Sent = MoveBody & { ageMs?: number; tableId?: Id; textChecked?: boolean; id?: Id }

/** Makes moves as one browser. */
export async function makeMoves(
  browser: Browser,
  roomId: Id,
  moves: readonly Sent[],
  as = '',
): Promise<MoveResult[]> {
  const whole = moves.map((move) => ({ ageMs: 0, ...move, id: move.id ?? freshId() }))
  const { status, body } = await browser.send('POST', `/api/rooms/${roomId}/moves${as}`, {
    moves: whole,
  })
  if (status !== 200) throw new Error(`${status} ${JSON.stringify(body)}`)
  return body.results
}

/** The same, of moves that must be done. */
export async function mustMove(browser: Browser, roomId: Id, ...moves: Sent[]): Promise<void> {
  for (const result of await makeMoves(browser, roomId, moves))
    if (result.outcome !== 'done') throw new Error(JSON.stringify(result))
}

export interface Phone {
  readonly browser: Browser
  readonly seatId: Id
  readonly tableId: Id
  state(): Promise<RoomState>
  table(): Promise<TableState>
  move(...moves: Sent[]): Promise<void>
  try(...moves: Sent[]): Promise<MoveResult[]>
}

export interface Workshop {
  readonly id: Id
  readonly code: string
  readonly unitId: Id
  readonly lead: Browser
  state(): Promise<RoomState>
  leads(...moves: Sent[]): Promise<void>
  find(): Promise<FoundRoom>
  join(tableName: string, name?: string): Promise<Phone>
}

/** A workshop that a coach has opened, in a unit of its own. */
export async function openWorkshop(
  server: TestServer,
  settings: Partial<RoomSettings> = {},
): Promise<Workshop> {
  const lead = await server.as('coach')
  const unitId = freshId()
  await lead.send('POST', '/api/units', { id: unitId, name: 'Training room', parentId: null })
  const id = freshId()
  const opened = await lead.send('POST', '/api/rooms', {
    id,
    name: 'Morning class',
    unitId,
    kit: KIT,
    settings: { ...SETTINGS, ...settings },
  })
  if (opened.status !== 200) throw new Error(JSON.stringify(opened.body))
  const { code } = (opened.body as RoomState).room
  const stateOf = async (browser: Browser): Promise<RoomState> => {
    const { status, body } = await browser.send('GET', `/api/rooms/${id}`)
    if (status !== 200) throw new Error(JSON.stringify(body))
    return body
  }
  return {
    id,
    code,
    unitId,
    lead,
    state: () => stateOf(lead),
    leads: (...moves) => mustMove(lead, id, ...moves),
    find: async () => (await lead.send('POST', '/api/rooms/find', { code })).body,
    async join(tableName, name = '') {
      const browser = server.browser()
      await browser.open()
      const there = (await stateOf(lead)).tables.find((t) => t.name === tableName)
      const { status, body } = await browser.send('POST', '/api/rooms/join', {
        code,
        tableNumber: String(there?.joinNumber ?? ''),
        seatId: freshId(),
        as: 'table',
        tableId: null,
        tableName,
        name,
      })
      if (status !== 200) throw new Error(JSON.stringify(body))
      const { viewer } = body as RoomState
      if (viewer.as !== 'table') throw new Error('not at a table')
      const { seatId, tableId } = viewer
      return {
        browser,
        seatId,
        tableId,
        state: () => stateOf(browser),
        table: async () => (await stateOf(browser)).tables.find((t) => t.id === tableId)!,
        move: (...moves) => mustMove(browser, id, ...moves),
        try: (...moves) => makeMoves(browser, id, moves),
      }
    },
  }
}

/** The moves of one whole round, up to its decision. */
export function wholeRound(round: number, seconds = 62): Sent[] {
  const trialId = freshId()
  const marks = KIT.checklist.map((_, i): 0 | 1 => (i === 0 ? 0 : 1))
  return [
    { kind: 'lock', round, ...aPlan() },
    { kind: 'start', round, trialId },
    { kind: 'stop', round, trialId, readingId: freshId(), seconds, how: 'steady-clock', note: '' },
    { kind: 'inspect', trialId, inspectionId: freshId(), marks },
    {
      kind: 'decide',
      round,
      surprises: '',
      learned: 'The card is read twice.',
      predictionReview: 'Inside the range.',
      decision: 'adapt',
      reason: 'Quicker with one reader.',
      nextChange: 'The reader points.',
    },
  ]
}

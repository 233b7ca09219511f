import type { Id, Instant } from '../../domain/record.ts'
import type { RoomState, TableState, Viewer } from '../../domain/workshop/room-state.ts'
import { roomView, type TableRows, tableState } from '../../domain/workshop/table-state.ts'
import { ownSeats, publicRoom, publicTable, shownRounds } from '../../domain/workshop/visible.ts'
import type { RoomWrite } from '../../storage/journal.ts'
import { type FeedClient, type Message, message } from './feed-client.ts'
import { type KeptRows, keptRows, type Touched } from './kept-rows.ts'
import type { RoomRows } from './whole-room.ts'

/** A room that somebody follows: what is in it, and its texts as each audience gets them. */
export interface FeedRoom {
  readonly id: Id
  readonly clients: Set<FeedClient>
  /** The last write that is in it. */
  seq(): number
  /**
   * Takes over those writes that are not in it yet, and sends what they touched to everybody who
   * follows.
   *
   * @returns Whether it could; if not, it is to be read again.
   */
  take(writes: readonly RoomWrite[], now: Instant): boolean
  /** Takes over all of it as it was read again, and sends that. */
  takeAll(read: RoomRows, now: Instant): void
  stateFor(viewer: Viewer, now: Instant): Message
}

/** The JSON of one table, for each of its three audiences; made when first asked for. */
interface TableTexts {
  lead: Buffer | null
  public: Buffer | null
  /** Its own phones: all but the seats, which each sees a little differently. */
  own: { readonly rest: Buffer; readonly seats: readonly string[] } | null
}
type Parts = readonly (string | Buffer)[]

export function feedRoom(read: RoomRows): FeedRoom {
  const { id } = read.room
  const clients = new Set<FeedClient>()
  let seq = read.seq
  /** `null`: they did not fit any more, and have not been read again yet. */
  let rows: KeptRows | null = keptRows(read)
  let room = roomView(read.room)
  const tables = new Map<Id, TableState>()
  const texts = new Map<Id, TableTexts>()
  for (const table of rows.tables()) show(table)
  let shown = shownRounds([...tables.values()])

  function show(table: TableRows): void {
    const state = tableState(table, room.kit)
    tables.set(state.id, state)
    texts.delete(state.id)
  }

  function textsOf(tableId: Id): TableTexts {
    const found = texts.get(tableId)
    if (found !== undefined) return found
    const made = { lead: null, public: null, own: null }
    texts.set(tableId, made)
    return made
  }

  function publicText(table: TableState): Buffer {
    const own = textsOf(table.id)
    own.public ??= Buffer.from(JSON.stringify(publicTable(table, shown)))
    return own.public
  }

  function tableText(table: TableState, viewer: Viewer): Parts {
    if (viewer.as === 'lead') {
      const own = textsOf(table.id)
      own.lead ??= Buffer.from(JSON.stringify(table))
      return [own.lead]
    }
    if (viewer.as !== 'table' || viewer.tableId !== table.id) return [publicText(table)]
    const own = textsOf(table.id)
    if (own.own === null) {
      const { seats: _, ...rest } = table
      const seats = ownSeats(table, '').map((seat) => JSON.stringify(seat))
      own.own = { rest: Buffer.from(JSON.stringify(rest).slice(0, -1)), seats }
    }
    const mine = table.seats.findIndex((seat) => seat.id === viewer.seatId)
    const seats =
      mine === -1 ? own.own.seats : own.own.seats.with(mine, JSON.stringify(table.seats[mine]))
    return [own.own.rest, `,"seats":[${seats.join(',')}]}`]
  }

  const roomText = (viewer: Viewer) =>
    JSON.stringify(viewer.as === 'lead' ? room : publicRoom(room))

  /** Several tables as one list. */
  const listText = (list: readonly TableState[], viewer: Viewer): Parts =>
    list.flatMap((table, i) => [i === 0 ? '' : ',', ...tableText(table, viewer)])

  const inOrder = () => [...tables.values()].sort((a, b) => a.place - b.place)

  /** Who gets the same text as a viewer, given which tables are in it. */
  function audienceOf(viewer: Viewer, touched: ReadonlySet<Id>): string {
    if (viewer.as !== 'table') return viewer.as
    return touched.has(viewer.tableId) ? viewer.seatId : 'screen'
  }

  /** Ends the streams of phones that are no longer at the table they look from. */
  function endMoved(): void {
    for (const { viewer, end } of clients)
      if (viewer.as === 'table' && !sitsAt(tables.get(viewer.tableId), viewer.seatId)) end()
  }

  function sendChange(now: Instant, { room: roomToo, tableIds }: Touched): void {
    const before = shown
    shown = shownRounds([...tables.values()])
    const uncovered = before.size !== shown.size || [...before].some((n) => !shown.has(n))
    if (uncovered) for (const own of texts.values()) own.public = null
    const touched = inOrder().filter((table) => uncovered || tableIds.has(table.id))
    const ids = new Set(touched.map((table) => table.id))
    const made = new Map<string, Message>()
    for (const client of clients) {
      const audience = audienceOf(client.viewer, ids)
      let text = made.get(audience)
      if (text === undefined) {
        const itself = roomToo ? `,"room":${roomText(client.viewer)}` : ''
        text = message(
          `id: ${seq}\nevent: change\ndata: {"seq":${seq},"now":"${now}"${itself},"tables":[`,
          ...listText(touched, client.viewer),
          ']}\n\n',
        )
        made.set(audience, text)
      }
      client.send(text)
    }
  }

  return {
    id,
    clients,
    seq: () => seq,
    take(writes, now) {
      const touched: Touched = { room: false, tableIds: new Set(), seats: false }
      let last = seq
      for (const write of writes) {
        if (write.seq <= seq) continue
        const taken = rows === null ? 'misfit' : rows.take(write.changes, touched)
        if (taken === 'touched') last = write.seq
        if (taken !== 'misfit') continue
        rows = null
        return false
      }
      if (rows === null || last === seq) return rows !== null
      seq = last
      if (touched.room) room = roomView(rows.room())
      for (const tableId of touched.tableIds) show(rows.table(tableId))
      if (touched.seats) endMoved()
      sendChange(now, touched)
      return true
    },
    takeAll(again, now) {
      seq = again.seq
      rows = keptRows(again)
      room = roomView(again.room)
      tables.clear()
      for (const table of rows.tables()) show(table)
      endMoved()
      sendChange(now, { room: true, tableIds: new Set(tables.keys()), seats: true })
    },
    stateFor(viewer, now) {
      const head: Pick<RoomState, 'seq' | 'now' | 'viewer'> = { seq, now, viewer }
      return message(
        `id: ${seq}\nevent: state\ndata: ${JSON.stringify(head).slice(0, -1)},"room":${roomText(viewer)},"tables":[`,
        ...listText(inOrder(), viewer),
        ']}\n\n',
      )
    },
  }
}

const sitsAt = (table: TableState | undefined, seatId: Id) =>
  table?.seats.some(({ id }) => id === seatId) ?? false

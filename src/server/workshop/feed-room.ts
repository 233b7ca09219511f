import type { Id, Instant } from '../../domain/record.ts'
import type { RoomState, RoomView, TableState, Viewer } from '../../domain/workshop/room-state.ts'
import { ownSeats, publicRoom, publicTable, shownRounds } from '../../domain/workshop/visible.ts'
import { type FeedClient, type Message, message } from './feed-client.ts'
import type { KnownRoom } from './touched.ts'
import type { WholeRoom } from './whole-room.ts'

/** A room that somebody follows: what is in it, and its texts as each audience gets them. */
export interface FeedRoom extends KnownRoom {
  readonly clients: Set<FeedClient>
  seq(): number
  view(): RoomView
  /** Takes over what was read again. */
  take(seq: number, room: RoomView, tables: readonly TableState[]): void
  /** Sends what was touched since to everybody who follows. */
  sendChange(now: Instant, roomToo: boolean, tableIds: ReadonlySet<Id>): void
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

export function feedRoom(whole: WholeRoom): FeedRoom {
  let { seq, room } = whole
  const { id } = whole.room
  const tables = new Map(whole.tables.map((table) => [table.id, table]))
  const texts = new Map<Id, TableTexts>()
  const seats = new Map<Id, Id>()
  const clients = new Set<FeedClient>()
  let shown = shownRounds(whole.tables)
  for (const table of whole.tables) learnSeats(table)

  function learnSeats(table: TableState): void {
    for (const seat of table.seats) seats.set(seat.id, table.id)
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

  return {
    id,
    clients,
    seq: () => seq,
    view: () => room,
    hasTable: (tableId) => tables.has(tableId),
    tableOfSeat: (seatId) => seats.get(seatId) ?? null,
    take(now, view, fresh) {
      seq = now
      room = view
      for (const table of fresh) {
        tables.set(table.id, table)
        texts.delete(table.id)
        learnSeats(table)
      }
    },
    sendChange(now, roomToo, tableIds) {
      const before = shown
      shown = shownRounds([...tables.values()])
      const uncovered = [...before].length !== shown.size || [...before].some((n) => !shown.has(n))
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

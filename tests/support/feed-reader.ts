import { type ClientRequest, get, type IncomingHttpHeaders } from 'node:http'
import type { Id } from '../../src/domain/record.ts'
import {
  type RoomChange,
  type RoomState,
  withChange,
} from '../../src/domain/workshop/room-state.ts'

interface FeedEvent {
  readonly id: number
  readonly event: string
  readonly data: string
}

export interface FeedReader {
  readonly status: number
  readonly headers: IncomingHttpHeaders
  readonly events: FeedEvent[]
  /** What a screen shows after all that has come. */
  state(): RoomState | null
  /** Waits until something holds of the events so far. */
  until(holds: (events: readonly FeedEvent[]) => boolean, ms?: number): Promise<void>
  readonly ended: Promise<void>
  close(): void
}

/** Follows a room over a real connection, as a browser's event source does. */
export function readFeed(
  address: string,
  roomId: Id,
  cookie: string,
  { after, as }: { after?: number; as?: string } = {},
): Promise<FeedReader> {
  const url = new URL(`/api/rooms/${roomId}/feed`, address)
  if (as !== undefined) url.searchParams.set('as', as)
  const headers = {
    cookie,
    ...(after === undefined ? {} : { 'last-event-id': String(after) }),
  }
  return new Promise((resolve, reject) => {
    const request: ClientRequest = get(url, { headers, agent: false }, (response) => {
      const events: FeedEvent[] = []
      let waiting: { holds: (events: readonly FeedEvent[]) => boolean; done: () => void }[] = []
      let text = ''
      let state: RoomState | null = null
      const take = (block: string) => {
        const field = (name: string) =>
          block
            .split('\n')
            .find((line) => line.startsWith(`${name}: `))
            ?.slice(name.length + 2)
        const event = field('event')
        if (event === undefined) return
        const data = field('data') ?? ''
        events.push({ id: Number(field('id')), event, data })
        if (event === 'state') state = JSON.parse(data) as RoomState
        else if (state !== null) state = withChange(state, JSON.parse(data) as RoomChange)
      }
      response.setEncoding('utf8')
      response.on('data', (chunk: string) => {
        text += chunk
        for (let end = text.indexOf('\n\n'); end !== -1; end = text.indexOf('\n\n')) {
          take(text.slice(0, end))
          text = text.slice(end + 2)
        }
        const [done, rest] = [
          waiting.filter(({ holds }) => holds(events)),
          waiting.filter(({ holds }) => !holds(events)),
        ]
        waiting = rest
        for (const one of done) one.done()
      })
      const ended = new Promise<void>((over) => {
        response.once('close', () => over())
        response.once('error', () => over())
      })
      resolve({
        status: response.statusCode ?? 0,
        headers: response.headers,
        events,
        state: () => state,
        until: (holds, ms = 5_000) =>
          new Promise((done, late) => {
            if (holds(events)) return done()
            const timer = setTimeout(
              () =>
                late(
                  new Error(
                    `not within ${ms} ms; so far: ${events.map((e) => `${e.event} ${e.id}`)}`,
                  ),
                ),
              ms,
            )
            waiting.push({
              holds,
              done: () => {
                clearTimeout(timer)
                done()
              },
            })
          }),
        ended,
        close: () => request.destroy(),
      })
    })
    request.once('error', reject)
  })
}

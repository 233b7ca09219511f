import type { ServerResponse } from 'node:http'
import type { Viewer } from '../../domain/workshop/room-state.ts'

/** A screen that falls this far behind is let go; it comes back and gets the whole state. */
const MOST_WAITING = 1024 * 1024

/** One screen that follows a room. */
export interface FeedClient {
  readonly viewer: Viewer
  /** The session or seat that it may look with is asked for again now and then. */
  readonly mayStay: () => Promise<boolean>
  send(message: Message): void
  /** Ends the stream; the page comes back by itself. */
  end(): void
}

/**
 * Text of the feed, ready for the wire. One buffer serves every screen that sees the same: it is
 * written straight to each socket, already framed as an HTTP chunk, which takes half the time of
 * `response.write`.
 */
export interface Message {
  readonly framed: Buffer
  readonly plain: Buffer
}

export function message(...parts: readonly (string | Buffer)[]): Message {
  const bytes = parts.map((part) => (typeof part === 'string' ? Buffer.from(part) : part))
  const length = bytes.reduce((sum, part) => sum + part.length, 0)
  const head = Buffer.from(`${length.toString(16)}\r\n`)
  const framed = Buffer.concat([head, ...bytes, Buffer.from('\r\n')])
  return { framed, plain: framed.subarray(head.length, head.length + length) }
}

/**
 * Opens the stream on a response that nobody else will write to.
 *
 * @param closed Called once, when the other side is gone.
 */
export function feedClient(
  response: ServerResponse,
  viewer: Viewer,
  mayStay: () => Promise<boolean>,
  closed: (client: FeedClient) => void,
): FeedClient {
  response.writeHead(200, {
    'content-type': 'text/event-stream; charset=utf-8',
    'cache-control': 'no-store',
    // Proxies that collect replies before they pass them on would hold every event back.
    'x-accel-buffering': 'no',
  })
  response.flushHeaders()
  const chunked = (response as { chunkedEncoding?: boolean }).chunkedEncoding === true
  const socket = response.socket
  const client: FeedClient = {
    viewer,
    mayStay,
    send({ framed, plain }) {
      if (socket === null || socket.destroyed || response.writableEnded) return
      if (socket.writableLength > MOST_WAITING) socket.destroy()
      else socket.write(chunked ? framed : plain)
    },
    end() {
      response.end()
    },
  }
  response.once('close', () => closed(client))
  client.send(message('retry: 1000\n\n'))
  return client
}

import type { RoomChange, RoomState } from '../domain/workshop/room-state.ts'

export interface FeedEvents {
  readonly onState: (state: RoomState) => void
  readonly onChange: (change: RoomChange) => void
  readonly onLink: (live: boolean) => void
  /** It failed again; the page may find out why. */
  readonly onFailure: () => void
}

export interface Feed {
  /** Comes back at once, if it is not there. */
  readonly wake: (afresh?: boolean) => void
  readonly close: () => void
}

const LONGEST_WAIT_MS = 15_000

/**
 * The room's feed, which always comes back: a browser gives up an event source for good on an HTTP
 * error, and may not notice that a phone has changed networks.
 *
 * @param seq Number of the last state this page has; 0 for none.
 */
export function openFeed(roomId: string, seq: () => number, events: FeedEvents): Feed {
  let source: EventSource | null = null
  let timer: ReturnType<typeof setTimeout> | undefined
  let wait = 500
  let closed = false

  function open() {
    clearTimeout(timer)
    source?.close()
    const after = seq()
    source = new EventSource(
      `/api/rooms/${roomId}/feed?as=table${after > 0 ? `&after=${after}` : ''}`,
    )
    source.addEventListener('open', () => {
      wait = 500
      events.onLink(true)
    })
    source.addEventListener('state', ({ data }) => events.onState(JSON.parse(data)))
    source.addEventListener('change', ({ data }) => events.onChange(JSON.parse(data)))
    source.addEventListener('error', () => {
      source?.close()
      source = null
      events.onLink(false)
      if (closed) return
      events.onFailure()
      timer = setTimeout(open, wait)
      wait = Math.min(wait * 2, LONGEST_WAIT_MS)
    })
  }
  open()
  return {
    wake(afresh = false) {
      if (closed || (!afresh && source?.readyState === EventSource.OPEN)) return
      wait = 500
      open()
    },
    close() {
      closed = true
      clearTimeout(timer)
      source?.close()
    },
  }
}

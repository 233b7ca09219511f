import type { Client } from 'pg'
import { SERVER_NAME } from './postgres.ts'

/** How long until a lost connection is made again. */
const RECONNECT_MS = 1_000
/** How often to look anyway: a connection can be dead for minutes before anybody notices. */
const POLL_MS = 3_000

/**
 * Listens to one channel on a connection of its own, for as long as it takes: a connection that is
 * lost is made again, and since what was said meanwhile is lost too, `wake` is called then as well.
 */
export function listen(url: string, channel: string, wake: () => void) {
  let client: Client | null = null
  let retry: ReturnType<typeof setTimeout> | undefined
  let stopped = false
  const poll = setInterval(wake, POLL_MS)
  poll.unref()

  async function connect(): Promise<void> {
    const { default: pg } = await import('pg')
    const fresh = new pg.Client({
      connectionString: url,
      application_name: SERVER_NAME,
      keepAlive: true,
    })
    let lost = false
    const again = () => {
      if (lost) return
      lost = true
      if (client === fresh) client = null
      fresh.end().catch(() => {})
      if (stopped) return
      retry = setTimeout(() => void connect(), RECONNECT_MS)
      retry.unref()
    }
    fresh.on('error', again)
    fresh.on('end', again)
    fresh.on('notification', wake)
    try {
      await fresh.connect()
      await fresh.query(`LISTEN ${channel}`)
    } catch {
      again()
      return
    }
    if (stopped) return void fresh.end().catch(() => {})
    client = fresh
    wake()
  }
  const first = connect()

  return {
    async stop() {
      stopped = true
      clearInterval(poll)
      clearTimeout(retry)
      await first
      await client?.end().catch(() => {})
    },
  }
}

import type { AddressInfo } from 'node:net'
import { AppError } from '../errors.ts'
import type { Database } from '../storage/database.ts'
import { buildApp } from './app.ts'
import type { Settings } from './settings.ts'

export interface RunningServer {
  /** Where it answers, such as `http://127.0.0.1:7295`. */
  readonly address: string
  /** Finishes what is under way, then closes server and database. */
  close(): Promise<void>
}

/** Starts a server on a database that is open. */
export async function startServer(db: Database, settings: Settings): Promise<RunningServer> {
  const app = await buildApp({ db, settings })
  try {
    await app.listen({ host: settings.host, port: settings.port })
  } catch (error) {
    throw refused(error, settings)
  }
  const { address, port, family } = app.server.address() as AddressInfo
  const host = family === 'IPv6' ? `[${address}]` : address
  return {
    address: `http://${host}:${port}`,
    async close() {
      await app.close()
      await db.close()
    },
  }
}

function refused(error: unknown, { host, port }: Settings): unknown {
  const { code } = error as { code?: string }
  if (code !== 'EADDRINUSE' && code !== 'EACCES' && code !== 'EADDRNOTAVAIL') return error
  return new AppError(
    'server.cannot_listen',
    code === 'EADDRINUSE'
      ? `Something else listens on ${host}, port ${port} already.`
      : `This machine does not let Pawl listen on ${host}, port ${port}.`,
    'End the other program, or set PORT to another number; PORT=0 picks a free one.',
    { host, port },
  )
}

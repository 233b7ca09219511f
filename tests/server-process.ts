import { type ChildProcess, spawn } from 'node:child_process'
import { fileURLToPath } from 'node:url'
import type { Place } from '../src/storage/database.ts'

export interface ServerProcess {
  readonly address: string
  readonly child: ChildProcess
  /** Ends it without a warning, as a power cut would. */
  kill(): Promise<void>
  /** Ends it as Ctrl-C would. @returns Its exit code. */
  stop(): Promise<number | null>
}

const MAIN = fileURLToPath(new URL('../src/cli/main.ts', import.meta.url))

/** Environment that keeps the record at a place. */
export function environmentOf(place: Place): NodeJS.ProcessEnv {
  const { DATABASE_URL: _, PAWL_ORIGIN: __, PAWL_HOST: ___, ...env } = process.env
  return {
    ...env,
    PAWL_DATA: place.dataDir,
    ...(place.databaseUrl === undefined ? {} : { DATABASE_URL: place.databaseUrl }),
  }
}

/** Starts the real server in a process of its own, on a free port, and waits until it is ready. */
export async function startServerProcess(
  place: Place,
  args: readonly string[] = [],
): Promise<ServerProcess> {
  const child = spawn(process.execPath, [MAIN, 'serve', ...args], {
    env: { ...environmentOf(place), PORT: '0' },
    stdio: ['ignore', 'pipe', 'pipe'],
  })
  const gone = new Promise<number | null>((resolve) => child.once('exit', resolve))
  let errors = ''
  child.stderr.on('data', (chunk) => {
    errors += chunk
  })
  const address = await new Promise<string>((resolve, reject) => {
    let output = ''
    child.stdout.on('data', (chunk) => {
      output += chunk
      const found = /ready: (http\S+)/.exec(output)
      if (found !== null) resolve(found[1]!)
    })
    child.once('exit', (code) => reject(new Error(`The server ended with ${code}: ${errors}`)))
  })
  return {
    address,
    child,
    async kill() {
      child.kill('SIGKILL')
      await gone
    },
    async stop() {
      child.kill('SIGTERM')
      return gone
    },
  }
}

/** A browser over the network. */
export async function networkBrowser(address: string) {
  let cookie = ''
  let csrf = ''
  async function send(method: string, path: string, body?: unknown) {
    const response = await fetch(address + path, {
      method,
      headers: {
        cookie,
        'x-pawl-csrf': csrf,
        ...(body === undefined ? {} : { 'content-type': 'application/json' }),
      },
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
    })
    const reply = (await response.json()) as Record<string, unknown>
    cookie = response.headers.get('set-cookie')?.split(';')[0] ?? cookie
    if (typeof reply['csrf'] === 'string') csrf = reply['csrf']
    return { status: response.status, reply }
  }
  await send('GET', '/api/session')
  return { send }
}

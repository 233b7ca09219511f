import { type ChildProcess, spawn } from 'node:child_process'
import { existsSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import type { Place } from '../../src/storage/database.ts'
import { testPort } from './side-by-side.ts'

/** The program as it stands in the source, and as `npm start` runs it. */
const PROGRAMS = {
  source: fileURLToPath(new URL('../../src/cli/main.ts', import.meta.url)),
  built: fileURLToPath(new URL('../../dist/pawl.mjs', import.meta.url)),
} as const

export interface ServerProcess {
  readonly address: string
  readonly child: ChildProcess
  /** Everything it printed so far. */
  readonly output: () => string
  /** Ends it without a warning, as a power cut would. */
  kill(): Promise<void>
  /** Ends it as Ctrl-C would. @returns Its exit code. */
  stop(): Promise<number | null>
}

/** Environment that keeps the record at a place. */
export function environmentOf(place: Place): NodeJS.ProcessEnv {
  const { DATABASE_URL: _, PAWL_ORIGIN: __, PAWL_HOST: ___, ...env } = process.env
  return {
    ...env,
    PAWL_DATA: place.dataDir,
    ...(place.databaseUrl === undefined ? {} : { DATABASE_URL: place.databaseUrl }),
  }
}

/**
 * Starts the real server in a process of its own and waits until it is ready.
 *
 * @param port Where another one was before, so that open pages find this one.
 */
export async function startServer(
  place: Place,
  program: keyof typeof PROGRAMS = 'source',
  args: readonly string[] = [],
  port = testPort(),
): Promise<ServerProcess> {
  const path = PROGRAMS[program]
  if (!existsSync(path)) throw new Error('Pawl is not built: run `npm run build` first.')
  const child = spawn(process.execPath, [path, 'serve', ...args], {
    env: { ...environmentOf(place), PORT: port },
    stdio: ['ignore', 'pipe', 'pipe'],
  })
  const gone = new Promise<number | null>((resolve) => child.once('exit', resolve))
  let output = ''
  const address = await new Promise<string>((resolve, reject) => {
    const late = setTimeout(() => {
      child.kill('SIGKILL')
      reject(new Error(`The server was not ready after 60 s:\n${output}`))
    }, 60_000)
    const read = (chunk: Buffer) => {
      output += chunk
      const found = /ready: (http\S+)/.exec(output)
      if (found !== null) resolve(found[1]!)
    }
    child.stdout.on('data', read)
    child.stderr.on('data', read)
    void gone.then((code) => reject(new Error(`The server ended with ${code}:\n${output}`)))
    const settled = () => clearTimeout(late)
    child.stdout.once('data', settled)
    void gone.then(settled)
  })
  return {
    address,
    child,
    output: () => output,
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

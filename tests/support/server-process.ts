import { type ChildProcess, spawn } from 'node:child_process'
import { existsSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import type { Place } from '../../src/storage/database.ts'
import { testPort } from './side-by-side.ts'

const BUILT = fileURLToPath(new URL('../../dist/pawl.mjs', import.meta.url))

export interface ServerProcess {
  readonly url: string
  /** Everything it printed so far. */
  readonly output: () => string
  /** Ends it and waits until it is gone. */
  stop(signal?: NodeJS.Signals): Promise<number | null>
}

/**
 * The built server as a process of its own, on a free port (or on PORT, where the tests were given
 * one), answering when this resolves.
 */
export async function startServer(
  place: Place,
  args: readonly string[] = [],
): Promise<ServerProcess> {
  if (!existsSync(BUILT)) throw new Error('Pawl is not built: run `npm run build` first.')
  const { DATABASE_URL: _, ...rest } = process.env
  const env = {
    ...rest,
    PORT: testPort(),
    PAWL_DATA: place.dataDir,
    ...(place.databaseUrl === undefined ? {} : { DATABASE_URL: place.databaseUrl }),
  }
  const child = spawn(process.execPath, [BUILT, 'serve', ...args], {
    env,
    stdio: ['ignore', 'pipe', 'pipe'],
  })
  let output = ''
  const gone = new Promise<number | null>((resolve) => child.once('exit', resolve))
  const url = await new Promise<string>((resolve, reject) => {
    const late = setTimeout(() => {
      child.kill('SIGKILL')
      reject(new Error(`The server did not get ready in 30 s:\n${output}`))
    }, 30_000)
    const read = (chunk: Buffer) => {
      output += chunk
      const ready = /ready: (http:\/\/\S+)/.exec(output)
      if (ready) {
        clearTimeout(late)
        resolve(ready[1]!)
      }
    }
    child.stdout.on('data', read)
    child.stderr.on('data', read)
    void gone.then((code) => {
      clearTimeout(late)
      reject(new Error(`The server ended with ${code}:\n${output}`))
    })
  })
  return { url, output: () => output, stop: (signal = 'SIGTERM') => end(child, gone, signal) }
}

function end(
  child: ChildProcess,
  gone: Promise<number | null>,
  signal: NodeJS.Signals,
): Promise<number | null> {
  if (child.exitCode === null && child.signalCode === null) child.kill(signal)
  return gone
}

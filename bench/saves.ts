// Acknowledged saves per second: through record(), which checks the version, journals and hashes,
// against bare commits of one row to SQLite (WAL, synchronous=FULL). And over HTTP, with everything
// that a request goes through.
import { mkdtempSync, rmSync } from 'node:fs'
import { Agent, request } from 'node:http'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { DatabaseSync } from 'node:sqlite'
import { newId } from '../src/server/call.ts'
import { startServer } from '../src/server/server.ts'
import { openDatabase } from '../src/storage/database.ts'
import { interleave, type Measured } from './measure.ts'

const SAVES = 200
const ROUNDS = Number(process.env['ROUNDS'] ?? 20)
const AT_A_TIME = 16

const folder = mkdtempSync(join(tmpdir(), 'pawl-bench-'))
const now = () => new Date().toISOString()

const bareDb = new DatabaseSync(join(folder, 'bare.sqlite'))
bareDb.exec(
  'PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; CREATE TABLE note (id TEXT PRIMARY KEY, text TEXT)',
)
const insertBare = bareDb.prepare('INSERT INTO note VALUES (?, ?)')

const db = await openDatabase({ dataDir: join(folder, 'record') })
const by = { id: newId(now()), name: 'Bench' }
const unitId = newId(now())
await db.record({ action: 'unit.create', by, at: now() }, (write) =>
  write.insert('unit', { id: unitId, parentId: null, name: 'Ward', origin: 'own', version: 1 }),
)
let renamed = 0

const insert = () =>
  db.record({ action: 'unit.create', by, at: now() }, (write) =>
    write.insert('unit', {
      id: newId(now()),
      parentId: null,
      name: 'W',
      origin: 'own',
      version: 1,
    }),
  )
const update = () =>
  db.record({ action: 'unit.change', by, at: now() }, (write) =>
    write.update('unit', unitId, null, { name: `Ward ${++renamed}` }),
  )

async function oneByOne(save: () => Promise<unknown>) {
  for (let i = 0; i < SAVES; i++) await save()
}
async function together(save: () => Promise<unknown>) {
  let left = SAVES
  const client = async () => {
    while (left-- > 0) await save()
  }
  await Promise.all(Array.from({ length: AT_A_TIME }, client))
}

const settings = { host: '127.0.0.1', port: 0, origin: null, webDir: null }
const server = await startServer(db, settings)
const agent = new Agent({ keepAlive: true, maxSockets: AT_A_TIME })
let cookie = ''
let csrf = ''
function send(method: string, path: string, body?: object): Promise<void> {
  return new Promise((resolve, reject) => {
    const headers = { cookie, 'x-pawl-csrf': csrf, 'content-type': 'application/json' }
    const sent = request(server.address + path, { method, agent, headers }, (response) => {
      let text = ''
      response.on('data', (chunk) => {
        text += chunk
      })
      response.on('end', () => {
        cookie = response.headers['set-cookie']?.[0]?.split(';')[0] ?? cookie
        csrf = (JSON.parse(text) as { csrf?: string }).csrf ?? csrf
        if (response.statusCode === 200) resolve()
        else reject(new Error(text))
      })
    })
    sent.on('error', reject)
    sent.end(body === undefined ? undefined : JSON.stringify(body))
  })
}
await send('GET', '/api/session')
await send('POST', '/api/owner', {
  name: 'Bench',
  email: 'bench@saltmarsh.example',
  password: 'four unrelated words',
})
const overHttp = () =>
  send('POST', '/api/units', { id: newId(now()), parentId: null, name: 'Ward' })

const BARE = 'bare SQLite commits'
const measured = await interleave(
  [
    {
      name: BARE,
      run: () => {
        for (let i = 0; i < SAVES; i++) insertBare.run(newId(now()), 'Ward')
      },
    },
    { name: 'record: new rows, one by one', run: () => oneByOne(insert) },
    { name: 'record: changes, one by one', run: () => oneByOne(update) },
    { name: `record: new rows, ${AT_A_TIME} at a time`, run: () => together(insert) },
    { name: `over HTTP, ${AT_A_TIME} at a time`, run: () => together(overHttp) },
  ],
  ROUNDS,
)
print(measured)
agent.destroy()
bareDb.close()
await server.close()
rmSync(folder, { recursive: true, force: true })

function print(all: readonly Measured[]): void {
  const perSecond = (m: Measured) => (SAVES * 1000) / m.median
  const base = perSecond(all.find(({ name }) => name === BARE)!)
  console.log('\nAcknowledged saves per second')
  for (const m of all)
    console.log(
      `  ${m.name.padEnd(34)}  ${Math.round(perSecond(m)).toString().padStart(6)}  ${(perSecond(m) / base).toFixed(2)}×`,
    )
}

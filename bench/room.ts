// From a stop on one phone to every screen of its workshop: 300 phones in one room, and 20 rooms of 15
// at once, all of them stopping at the same moment. In turn with a bare Node server that writes the
// same bytes to as many screens, and with one that keeps them first, as Pawl does: a commit that
// survives power loss. Each server has a process of its own. Nothing may be lost or doubled.
// Goal: under 1.2 times the bare one.
import { type ChildProcess, spawn } from 'node:child_process'
import { mkdtempSync, rmSync } from 'node:fs'
import { Agent, request } from 'node:http'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { makeId } from '../src/domain/id.ts'
import { trayFromACard } from '../src/domain/workshop/kits/tray-from-a-card.ts'
import { openScreens, type Screen } from './room-screens.ts'

const TABLES = 12
const PHONES = Number(process.env['PHONES'] ?? 300)
const ROOMS = Number(process.env['ROOMS'] ?? 20)
const PHONES_A_ROOM = 15
const ROUNDS = Number(process.env['ROUNDS'] ?? 5)

const folder = mkdtempSync(join(tmpdir(), 'pawl-bench-'))
const here = (path: string) => fileURLToPath(new URL(path, import.meta.url))
const agent = new Agent({ keepAlive: true, maxSockets: 64 })
const id = () => makeId(Date.now(), crypto.getRandomValues(new Uint8Array(10)))

async function started(args: readonly string[]): Promise<{ address: string; child: ChildProcess }> {
  const child = spawn(process.execPath, args, {
    env: { ...process.env, PORT: '0', PAWL_DATA: join(folder, 'record'), DATABASE_URL: '' },
    stdio: ['ignore', 'pipe', 'inherit'],
  })
  let output = ''
  const address = await new Promise<string>((resolve, reject) => {
    child.stdout?.on('data', (chunk) => {
      output += chunk
      const found = /ready: (http\S+)/.exec(output)
      if (found !== null) resolve(found[1]!)
    })
    child.once('exit', (code) => reject(new Error(`ended with ${code}: ${output}`)))
  })
  return { address, child }
}

interface Visitor {
  cookie: string
  csrf: string
}

function send<T>(
  url: string,
  method: string,
  body: unknown,
  visitor: Visitor | null = null,
): Promise<T> {
  return new Promise((resolve, reject) => {
    const headers = {
      'content-type': 'application/json',
      ...(visitor === null || visitor.cookie === '' ? {} : { cookie: visitor.cookie }),
      ...(visitor === null ? {} : { 'x-pawl-csrf': visitor.csrf }),
    }
    const sent = request(url, { method, agent, headers }, (response) => {
      let text = ''
      response.on('data', (chunk) => {
        text += chunk
      })
      response.on('end', () => {
        if (response.statusCode !== 200) return reject(new Error(text))
        const reply = JSON.parse(text) as T & { csrf?: string }
        if (visitor !== null) {
          visitor.cookie = response.headers['set-cookie']?.[0]?.split(';')[0] ?? visitor.cookie
          visitor.csrf = reply.csrf ?? visitor.csrf
        }
        resolve(reply)
      })
    })
    sent.on('error', reject)
    sent.end(
      typeof body === 'string' ? body : body === undefined ? undefined : JSON.stringify(body),
    )
  })
}

const pawl = await started([here('../src/cli/main.ts'), 'serve'])
const bare = await started([here('bare-fanout.mjs')])
const keeping = await started([here('bare-fanout.mjs'), join(folder, 'bare.sqlite')])
const at = (path: string) => pawl.address + path

const lead: Visitor = { cookie: '', csrf: '' }
await send(at('/api/session'), 'GET', undefined, lead)
const password = 'four unrelated words'
await send(at('/api/owner'), 'POST', { name: 'Bench', email: 'bench@x.example', password }, lead)
const unitId = id()
await send(at('/api/units'), 'POST', { id: unitId, parentId: null, name: 'Training room' }, lead)

interface Phone extends Visitor {
  readonly tableId: string
}
interface Class {
  readonly id: string
  readonly phones: Phone[]
  readonly tableIds: string[]
}

interface Joined {
  readonly viewer: { readonly tableId: string }
  readonly tables: readonly { readonly id: string; readonly joinNumber: number | null }[]
}

async function openClass(phones: number, tables: number): Promise<Class> {
  const roomId = id()
  const settings = {
    rounds: 8,
    pace: 'together',
    predicts: 'range',
    planSeconds: null,
    trialSeconds: null,
    timersAgreeWithin: 2,
    prompts: [],
    rotateRoles: false,
    asksConfidence: true,
    tryOut: false,
  }
  const name = 'Bench'
  const opened = await send<{ room: { code: string } }>(
    at('/api/rooms'),
    'POST',
    { id: roomId, name, unitId, kit: trayFromACard, settings },
    lead,
  )
  const { code } = opened.room
  const made: Phone[] = []
  const numbers = new Map<string, string>()
  for (let i = 0; i < phones; i++) {
    const visitor: Visitor = { cookie: '', csrf: '' }
    await send(at('/api/session'), 'GET', undefined, visitor)
    const tableName = `Table ${(i % tables) + 1}`
    const tableNumber = numbers.get(tableName) ?? ''
    const place = { as: 'table', tableId: null, tableName, tableNumber }
    const joining = { code, seatId: id(), ...place, name: '' }
    const { viewer, tables: all } = await send<Joined>(
      at('/api/rooms/join'),
      'POST',
      joining,
      visitor,
    )
    const own = all.find((table) => table.id === viewer.tableId)
    numbers.set(tableName, String(own?.joinNumber ?? ''))
    made.push({ ...visitor, tableId: viewer.tableId })
  }
  await move(roomId, made[0]!, { kind: 'confidence', when: 'before', value: 6 })
  return { id: roomId, phones: made, tableIds: [...new Set(made.map((p) => p.tableId))] }
}

async function move(roomId: string, phone: Visitor, ...moves: object[]): Promise<number> {
  const { results, seq } = await send<{ results: { outcome: string }[]; seq: number }>(
    at(`/api/rooms/${roomId}/moves?as=table`),
    'POST',
    { moves: moves.map((one) => ({ ...one, id: id(), ageMs: 0 })) },
    phone,
  )
  if (results.some(({ outcome }) => outcome !== 'done')) throw new Error(JSON.stringify(results))
  return seq
}

const share = { expected: 0.9, low: 0.8, high: 1 }
const time = { expected: 60, low: 50, high: 80 }
const plan = {
  strategy: 'Two lay out, one reads.',
  time,
  quality: share,
  confidence: 0.8,
  why: 'So.',
}

/** One whole set of screens, on Pawl and on the bare server. */
interface Screens {
  readonly of: Map<string, Screen[]>
  waiting: number
  done: () => void
}

async function follow(address: string, paths: Map<string, { path: string; cookie: string }[]>) {
  const screens: Screens = { of: new Map(), waiting: 0, done: () => {} }
  const onEvent = () => {
    if (--screens.waiting === 0) screens.done()
  }
  for (const [group, list] of paths)
    screens.of.set(group, await openScreens(address, list, onEvent))
  return screens
}

/** Waits for so many events on a set of screens. */
function events(screens: Screens, count: number): Promise<void> {
  screens.waiting = count
  return new Promise((resolve, reject) => {
    const late = setTimeout(
      () => reject(new Error(`${screens.waiting} of ${count} events did not come.`)),
      20_000,
    )
    screens.done = () => {
      clearTimeout(late)
      resolve()
    }
  })
}

async function compare(title: string, classes: readonly Class[]): Promise<void> {
  const own = new Map(
    classes.map((room) => [
      room.id,
      room.phones.map(({ cookie }) => ({ path: `/api/rooms/${room.id}/feed?as=table`, cookie })),
    ]),
  )
  const plain = new Map(
    classes.map((room) => [
      room.id,
      room.phones.map(() => ({ path: `/?group=${room.id}`, cookie: 'a=b' })),
    ]),
  )
  const ours = await follow(pawl.address, own)
  const others = await Promise.all([bare, keeping].map(({ address }) => follow(address, plain)))
  const phones = classes.reduce((sum, room) => sum + room.phones.length, 0)
  const times: Times = [[], [], []]
  const begun = new Map([...ours.of].flatMap(([, list]) => list.map((s) => [s, s.ids.length])))
  let rounds = 0

  /** Does something in every room at once, and waits until every screen has it. */
  const everywhere = async (screens: Screens, work: (room: Class) => Promise<unknown>) => {
    const sentAt = new Map<string, number>()
    const come = events(screens, phones)
    await Promise.all(
      classes.map((room) => {
        sentAt.set(room.id, performance.now())
        return work(room)
      }),
    )
    await come
    return [...screens.of].flatMap(([room, list]) =>
      list.map(({ lastAt }) => lastAt - sentAt.get(room)!),
    )
  }
  for (let round = 1; round <= ROUNDS; round++)
    for (let t = 0; t < classes[0]!.tableIds.length; t++) {
      const phoneOf = (room: Class) => room.phones.find((p) => p.tableId === room.tableIds[t])!
      const trialOf = new Map(classes.map((room) => [room.id, id()]))
      const moved = (made: (room: Class) => object) =>
        everywhere(ours, (room) => move(room.id, phoneOf(room), made(room)))
      await moved(() => ({ kind: 'lock', round, ...plan }))
      await moved((room) => ({ kind: 'start', round, trialId: trialOf.get(room.id) }))
      // The bare ones send what a phone of another table gets, of the event before.
      for (const { address } of [bare, keeping])
        for (const room of classes) {
          const other = room.phones.findIndex((p) => p.tableId !== room.tableIds[t])
          const text = ours.of.get(room.id)![Math.max(0, other)]!.lastText
          await send(`${address}/?group=${room.id}`, 'PUT', text)
        }
      const plainly =
        (i: number, { address }: { address: string }) =>
        async () => {
          const post = (room: Class) =>
            send(`${address}/?group=${room.id}`, 'POST', { moves: [trialOf.get(room.id)] })
          times[i]!.push(...(await everywhere(others[i]!, post)))
        }
      const stops = async () => {
        const stopped = await moved((room) => ({
          kind: 'stop',
          round,
          trialId: trialOf.get(room.id),
          readingId: id(),
          seconds: 62.4,
          how: 'steady-clock',
          note: '',
        }))
        times[2].push(...stopped)
      }
      const turn = [plainly(0, bare), plainly(1, keeping), stops]
      for (let k = 0; k < turn.length; k++) await turn[(k + rounds) % turn.length]!()
      rounds++
    }

  let wrong = 0
  for (const list of ours.of.values()) {
    const first = list[0]!.ids.slice(begun.get(list[0]!))
    if (first.length !== 3 * rounds || new Set(first).size !== first.length) wrong++
    for (const screen of list)
      if (screen.ids.slice(begun.get(screen)).join() !== first.join()) wrong++
  }
  for (const { of } of [ours, ...others])
    for (const list of of.values()) for (const { socket } of list) socket.destroy()
  report(title, times, ours, wrong, 3 * rounds * phones)
}

/** Milliseconds from a stop to each screen: bare, bare that keeps, Pawl. */
type Times = [number[], number[], number[]]
const NAMES = ['bare response.write', 'the same, kept first', 'pawl'] as const

function report(title: string, times: Times, screens: Screens, wrong: number, sent: number): void {
  const bytes = [...screens.of.values()][0]![0]!.lastText.length
  console.log(`\n${title}; ${bytes} bytes an event`)
  const sorted = times.map((list) => list.toSorted((a, b) => a - b))
  const at = (list: readonly number[], share: number) =>
    list[Math.min(list.length - 1, Math.floor(share * list.length))]!
  for (const [i, name] of NAMES.entries()) {
    const part = (share: number) => {
      const ms = at(sorted[i]!, share)
      const [toBare, toKept] = [sorted[0]!, sorted[1]!].map((list) => ms / at(list, share))
      return `${ms.toFixed(2).padStart(8)} ms  ${toBare!.toFixed(2)}×  ${toKept!.toFixed(2)}×`
    }
    console.log(`  ${name.padEnd(21)}  50 %: ${part(0.5)}    99 %: ${part(0.99)}`)
  }
  console.log(
    `  ${sent} events to screens: ${wrong === 0 ? 'none lost, none doubled' : `${wrong} screens wrong`}`,
  )
  if (wrong > 0) process.exitCode = 1
}

try {
  await compare(`${PHONES} phones in one room`, [await openClass(PHONES, TABLES)])
  const classes: Class[] = []
  for (let i = 0; i < ROOMS; i++) classes.push(await openClass(PHONES_A_ROOM, 3))
  await compare(`${ROOMS} rooms at once, ${PHONES_A_ROOM} phones each`, classes)
} finally {
  agent.destroy()
  for (const { child } of [pawl, bare, keeping]) {
    child.kill('SIGTERM')
    await new Promise((resolve) => child.once('exit', resolve))
  }
  rmSync(folder, { recursive: true, force: true })
}

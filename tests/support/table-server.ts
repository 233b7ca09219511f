import { readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { brotliCompressSync, gzipSync } from 'node:zlib'
import type { Browser, BrowserContext, Page } from 'playwright-core'
import { build } from 'vite'
import { makeId } from '../../src/domain/id.ts'
import type { Kit } from '../../src/domain/workshop/kit.ts'
import type { MoveBody } from '../../src/domain/workshop/moves.ts'
import type { RoomSettings } from '../../src/domain/workshop/room.ts'
import type { RoomState } from '../../src/domain/workshop/room-state.ts'
import { type RunningServer, startServer } from '../../src/server/server.ts'
import { openDatabase, type Place } from '../../src/storage/database.ts'
import { networkBrowser } from './network-browser.ts'
import { SAMPLE_KIT, SAMPLE_SETTINGS } from './sample-room.ts'
import { testFolder, testPort } from './side-by-side.ts'

const root = fileURLToPath(new URL('../..', import.meta.url))
const newId = () => makeId(Date.now(), crypto.getRandomValues(new Uint8Array(10)))

/** A kit of six items, the fewest there may be, so that a test need not press so often. */
const SHORT_KIT: Kit = {
  ...SAMPLE_KIT,
  checklist: SAMPLE_KIT.checklist.slice(0, 6),
}

/** Builds the table page into a folder of its own. @returns The folder that a server serves. */
export async function buildTablePage(): Promise<string> {
  const webDir = testFolder()
  // Otherwise the test runner's own setting would put a developer's extras into it.
  const { NODE_ENV } = process.env
  process.env['NODE_ENV'] = 'production'
  await build({
    configFile: join(root, 'vite.table.config.ts'),
    logLevel: 'silent',
    build: { outDir: join(webDir, 't') },
  })
  if (NODE_ENV === undefined) delete process.env['NODE_ENV']
  else process.env['NODE_ENV'] = NODE_ENV
  writeFileSync(join(webDir, 'index.html'), '<!doctype html><title>Pawl</title>')
  writeFileSync(join(webDir, 'mark.svg'), '<svg xmlns="http://www.w3.org/2000/svg"/>')
  // As the build does, so that the page weighs what it weighs.
  for (const name of readdirSync(join(webDir, 't'))) {
    const path = join(webDir, 't', name)
    writeFileSync(`${path}.br`, brotliCompressSync(readFileSync(path)))
    writeFileSync(`${path}.gz`, gzipSync(readFileSync(path), { level: 9 }))
  }
  return webDir
}

export interface TableServer {
  readonly address: string
  /** Opens a workshop, as its facilitator. */
  openRoom(settings?: Partial<RoomSettings>, kit?: Kit): Promise<OpenRoom>
  /** Closes the server; the record stays. */
  stop(): Promise<void>
  /** Opens it again at the same address. */
  again(): Promise<void>
}

export interface OpenRoom {
  readonly id: string
  readonly code: string
  /** As the facilitator sees it. */
  state(): Promise<RoomState>
  lead(...moves: MoveBody[]): Promise<void>
}

/** The real server on a real record, with the table page built from the source. */
export async function startTableServer(place: Place, webDir: string): Promise<TableServer> {
  let running: RunningServer
  const listen = async (port: number) => {
    running = await startServer(await openDatabase(place), {
      ...{ host: '127.0.0.1', port, origin: null, webDir },
    })
    return running.address
  }
  const address = await listen(Number(testPort()))
  const lead = await networkBrowser(address)
  const must = async (method: string, path: string, body?: unknown) => {
    const { status, reply } = await lead.send(method, path, body)
    if (status >= 400) throw new Error(`${method} ${path}: ${JSON.stringify(reply)}`)
    return reply
  }
  const unitId = newId()
  await must('POST', '/api/owner', {
    ...{ name: 'Ines Okonjo', email: 'ines@example.org', password: 'a long enough phrase' },
  })
  await must('POST', '/api/units', { id: unitId, name: 'Training room', parentId: null })

  return {
    address,
    async openRoom(settings = {}, kit = SHORT_KIT) {
      const id = newId()
      const state = (await must('POST', '/api/rooms', {
        ...{ id, name: 'Invented class', unitId, kit },
        settings: { ...SAMPLE_SETTINGS, asksConfidence: false, pace: 'alone', ...settings },
      })) as unknown as RoomState
      return {
        id,
        code: state.room.code,
        state: async () => (await must('GET', `/api/rooms/${id}`)) as unknown as RoomState,
        async lead(...bodies) {
          const moves = bodies.map((body) => ({ ...body, id: newId(), ageMs: 0 }))
          const reply = await must('POST', `/api/rooms/${id}/moves`, { moves })
          const refused = (reply['results'] as { outcome: string }[]).filter(
            ({ outcome }) => outcome === 'refused',
          )
          if (refused.length > 0) throw new Error(JSON.stringify(refused))
        },
      }
    },
    stop: () => running.close(),
    async again() {
      await listen(Number(new URL(address).port))
    },
  }
}

/** A phone with a browser of its own. */
export async function newPhone(
  browser: Browser,
  { width = 360, height = 740, clockOff = 0 } = {},
): Promise<{ context: BrowserContext; page: Page }> {
  const context = await browser.newContext({
    viewport: { width, height },
    hasTouch: true,
    isMobile: true,
  })
  // A clock of day that is wrong, as seen by the page.
  if (clockOff !== 0)
    await context.addInitScript((off) => {
      const now = Date.now.bind(Date)
      Date.now = () => now() + off
    }, clockOff)
  const page = await context.newPage()
  page.setDefaultTimeout(45_000)
  return { context, page }
}

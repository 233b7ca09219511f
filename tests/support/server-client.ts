import type { FastifyInstance } from 'fastify'
import type { Role } from '../../src/domain/record.ts'
import { buildApp } from '../../src/server/app.ts'
import { hashPassword } from '../../src/server/passwords.ts'
import type { Settings } from '../../src/server/settings.ts'
import { type Database, openDatabase, type Place } from '../../src/storage/database.ts'
import { sampleId } from './sample-record.ts'

export const PASSWORD = 'four unrelated words here'

interface Answer {
  readonly status: number
  // biome-ignore lint/suspicious/noExplicitAny: a reply of whatever route; each test says what it expects of it
  readonly body: any
  readonly headers: Record<string, unknown>
}

/** A browser as far as the server can tell: it keeps its cookie and sends its token with writes. */
export interface Browser {
  csrf: string
  cookie: string
  send(
    method: string,
    url: string,
    body?: unknown,
    headers?: Record<string, string | undefined>,
  ): Promise<Answer>
  /** Opens the first page, as everybody does before anything else. */
  open(): Promise<Answer>
  signIn(email: string, password?: string): Promise<Answer>
}

export interface TestServer {
  readonly app: FastifyInstance
  readonly db: Database
  browser(): Browser
  /** A browser in which somebody with this role is signed in. */
  as(role: Role): Promise<Browser>
  /** Moves the clock. */
  clock: { now: Date }
  close(): Promise<void>
}

const SETTINGS: Settings = { host: '127.0.0.1', port: 0, origin: null, webDir: null }

/** The real server on a real database, asked without a network in between. */
export async function startTestServer(
  place: Place,
  settings: Partial<Settings> = {},
): Promise<TestServer> {
  const db = await openDatabase(place)
  const clock = { now: new Date('2026-03-02T09:15:00.000Z') }
  const whole = { ...SETTINGS, ...settings }
  const app = await buildApp({ db, settings: whole, now: () => clock.now })
  const host = whole.origin === null ? '127.0.0.1:7295' : new URL(whole.origin).host

  function browser(): Browser {
    const self: Browser = {
      csrf: '',
      cookie: '',
      async send(method, url, body, headers = {}) {
        const given = {
          host,
          cookie: self.cookie,
          'x-pawl-csrf': self.csrf,
          ...(body === undefined ? {} : { 'content-type': 'application/json' }),
          ...headers,
        }
        const sent = Object.entries(given).filter(
          ([, value]) => value !== undefined && value !== '',
        )
        const response = await app.inject({
          method: method as 'GET',
          url,
          headers: Object.fromEntries(sent) as Record<string, string>,
          ...(body === undefined ? {} : { payload: JSON.stringify(body) }),
        })
        const cookie = response.headers['set-cookie']
        if (typeof cookie === 'string') self.cookie = cookie.split(';')[0]!
        const isJson = String(response.headers['content-type']).includes('json')
        const reply = isJson ? response.json() : response.body
        if (typeof reply?.csrf === 'string') self.csrf = reply.csrf
        return { status: response.statusCode, body: reply, headers: response.headers }
      },
      open: () => self.send('GET', '/api/session'),
      async signIn(email, password = PASSWORD) {
        await self.open()
        return self.send('POST', '/api/session', { email, password })
      },
    }
    return self
  }

  let people = 0
  const hash = hashPassword(PASSWORD)
  return {
    app,
    db,
    browser,
    clock,
    async as(role) {
      const n = ++people
      const email = `${role}-${n}@saltmarsh.example`
      await db.record(
        { action: 'person.create', by: null, at: clock.now.toISOString() },
        async (write) =>
          write.insert('person', {
            id: sampleId('Q', n),
            name: `${role} ${n}`,
            email,
            role,
            passwordHash: await hash,
            closedAt: null,
            origin: 'own',
            version: 1,
          }),
      )
      const signedIn = browser()
      await signedIn.signIn(email)
      return signedIn
    },
    async close() {
      await app.close()
      await db.close()
    },
  }
}

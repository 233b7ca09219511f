import cookie from '@fastify/cookie'
import fastify, { type FastifyInstance, type FastifyReply, type FastifyRequest } from 'fastify'
import type { z } from 'zod'
import type { RouteName, Routes } from '../api/contract.ts'
import { isId } from '../domain/id.ts'
import { type Person, ROLES, type Role } from '../domain/record.ts'
import { AppError } from '../errors.ts'
import type { Database } from '../storage/database.ts'
import { personOfSession } from '../storage/people.ts'
import { checkCsrf, readToken, tokenHash } from './browser-token.ts'
import type { Call, Handler } from './call.ts'
import { replyError } from './error-replies.ts'
import { openApiRoute } from './openapi.ts'
import { checkHost, checkOrigin } from './request-origin.ts'
import { calibrationRoutes } from './routes/calibration.ts'
import { cycleRoutes } from './routes/cycles.ts'
import { exampleRoutes } from './routes/example.ts'
import { experimentRoutes } from './routes/experiments.ts'
import { importRoutes } from './routes/imports.ts'
import { kitRoutes } from './routes/kits.ts'
import { measureRoutes, phaseRoutes } from './routes/measures.ts'
import { peopleRoutes } from './routes/people.ts'
import { projectRoutes } from './routes/projects.ts'
import { rampRoutes } from './routes/ramps.ts'
import { roomRoutes } from './routes/rooms.ts'
import { sessionRoutes } from './routes/session.ts'
import { todayRoutes } from './routes/today.ts'
import { trialRoutes } from './routes/trials.ts'
import { unitRoutes } from './routes/units.ts'
import { wardRoutes } from './routes/ward.ts'
import { workshopCalibrationRoutes } from './routes/workshop-calibration.ts'
import { wrapUpRoutes } from './routes/wrap-up.ts'
import { addSecurityHeaders } from './security-headers.ts'
import type { Settings } from './settings.ts'
import { type SignInLimit, signInLimit } from './sign-in-limit.ts'
import { serveFiles } from './static-files.ts'
import { checkText } from './text-check.ts'
import { askerOf } from './workshop/asker.ts'
import { type CodeLimit, codeLimit, TABLE_NUMBER } from './workshop/code-limit.ts'
import { type FeedHub, feedHub } from './workshop/feed-hub.ts'
import { feedRoute } from './workshop/feed-route.ts'
import { mustLeaveOpenRooms } from './workshop/open-rooms.ts'

/** Every route and the least role that may use it. */
export const ROUTE_ROLES: { readonly [K in RouteName]: Routes[K]['role'] } = {
  'GET /api/session': 'public',
  'POST /api/owner': 'public',
  'POST /api/session': 'public',
  'DELETE /api/session': 'viewer',
  'POST /api/password': 'viewer',
  'GET /api/today': 'viewer',
  'GET /api/calibration/organisation': 'viewer',
  'GET /api/calibration/units/:id': 'viewer',
  'GET /api/calibration/projects/:id': 'viewer',
  'GET /api/calibration/people/:id': 'viewer',
  'GET /api/calibration/tables/:id': 'viewer',
  'GET /api/calibration/workshops/:id': 'viewer',
  'POST /api/example': 'owner',
  'DELETE /api/example': 'owner',
  'GET /api/people': 'viewer',
  'POST /api/people': 'owner',
  'PATCH /api/people/:id': 'owner',
  'GET /api/units': 'viewer',
  'POST /api/units': 'coach',
  'PATCH /api/units/:id': 'coach',
  'DELETE /api/units/:id': 'coach',
  'POST /api/projects': 'member',
  'GET /api/projects/:id': 'viewer',
  'GET /api/projects/:id/by-unit': 'viewer',
  'PATCH /api/projects/:id': 'member',
  'POST /api/measures': 'member',
  'GET /api/measures/:id': 'viewer',
  'PATCH /api/measures/:id': 'member',
  'POST /api/measures/:id/observations': 'member',
  'POST /api/measures/:id/import/preview': 'member',
  'POST /api/measures/:id/import': 'member',
  'POST /api/phases': 'member',
  'PATCH /api/phases/:id': 'member',
  'DELETE /api/phases/:id': 'member',
  'POST /api/annotations': 'member',
  'PATCH /api/annotations/:id': 'member',
  'DELETE /api/annotations/:id': 'member',
  'PUT /api/ramps/:id/note': 'member',
  'POST /api/cycles': 'member',
  'GET /api/cycles/:id': 'viewer',
  'GET /api/cycles/:id/findings': 'viewer',
  'PATCH /api/cycles/:id/plan': 'member',
  'PUT /api/cycles/:id/predictions/:predictionId': 'member',
  'DELETE /api/cycles/:id/predictions/:predictionId': 'member',
  'POST /api/cycles/:id/lock': 'member',
  'POST /api/cycles/:id/addenda': 'member',
  'PATCH /api/cycles/:id/do': 'member',
  'POST /api/cycles/:id/trials': 'member',
  'PATCH /api/trials/:id': 'member',
  'POST /api/cycles/:id/done': 'member',
  'PATCH /api/cycles/:id/study': 'member',
  'POST /api/cycles/:id/studied': 'member',
  'POST /api/cycles/:id/decision': 'member',
  'GET /api/kits': 'viewer',
  'POST /api/kits': 'coach',
  'PATCH /api/kits/:id': 'coach',
  'DELETE /api/kits/:id': 'coach',
  'GET /api/rooms': 'viewer',
  'POST /api/rooms': 'coach',
  'PATCH /api/rooms/:id': 'coach',
  'POST /api/rooms/find': 'public',
  'POST /api/rooms/join': 'public',
  'GET /api/rooms/:id': 'seat',
  'GET /api/rooms/:id/wrap-up': 'viewer',
  'POST /api/rooms/:id/moves': 'seat',
  'POST /api/rooms/:id/ward': 'member',
  'GET /api/projects/:id/experiments': 'viewer',
  'POST /api/experiments': 'member',
  'GET /api/experiments/:id': 'viewer',
  'PATCH /api/experiments/:id/plan': 'member',
  'DELETE /api/experiments/:id': 'member',
  'PUT /api/experiments/:id/factors/:factorId': 'member',
  'DELETE /api/experiments/:id/factors/:factorId': 'member',
  'POST /api/experiments/:id/lock': 'member',
  'PATCH /api/experiment-runs/:id': 'member',
  'PATCH /api/experiments/:id/learned': 'member',
}

const HANDLERS: { readonly [K in RouteName]: Handler<K> } = {
  ...sessionRoutes,
  ...todayRoutes,
  ...calibrationRoutes,
  ...workshopCalibrationRoutes,
  ...exampleRoutes,
  ...peopleRoutes,
  ...unitRoutes,
  ...projectRoutes,
  ...measureRoutes,
  ...importRoutes,
  ...phaseRoutes,
  ...cycleRoutes,
  ...rampRoutes,
  ...trialRoutes,
  ...kitRoutes,
  ...roomRoutes,
  ...wardRoutes,
  ...wrapUpRoutes,
  ...experimentRoutes,
}

const BODY_LIMIT = 1024 * 1024
/** A file of 100,000 rows fits, and so do the 10,000 observations that one save may hold. */
const TABLE_LIMIT = 12 * BODY_LIMIT
const TAKES_TABLES: ReadonlySet<RouteName> = new Set([
  'POST /api/measures/:id/observations',
  'POST /api/measures/:id/import/preview',
  'POST /api/measures/:id/import',
])

/** Files have columns of numbers; moves are looked at one by one. */
const READS_TEXT_ITSELF: ReadonlySet<RouteName> = new Set([
  'POST /api/measures/:id/import/preview',
  'POST /api/measures/:id/import',
  'POST /api/rooms/:id/moves',
])

export interface AppOptions {
  readonly db: Database
  readonly settings: Settings
  /** The clock; tests stop it. */
  readonly now?: () => Date
}

interface Context extends Required<AppOptions> {
  readonly limit: SignInLimit
  readonly codeLimit: CodeLimit
  readonly tableLimit: CodeLimit
  readonly rooms: FeedHub
}

/** The whole server on one database, not listening yet. */
export async function buildApp({ db, settings, now = () => new Date() }: AppOptions) {
  const app = fastify({
    bodyLimit: BODY_LIMIT,
    trustProxy: settings.origin === null ? false : 'loopback',
    // stdout is for the address; PAWL_LOG=info logs every request as well.
    logger: { level: process.env['PAWL_LOG'] ?? 'error', stream: process.stderr },
    frameworkErrors: replyError,
    // Open pages keep their connections; closing must not wait for them.
    forceCloseConnections: true,
  })
  app.removeContentTypeParser('text/plain')
  app.setErrorHandler(replyError)
  await addSecurityHeaders(app)
  await app.register(cookie)
  app.addHook('onRequest', async (request) => checkHost(request, settings))
  const rooms = feedHub(db, now)
  app.addHook('preClose', () => rooms.close())
  const limits = {
    limit: signInLimit(),
    codeLimit: codeLimit(),
    tableLimit: codeLimit(TABLE_NUMBER),
  }
  const context: Context = { db, settings, now, rooms, ...limits }
  for (const name of Object.keys(ROUTE_ROLES) as RouteName[]) addRoute(app, name, context)
  feedRoute(app, context)
  openApiRoute(app)
  await serveFiles(app, settings.webDir, (request) => ({
    ...{ db, address: request.ip, codeLimit: limits.codeLimit, at: now().toISOString() },
    token: readToken(request, settings),
  }))
  return app
}

function addRoute(app: FastifyInstance, name: RouteName, context: Context): void {
  const [method, url] = name.split(' ') as ['GET', string]
  const bodyLimit = TAKES_TABLES.has(name) ? TABLE_LIMIT : BODY_LIMIT
  app.route({
    method,
    url,
    bodyLimit,
    handler: async (request, reply) => {
      reply.header('cache-control', 'no-store')
      const call = await prepare(name, context, request, reply)
      const handler = HANDLERS[name] as unknown as (call: unknown) => Promise<unknown>
      return handler(call)
    },
  })
}

/** Everything that must hold before a handler runs, in this order; each refusal says what to do. */
async function prepare(
  name: RouteName,
  context: Context,
  request: FastifyRequest,
  reply: FastifyReply,
): Promise<Omit<Call<RouteName>, 'me' | 'body' | 'params' | 'asker'>> {
  const { db, settings, now, limit, codeLimit, tableLimit, rooms } = context
  const writes = request.method !== 'GET' && request.method !== 'HEAD'
  const at = now().toISOString()
  const token = readToken(request, settings)
  if (writes) {
    checkOrigin(request, settings)
    checkCsrf(request, token)
  }
  const me = token === null ? null : await personOfSession(db.read, tokenHash(token), at)
  checkRole(ROUTE_ROLES[name], me ?? null)
  const params = request.params as Record<string, string>
  for (const [key, id] of Object.entries(params)) checkId(key, id)
  const asker =
    ROUTE_ROLES[name] === 'seat'
      ? await askerOf(db, params['id'] ?? '', me ?? null, token, as(request))
      : null
  const textChecked = request.headers['x-pawl-text-checked'] === 'yes'
  const body = writes ? await readBody(name, request.body) : undefined
  if (writes && !textChecked && !READS_TEXT_ITSELF.has(name))
    checkText(body, Number(at.slice(0, 4)))
  await mustLeaveOpenRooms(db.read, name, me ?? null, params, body)
  const limits = { limit, codeLimit, tableLimit }
  const surroundings = { db, settings, ...limits, rooms, at, token, textChecked, reply }
  return Object.assign(surroundings, { address: request.ip, params, body, me: me ?? null, asker })
}

/** As what somebody asks who can be several people in one workshop. */
const as = ({ query }: FastifyRequest) => (query as Record<string, unknown>)['as']

/** @throws AppError `auth.needed`, `auth.not_allowed`. */
function checkRole(least: Role | 'public' | 'seat', me: Person | null): void {
  // A seat is asked for with the workshop that it belongs to.
  if (least === 'public' || least === 'seat') return
  if (me === null)
    throw new AppError(
      'auth.needed',
      'Nobody is signed in, or the session has ended.',
      'Sign in; what you typed is kept.',
    )
  if (ROLES.indexOf(me.role) >= ROLES.indexOf(least)) return
  throw new AppError(
    'auth.not_allowed',
    `A ${me.role} cannot do this; it takes ${least === 'owner' ? 'an' : 'a'} ${least}.`,
    'Ask an owner of this Pawl for another role.',
    { role: me.role, needed: least },
  )
}

function checkId(key: string, id: string): void {
  if (isId(id)) return
  throw new AppError(
    'record.not_found',
    `There is no record ${id.slice(0, 40)}.`,
    'Check the link; it may have lost a part.',
    { [key]: id.slice(0, 40) },
  )
}

type Bodies = typeof import('../api/bodies.ts')['bodies']
let bodies: { readonly [K in keyof Bodies]: z.ZodType } | undefined

/** A request's body, checked. The checks are loaded with the first write. */
async function readBody(name: RouteName, body: unknown): Promise<unknown> {
  bodies ??= {
    ...(await import('../api/bodies.ts')).bodies,
    // A move that cannot be read is refused by itself, and the others are done.
    'POST /api/rooms/:id/moves': (await import('../api/workshop-bodies.ts')).anyMoves,
  }
  const schema = name in bodies ? bodies[name as keyof Bodies] : undefined
  if (schema === undefined) return undefined
  const result = schema.safeParse(body)
  if (result.success) return result.data
  const issues = result.error.issues.map(({ path, message }) => ({
    code: 'request.invalid',
    field: path.join('.'),
    message,
  }))
  const first = issues[0]!
  throw new AppError(
    'request.invalid',
    first.field === ''
      ? `The request is not what this takes: ${first.message}.`
      : `${first.field}: ${first.message}.`,
    'Correct the fields that are named.',
    { issues },
  )
}

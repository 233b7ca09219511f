import cookie from '@fastify/cookie'
import helmet from '@fastify/helmet'
import fastify, { type FastifyInstance, type FastifyReply, type FastifyRequest } from 'fastify'
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
import { importRoutes } from './routes/imports.ts'
import { measureRoutes, phaseRoutes } from './routes/measures.ts'
import { peopleRoutes } from './routes/people.ts'
import { projectRoutes } from './routes/projects.ts'
import { rampRoutes } from './routes/ramps.ts'
import { sessionRoutes } from './routes/session.ts'
import { todayRoutes } from './routes/today.ts'
import { trialRoutes } from './routes/trials.ts'
import { unitRoutes } from './routes/units.ts'
import type { Settings } from './settings.ts'
import { type SignInLimit, signInLimit } from './sign-in-limit.ts'
import { serveFiles } from './static-files.ts'
import { checkText } from './text-check.ts'

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
}

const HANDLERS: { readonly [K in RouteName]: Handler<K> } = {
  ...sessionRoutes,
  ...todayRoutes,
  ...calibrationRoutes,
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
}

const BODY_LIMIT = 1024 * 1024
/** A file of 100,000 rows fits, and so do the 10,000 observations that one save may hold. */
const TABLE_LIMIT = 12 * BODY_LIMIT
const TAKES_TABLES: ReadonlySet<RouteName> = new Set([
  'POST /api/measures/:id/observations',
  'POST /api/measures/:id/import/preview',
  'POST /api/measures/:id/import',
])

export interface AppOptions {
  readonly db: Database
  readonly settings: Settings
  /** The clock; tests stop it. */
  readonly now?: () => Date
}

interface Context extends Required<AppOptions> {
  readonly limit: SignInLimit
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
  await app.register(helmet, SECURITY_HEADERS)
  await app.register(cookie)
  app.addHook('onRequest', async (request) => checkHost(request, settings))
  const context: Context = { db, settings, now, limit: signInLimit() }
  for (const name of Object.keys(ROUTE_ROLES) as RouteName[]) addRoute(app, name, context)
  openApiRoute(app)
  await serveFiles(app, settings.webDir)
  return app
}

const SECURITY_HEADERS = {
  contentSecurityPolicy: {
    useDefaults: false,
    directives: {
      defaultSrc: ["'self'"],
      baseUri: ["'none'"],
      formAction: ["'self'"],
      frameAncestors: ["'none'"],
      objectSrc: ["'none'"],
      scriptSrc: ["'self'"],
      styleSrc: ["'self'"],
      imgSrc: ["'self'", 'data:', 'blob:'],
      upgradeInsecureRequests: null,
    },
  },
  referrerPolicy: { policy: 'same-origin' as const },
  xFrameOptions: { action: 'deny' as const },
  // Over plain http on a hospital's own network this would lock people out.
  strictTransportSecurity: false as const,
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
  { db, settings, now, limit }: Context,
  request: FastifyRequest,
  reply: FastifyReply,
): Promise<Omit<Call<RouteName>, 'me' | 'body' | 'params'>> {
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
  const textChecked = request.headers['x-pawl-text-checked'] === 'yes'
  const body = writes ? await readBody(name, request.body) : undefined
  if (writes && !textChecked && !name.includes('/import')) checkText(body, Number(at.slice(0, 4)))
  const surroundings = { db, settings, limit, at, token, textChecked, reply }
  return Object.assign(surroundings, { address: request.ip, params, body, me: me ?? null })
}

/** @throws AppError `auth.needed`, `auth.not_allowed`. */
function checkRole(least: Role | 'public', me: Person | null): void {
  if (least === 'public') return
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
let bodies: Bodies | undefined

/** A request's body, checked. The checks are loaded with the first write. */
async function readBody(name: RouteName, body: unknown): Promise<unknown> {
  bodies ??= (await import('../api/bodies.ts')).bodies
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

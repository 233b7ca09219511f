import type { FastifyInstance, FastifyRequest } from 'fastify'
import { isId } from '../../domain/id.ts'
import { AppError } from '../../errors.ts'
import type { Database } from '../../storage/database.ts'
import { personOfSession } from '../../storage/people.ts'
import { notFound } from '../../storage/record.ts'
import { readToken, tokenHash } from '../browser-token.ts'
import type { Settings } from '../settings.ts'
import { askerOf } from './asker.ts'
import type { FeedHub } from './feed-hub.ts'

interface Context {
  readonly db: Database
  readonly settings: Settings
  readonly now: () => Date
  readonly rooms: FeedHub
}

interface Query {
  readonly as?: unknown
  readonly after?: unknown
}

/** `GET /api/rooms/:id/feed`: server-sent events, for as long as the screen is there. */
export function feedRoute(app: FastifyInstance, { db, settings, now, rooms }: Context): void {
  app.get('/api/rooms/:id/feed', async (request, reply) => {
    const { id } = request.params as { id: string }
    if (!isId(id)) throw notFound('room', id.slice(0, 40))
    const query = request.query as Query
    const token = readToken(request, settings)
    const ask = async () => {
      const at = now().toISOString()
      const me = token === null ? null : await personOfSession(db.read, tokenHash(token), at)
      return askerOf(db, id, me ?? null, token, query.as)
    }
    const { viewer } = await ask()
    rooms.mustHaveRoom(id)
    const mayStay = () =>
      ask().then(
        (asker) => JSON.stringify(asker.viewer) === JSON.stringify(viewer),
        (error: unknown) => {
          if (error instanceof AppError && !error.code.startsWith('storage.')) return false
          throw error
        },
      )
    // What was set for every reply, this one too: nothing writes it once the response is ours.
    for (const [name, value] of Object.entries(reply.getHeaders()))
      if (value !== undefined) reply.raw.setHeader(name, value)
    reply.hijack()
    const follower = { viewer, after: lastSeen(request, query), mayStay }
    await rooms.follow(reply.raw, id, follower).catch(() => reply.raw.destroy())
    return reply
  })
}

/** A browser that comes back by itself says what it saw last; the address says what it saw first. */
function lastSeen({ headers }: FastifyRequest, { after }: Query): number | null {
  const given = headers['last-event-id'] ?? after
  return typeof given === 'string' && /^\d{1,15}$/.test(given) ? Number(given) : null
}

import { createHash, randomBytes, timingSafeEqual } from 'node:crypto'
import type {} from '@fastify/cookie'
import type { FastifyReply, FastifyRequest } from 'fastify'
import { AppError } from '../errors.ts'
import type { Settings } from './settings.ts'

/** How long a session lasts: a long shift. */
const SESSION_SECONDS = 14 * 3600

/** The cookie holds 256 random bits; a session is known to the database by their SHA-256 only. */
export const newToken = () => randomBytes(32).toString('base64url')
export const tokenHash = (token: string) => createHash('sha256').update(token).digest('hex')
export const sessionEnd = (now: number) => new Date(now + SESSION_SECONDS * 1000).toISOString()

/**
 * What a page must send back with every write. Another site can make a browser send its cookie, but
 * can neither read the cookie nor this, which is derived from it.
 */
export function csrfOf(token: string): string {
  return createHash('sha256').update(`pawl csrf ${token}`).digest('base64url')
}

const isSecure = ({ origin }: Settings) => origin?.startsWith('https:') ?? false

/** Browsers accept the prefix only from the host itself over https, so no sibling host can plant one. */
const cookieName = (settings: Settings) => (isSecure(settings) ? '__Host-pawl' : 'pawl')

export function readToken(request: FastifyRequest, settings: Settings): string | null {
  const token = request.cookies[cookieName(settings)]
  return token !== undefined && /^[\w-]{43}$/.test(token) ? token : null
}

/** @param lasting For a session; the token of a browser that has not signed in goes when it closes. */
export function sendToken(
  reply: FastifyReply,
  settings: Settings,
  token: string,
  lasting: boolean,
): void {
  reply.setCookie(cookieName(settings), token, {
    path: '/',
    httpOnly: true,
    sameSite: 'lax',
    secure: isSecure(settings),
    ...(lasting ? { maxAge: SESSION_SECONDS } : {}),
  })
}

/** @throws AppError `request.no_csrf` when a write does not prove that a page of ours sent it. */
export function checkCsrf(request: FastifyRequest, token: string | null): void {
  const given = request.headers['x-pawl-csrf']
  if (token !== null && typeof given === 'string') {
    const expected = Buffer.from(csrfOf(token))
    const actual = Buffer.from(given)
    if (expected.length === actual.length && timingSafeEqual(expected, actual)) return
  }
  throw new AppError(
    'request.no_csrf',
    'This save did not prove that it came from a page of Pawl.',
    'Reload the page and save again; what you typed is kept.',
  )
}

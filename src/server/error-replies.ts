import type { FastifyReply, FastifyRequest } from 'fastify'
import type { ErrorReply } from '../api/contract.ts'
import { AppError } from '../errors.ts'

/** HTTP status of every code that has one of its own; see `statusOf` for the rest. */
const STATUSES: Readonly<Record<string, number>> = {
  'request.invalid': 400,
  'request.too_large': 413,
  'request.no_such_route': 404,
  'request.no_csrf': 403,
  'request.foreign_origin': 403,
  'request.foreign_host': 403,
  'auth.needed': 401,
  'auth.wrong': 401,
  'auth.not_allowed': 403,
  'auth.too_many_tries': 429,
  'auth.weak_password': 422,
  'calibration.private': 403,
  'kit.not_ready': 422,
  'room.unknown_code': 404,
  'room.too_many_tries': 429,
  'room.table_number': 403,
  'room.too_many_screens': 503,
  'room.no_seat': 403,
  'room.removed': 403,
  'room.not_yours': 403,
  'room.still_open': 403,
  'room.prompts': 422,
  'care.looks_like_identifier': 422,
  'record.not_found': 404,
  'record.refused': 422,
  'observation.invalid': 422,
  'import.invalid': 422,
  'experiment.bad_response': 422,
  'storage.busy': 503,
  'storage.unreachable': 503,
  'server.failed': 500,
}

/** A rule that the request breaks as things stand: 409. Values that cannot be read: 422. */
function statusOf(code: string): number {
  const area = code.slice(0, code.indexOf('.'))
  return STATUSES[code] ?? (UNREADABLE.has(area) ? 422 : 409)
}
const UNREADABLE: ReadonlySet<string> = new Set(['value', 'duration', 'table', 'stats', 'id'])

/** Answers every error as an `ErrorReply`; what we did not foresee is logged and told without its insides. */
export function replyError(error: unknown, request: FastifyRequest, reply: FastifyReply): void {
  const known = error instanceof AppError ? error : fromFastify(error)
  if (known === null) request.log.error({ err: error, url: request.url }, 'request failed')
  const shown = known ?? FAILED
  const wait = shown.details['retryAfter']
  if (typeof wait === 'number') reply.header('retry-after', String(wait))
  reply.code(statusOf(shown.code)).send(errorReplyOf(shown))
}

export const errorReplyOf = ({ code, message, hint, details }: AppError): ErrorReply => ({
  code,
  message,
  hint,
  details,
})

const FAILED = new AppError(
  'server.failed',
  'Something went wrong in Pawl itself; nothing was saved.',
  'Try again. If it goes on, ask whoever runs this server to look at its log.',
)

/** Errors that the HTTP layer raises for a request it cannot read. */
function fromFastify(error: unknown): AppError | null {
  const { code, statusCode, message } = error as {
    code?: string
    statusCode?: number
    message?: string
  }
  if (code === 'FST_ERR_CTP_BODY_TOO_LARGE')
    return new AppError(
      'request.too_large',
      'The request is larger than this page may send.',
      'Send less at once; split a large file.',
    )
  if (statusCode !== undefined && statusCode >= 400 && statusCode < 500)
    return new AppError(
      'request.invalid',
      `The request cannot be read: ${message ?? 'malformed'}.`,
      'Send JSON with the content type application/json.',
      { issues: [] },
    )
  return null
}

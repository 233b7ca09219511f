import { AppError } from '../errors.ts'

type Kind = 'exists' | 'reference' | 'check' | 'guard' | 'busy'

/** Extended SQLite result codes, sqlite.org/rescode.html. */
const SQLITE: Readonly<Record<number, Kind>> = {
  5: 'busy',
  261: 'busy',
  517: 'busy',
  275: 'check',
  1299: 'check', // NOT NULL
  787: 'reference',
  1555: 'exists', // PRIMARY KEY
  1811: 'guard',
  2067: 'exists', // UNIQUE
}
/** PostgreSQL error codes, appendix A of its manual. */
const POSTGRES: Readonly<Record<string, Kind>> = {
  '23505': 'exists',
  '23503': 'reference',
  '23514': 'check',
  '23502': 'check',
  P0001: 'guard',
  '55P03': 'busy',
}

/** An error of the database engine in our words, where it is one that a request can cause. */
export function explained(error: unknown): unknown {
  if (!(error instanceof Error) || error instanceof AppError) return error
  const { errcode, code } = error as { errcode?: number; code?: string }
  const kind = errcode !== undefined ? SQLITE[errcode] : code !== undefined && POSTGRES[code]
  switch (kind) {
    case 'exists':
      return new AppError(
        'record.exists',
        'A record with this id, or at this place, is there already.',
        'Reload the page: it may have been saved the first time.',
        { reason: error.message },
      )
    case 'reference':
      return new AppError(
        'record.in_use',
        'This refers to a record that is not there, or removes one that others still refer to.',
        'Reload the page; remove what depends on it first.',
        { reason: error.message },
      )
    case 'check':
      return new AppError(
        'record.refused',
        'The database refused a value of this record.',
        'Correct the value that the reason names.',
        { reason: error.message },
      )
    case 'guard':
      return new AppError(
        'record.frozen',
        `Not possible: ${error.message}.`,
        'Add a note beside it, or plan the next test.',
        { reason: error.message },
      )
    case 'busy':
      return new AppError(
        'storage.busy',
        'Another process has kept the database to itself for too long.',
        'Try again; end the other process if this goes on.',
        { reason: error.message },
      )
    default:
      return error
  }
}

/** System errors and PostgreSQL codes that mean the server cannot be asked at all. */
const UNREACHABLE: ReadonlySet<string> = new Set([
  'ECONNREFUSED',
  'ECONNRESET',
  'EHOSTUNREACH',
  'ENOENT',
  'ENOTFOUND',
  'EPIPE',
  'ETIMEDOUT',
  '28000', // not allowed
  '28P01', // wrong password
  '3D000', // no such database
  '53300', // too many connections
  '57P01', // shutting down
  '57P03', // starting up
])

/** An error of the connection to PostgreSQL in our words; others as they are. */
export function reached(error: unknown): unknown {
  const { code, message } = error as { code?: string; message?: string }
  if (code === undefined || !UNREACHABLE.has(code)) return error
  return new AppError(
    'storage.unreachable',
    `PostgreSQL cannot be reached: ${message || code}.`,
    'Check that it runs, and the address, user and password in DATABASE_URL.',
    { code },
  )
}

/** A SQLite file that cannot be opened, in our words. */
export function opened(error: unknown, path: string): unknown {
  if (!(error instanceof Error) || error instanceof AppError) return error
  const { errcode, code = '' } = error as { errcode?: number; code?: string }
  const fromSystem = ['EACCES', 'EPERM', 'EROFS', 'ENOTDIR', 'ENOSPC'].includes(code)
  if (errcode === undefined && !fromSystem) return error
  return new AppError(
    'storage.cannot_open',
    `${path} cannot be opened: ${error.message}.`,
    'Check that the folder can be written to and that the file is a record of Pawl.',
    { path },
  )
}

import { AppError } from '../errors.ts'

/** How a server runs; everything that its surroundings decide. */
export interface Settings {
  /** Address it listens on. */
  readonly host: string
  readonly port: number
  /** How browsers reach it, such as `https://pawl.example`; `null`: at the address it listens on. */
  readonly origin: string | null
  /** The browser's files. */
  readonly webDir: string | null
}

const DEFAULT_PORT = 7295

/** Reads the settings from environment variables. @throws AppError `settings.bad`. */
export function settingsFrom(
  env: Readonly<Record<string, string | undefined>>,
  webDir: string | null,
): Settings {
  const port = env['PORT'] === undefined || env['PORT'] === '' ? DEFAULT_PORT : Number(env['PORT'])
  if (!Number.isInteger(port) || port < 0 || port > 65535)
    throw bad('PORT', env['PORT']!, 'a number from 0 (any free port) to 65535')
  const origin = env['PAWL_ORIGIN'] || null
  if (origin !== null && !/^https?:\/\/[^/]+$/.test(origin))
    throw bad('PAWL_ORIGIN', origin, 'the address browsers use, such as https://pawl.example')
  return { host: env['PAWL_HOST'] || '127.0.0.1', port, origin, webDir }
}

function bad(name: string, value: string, wanted: string): AppError {
  return new AppError(
    'settings.bad',
    `${name} is "${value}"; expected ${wanted}.`,
    `Correct or unset ${name}, then start again.`,
    { name, value },
  )
}

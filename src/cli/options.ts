import { resolve } from 'node:path'
import { type ParseArgsOptionsConfig, parseArgs } from 'node:util'
import { AppError } from '../errors.ts'
import type { Place } from '../storage/database.ts'

/** Reads a command's arguments. @throws AppError `command.usage`, with the command's help as the hint. */
export function readArguments<T extends ParseArgsOptionsConfig>(
  args: readonly string[],
  options: T,
  help: string,
  positionals: { readonly min: number; readonly max: number },
) {
  try {
    const read = parseArgs({
      args: [...args],
      options: { ...options, help: { type: 'boolean', short: 'h' } },
      allowPositionals: positionals.max > 0,
    })
    const wanted = (read.values as { help?: boolean }).help === true
    if (!wanted && read.positionals.length < positionals.min)
      throw new Error('A file name is missing')
    if (read.positionals.length > positionals.max)
      throw new Error(`Unexpected argument "${read.positionals[positionals.max]}"`)
    return { ...read, helpWanted: wanted }
  } catch (error) {
    throw new AppError('command.usage', `${(error as Error).message}.`, help)
  }
}

/** Where the record is kept, as the environment says. */
export function placeFrom(env: NodeJS.ProcessEnv): Place {
  return {
    dataDir: resolve(env['PAWL_DATA'] || 'data'),
    databaseUrl: env['DATABASE_URL'] || undefined,
  }
}

import { resolve } from 'node:path'
import { restore } from '../storage/restore.ts'
import { placeFrom, readArguments } from './options.ts'
import { describeCounts } from './row-counts.ts'

const HELP = `Usage: pawl restore FILE [--replace]

Brings back what "pawl backup" wrote, checks it, and only then puts it in place.
Stop the server first. Everybody has to sign in again.

  --replace   a record that is there already is moved aside and kept

Environment: PAWL_DATA, DATABASE_URL (see pawl serve --help).`

export async function run(args: readonly string[]): Promise<void> {
  const options = { replace: { type: 'boolean' } } as const
  const { values, positionals, helpWanted } = readArguments(args, options, HELP, { min: 1, max: 1 })
  if (helpWanted) return console.log(HELP)
  const place = placeFrom(process.env)
  const now = new Date().toISOString()
  const file = resolve(positionals[0]!)
  const { counts, verification, keptAside, sessionsEnded } = await restore(
    file,
    place,
    values.replace === true,
    now,
  )
  console.log(`Restored ${describeCounts(counts)}.`)
  console.log(
    `Verified: ${verification.journalRows} journal rows, ${verification.rows} records, no difference.`,
  )
  if (sessionsEnded > 0) console.log(`Ended ${sessionsEnded} sessions that were in the backup.`)
  if (keptAside !== null) console.log(`What was there before is kept: ${keptAside}`)
}

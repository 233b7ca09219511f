import { resolve } from 'node:path'
import { backUp } from '../storage/backup.ts'
import { openExisting } from '../storage/database.ts'
import { placeFrom, readArguments } from './options.ts'
import { describeCounts } from './row-counts.ts'

const HELP = `Usage: pawl backup FILE

Writes a consistent copy of the whole record to FILE, also while the server runs.
The file holds everything, names included: keep it as safe as the record itself.
"pawl restore FILE" brings it back, into SQLite or PostgreSQL alike.

Environment: PAWL_DATA, DATABASE_URL (see pawl serve --help).`

export async function run(args: readonly string[]): Promise<void> {
  const { positionals, helpWanted } = readArguments(args, {}, HELP, { min: 1, max: 1 })
  if (helpWanted) return console.log(HELP)
  const file = resolve(positionals[0]!)
  const db = await openExisting(placeFrom(process.env))
  try {
    console.log(`Wrote ${file}: ${describeCounts(await backUp(db, file))}.`)
  } finally {
    await db.close()
  }
}

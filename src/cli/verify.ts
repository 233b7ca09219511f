import { AppError } from '../errors.ts'
import { openExisting } from '../storage/database.ts'
import { verify } from '../storage/verify.ts'
import { placeFrom, readArguments } from './options.ts'

const HELP = `Usage: pawl verify [--head HASH]

Checks that the record is whole: the chain of the journal, every row against the
journal, and the triggers that guard it. Works while the server runs.

  --head HASH   also checks that this hash, printed by an earlier verify, is still
                in the journal, so that nothing was cut off its end since

Environment: PAWL_DATA, DATABASE_URL (see pawl serve --help).
Exit code 0: whole. 1: not, and each place is named.`

export async function run(args: readonly string[]): Promise<void> {
  const options = { head: { type: 'string' } } as const
  const { values, helpWanted } = readArguments(args, options, HELP, { min: 0, max: 0 })
  if (helpWanted) return console.log(HELP)
  const db = await openExisting(placeFrom(process.env))
  try {
    const { findings, more, journalRows, rows, head } = await db.snapshot(verify)
    for (const { text } of findings) console.error(text)
    if (more) console.error('… and more.')
    const known = values.head === undefined || (await isKnown(db, values.head))
    if (!known)
      console.error(`No journal row has the hash ${values.head}: the journal was cut off.`)
    if (findings.length > 0 || !known)
      throw new AppError(
        'verify.failed',
        'The record is not as Pawl left it.',
        'Keep a copy as it is, and compare it with a backup.',
      )
    console.log(`Whole: ${journalRows} journal rows, ${rows} records.`)
    console.log(`Head: ${head === '' ? 'none' : head}`)
  } finally {
    await db.close()
  }
}

async function isKnown(db: Awaited<ReturnType<typeof openExisting>>, head: string) {
  const row = await db.read
    .selectFrom('journal')
    .select('seq')
    .where('hash', '=', head)
    .executeTakeFirst()
  return row !== undefined
}

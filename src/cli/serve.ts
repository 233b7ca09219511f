import { existsSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { startServer } from '../server/server.ts'
import { settingsFrom } from '../server/settings.ts'
import { openDatabase } from '../storage/database.ts'
import { placeFrom, readArguments } from './options.ts'

const HELP = `Usage: pawl serve [--demo]

Starts the server and prints the address to open.

  --demo   with the invented Saltmarsh Vale Hospital loaded; where there is no
           owner account yet, makes one and prints its password

Environment:
  PORT          port to listen on; 0 picks a free one (7295)
  PAWL_HOST     address to listen on (127.0.0.1)
  PAWL_DATA     folder that holds the record (./data)
  PAWL_ORIGIN   address that browsers use, if another, such as https://pawl.example
  DATABASE_URL  keep the record in this PostgreSQL database instead of the folder`

export async function run(args: readonly string[]): Promise<void> {
  const options = { demo: { type: 'boolean' } } as const
  const { values, helpWanted } = readArguments(args, options, HELP, { min: 0, max: 0 })
  if (helpWanted) return console.log(HELP)
  const settings = settingsFrom(process.env, webDir())
  const place = placeFrom(process.env)
  const db = await openDatabase(place)
  if (values.demo === true) {
    const { prepareDemo } = await import('../server/demo.ts')
    for (const line of await prepareDemo(db, new Date())) console.log(line)
  }
  const server = await startServer(db, settings).catch(async (error) => {
    await db.close()
    throw error
  })
  console.log(`Pawl is ready: ${settings.origin ?? server.address}`)

  let stopping = false
  const stop = async () => {
    if (stopping) process.exit(1)
    stopping = true
    await server.close()
    process.exit(0)
  }
  process.on('SIGINT', stop)
  process.on('SIGTERM', stop)
}

/** The built pages: beside the built program, or in dist when it runs from source. */
function webDir(): string {
  const here = dirname(fileURLToPath(import.meta.url))
  if (here.endsWith(join('src', 'cli'))) return join(here, '..', '..', 'dist', 'web')
  return existsSync(join(here, 'web')) ? join(here, 'web') : join(here, '..', 'web')
}

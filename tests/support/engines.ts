import { rmSync } from 'node:fs'
import { join } from 'node:path'
import { afterAll, beforeAll, describe } from 'vitest'
import type { Engine } from '../../src/storage/connection.ts'
import type { Place } from '../../src/storage/database.ts'
import { startPostgres, type TestPostgres } from './postgres.ts'
import { testFolder } from './side-by-side.ts'

export interface TestEngine {
  readonly engine: Engine
  /** An empty place for a record of its own: a folder, and on PostgreSQL a database. */
  place(): Promise<Place>
}

/** Runs the same tests once on SQLite and once on a real PostgreSQL. */
export function onBothEngines(name: string, tests: (engine: TestEngine) => void): void {
  for (const engine of ['sqlite', 'postgres'] as const) {
    describe(`${name}, on ${engine}`, () => {
      let folder = ''
      let postgres: TestPostgres | undefined
      let places = 0
      beforeAll(async () => {
        folder = testFolder()
        if (engine === 'postgres') postgres = await startPostgres()
      }, 60_000)
      afterAll(async () => {
        await postgres?.stop()
        rmSync(folder, { recursive: true, force: true })
      }, 60_000)
      tests({
        engine,
        async place() {
          const dataDir = join(folder, String(++places))
          return { dataDir, databaseUrl: await postgres?.database() }
        },
      })
    })
  }
}

import { randomBytes } from 'node:crypto'
import type { Database } from '../storage/database.ts'
import { openOwners } from '../storage/people.ts'
import { hasUnitsOf } from '../storage/units.ts'
import { newId } from './call.ts'
import { loadExample } from './example/load-example.ts'
import { hashPassword } from './passwords.ts'

const EMAIL = 'owner@saltmarsh-vale.example'

/**
 * Makes sure that the invented hospital is there and that somebody can look at it.
 *
 * @returns Lines for whoever started the server; a password made here is told once and kept nowhere.
 */
export async function prepareDemo(db: Database, now: Date): Promise<string[]> {
  const at = now.toISOString()
  const lines: string[] = []
  if ((await openOwners(db.read)).length === 0) {
    const password = randomBytes(12).toString('base64url')
    const passwordHash = await hashPassword(password)
    const id = newId(at)
    const name = 'Demo owner'
    await db.record({ action: 'owner.create', by: { id, name }, at }, (write) =>
      write.insert('person', {
        id,
        name,
        email: EMAIL,
        role: 'owner',
        passwordHash,
        closedAt: null,
        origin: 'own',
        version: 1,
      }),
    )
    lines.push(`Sign in as ${EMAIL} with the password ${password} (made for this data folder).`)
  } else lines.push('There is an owner account already; sign in with it.')
  if (await hasUnitsOf(db.read, 'example')) lines.push('The invented hospital is there already.')
  else {
    await db.record({ action: 'example.load', by: null, at }, (write) => loadExample(write, at))
    lines.push('Loaded the invented Saltmarsh Vale Hospital. Remove it again on the first page.')
  }
  return lines
}

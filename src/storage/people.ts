import type { Kysely } from 'kysely'
import type { Id, Instant, Person } from '../domain/record.ts'
import { prepared } from './prepared.ts'
import type { Account, Schema } from './tables.ts'

type Read = Kysely<Schema>

/** Every column of a person but the secret one. */
const PERSON = ['id', 'name', 'email', 'role', 'closedAt', 'origin', 'version'] as const

export async function findAccount(read: Read, email: string): Promise<Account | undefined> {
  return read.selectFrom('person').selectAll().where('email', '=', email).executeTakeFirst()
}

export async function findPerson(read: Read, id: Id): Promise<Account | undefined> {
  return read.selectFrom('person').selectAll().where('id', '=', id).executeTakeFirst()
}

export async function listPeople(read: Read): Promise<Person[]> {
  return read.selectFrom('person').select(PERSON).orderBy('name').orderBy('id').execute()
}

/**
 * People, without those that stand for the tables of workshops.
 *
 * @param ofProject With the table whose project this is, since its records name it.
 */
export async function listStaff(read: Read, ofProject: Id | null = null): Promise<Person[]> {
  return read
    .selectFrom('person')
    .select(PERSON)
    .where((e) =>
      e.not(
        e.exists(
          e
            .selectFrom('roomTable')
            .select('roomTable.id')
            .whereRef('roomTable.id', '=', 'person.id')
            .where('roomTable.projectId', '!=', ofProject ?? ''),
        ),
      ),
    )
    .orderBy('name')
    .orderBy('id')
    .execute()
}

/** Owners who can sign in. */
export async function openOwners(read: Read): Promise<Id[]> {
  const rows = await read
    .selectFrom('person')
    .select('id')
    .where('role', '=', 'owner')
    .where('email', 'is not', null)
    .where('closedAt', 'is', null)
    .execute()
  return rows.map(({ id }) => id)
}

/** Whose session this is, while it lasts and the account is open. */
export async function personOfSession(
  read: Read,
  tokenHash: string,
  now: Instant,
): Promise<Person | undefined> {
  const found = await prepared(read, 'person of session', [tokenHash, now], (hash, at) =>
    read
      .selectFrom('session')
      .innerJoin('person', 'person.id', 'session.personId')
      .select(PERSON.map((column) => `person.${column}` as const))
      .where('session.tokenHash', '=', hash)
      .where('session.expiresAt', '>', at)
      .where('person.closedAt', 'is', null)
      .where('person.email', 'is not', null),
  )
  return found[0]
}

export async function sessionsOf(
  read: Read,
  personId: Id,
): Promise<{ id: Id; tokenHash: string; expiresAt: Instant }[]> {
  return read
    .selectFrom('session')
    .select(['id', 'tokenHash', 'expiresAt'])
    .where('personId', '=', personId)
    .execute()
}

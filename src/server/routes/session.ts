import type { SessionReply } from '../../api/contract.ts'
import type { Person } from '../../domain/record.ts'
import { AppError } from '../../errors.ts'
import { findAccount, findPerson, openOwners, sessionsOf } from '../../storage/people.ts'
import type { Write } from '../../storage/record.ts'
import { hasUnitsOf } from '../../storage/units.ts'
import { csrfOf, newToken, sendToken, sessionEnd, tokenHash } from '../browser-token.ts'
import { type Handlers, newId, type Surroundings } from '../call.ts'
import { checkPassword, hashPassword, isPassword } from '../passwords.ts'
import { VERSION } from '../version.ts'

/** What a page needs to begin with. */
async function sessionReply(
  { db }: Surroundings,
  token: string,
  me: Person | null,
): Promise<SessionReply> {
  return {
    me: me === null ? null : { id: me.id, name: me.name, email: me.email ?? '', role: me.role },
    needsOwner: me === null && (await openOwners(db.read)).length === 0,
    csrf: csrfOf(token),
    example: (await hasUnitsOf(db.read, 'example')) ? 'present' : 'absent',
    version: VERSION,
  }
}

/** Begins a session and drops the person's outlived ones. Always a new token: an old one may be known. */
async function beginSession(write: Write, person: Person, at: string): Promise<string> {
  for (const { id, expiresAt } of await sessionsOf(write.read, person.id))
    if (expiresAt <= at) await write.remove('session', id, null)
  const token = newToken()
  await write.insert('session', {
    id: newId(at),
    personId: person.id,
    tokenHash: tokenHash(token),
    createdAt: at,
    expiresAt: sessionEnd(Date.parse(at)),
  })
  return token
}

/** @throws AppError `auth.owner_exists`. */
async function mustBeFirst(read: Write['read']): Promise<void> {
  if ((await openOwners(read)).length === 0) return
  throw new AppError(
    'auth.owner_exists',
    'There is an owner account already.',
    'Sign in, or ask the owner for an account.',
  )
}

const wrong = () =>
  new AppError(
    'auth.wrong',
    'E-mail address and password do not belong together.',
    'Check both; an owner can set a new password.',
  )

export const sessionRoutes: Handlers<
  | 'GET /api/session'
  | 'POST /api/owner'
  | 'POST /api/session'
  | 'DELETE /api/session'
  | 'POST /api/password'
> = {
  'GET /api/session': async (call) => {
    const token = call.token ?? newToken()
    if (call.token === null) sendToken(call.reply, call.settings, token, false)
    return sessionReply(call, token, call.me)
  },

  'POST /api/owner': async (call) => {
    const { db, body, at } = call
    await mustBeFirst(db.read)
    checkPassword(body.password, body.email)
    const passwordHash = await hashPassword(body.password)
    const id = newId(at)
    const by = { id, name: body.name }
    const made = await db.record({ action: 'owner.create', by, at }, async (write) => {
      // Again, and alone this time: somebody else may have been quicker.
      await mustBeFirst(write.read)
      const owner = await write.insert('person', {
        id,
        name: body.name,
        email: body.email,
        role: 'owner',
        passwordHash,
        closedAt: null,
        origin: 'own',
        version: 1,
      })
      return { owner, token: await beginSession(write, owner, at) }
    })
    sendToken(call.reply, call.settings, made.token, true)
    return sessionReply(call, made.token, made.owner)
  },

  'POST /api/session': async (call) => {
    const { db, body, at, limit, address } = call
    limit.attempt(address, body.email, Date.parse(at))
    const account = await findAccount(db.read, body.email)
    const usable = account !== undefined && account.closedAt === null ? account : null
    if (!(await isPassword(body.password, usable?.passwordHash ?? null)) || usable === null)
      throw wrong()
    limit.succeeded(address, body.email)
    const token = await db.record({ action: 'session.begin', by: usable, at }, (write) =>
      beginSession(write, usable, at),
    )
    sendToken(call.reply, call.settings, token, true)
    return sessionReply(call, token, usable)
  },

  'DELETE /api/session': async (call) => {
    const { db, me, at } = call
    const hash = tokenHash(call.token ?? '')
    await db.record({ action: 'session.end', by: me, at }, async (write) => {
      for (const session of await sessionsOf(write.read, me.id))
        if (session.tokenHash === hash) await write.remove('session', session.id, null)
    })
    const token = newToken()
    sendToken(call.reply, call.settings, token, false)
    return sessionReply(call, token, null)
  },

  'POST /api/password': async (call) => {
    const { db, body, me, at, limit, address } = call
    limit.attempt(address, me.email, Date.parse(at))
    const account = await findPerson(db.read, me.id)
    if (!(await isPassword(body.current, account?.passwordHash ?? null)))
      throw new AppError(
        'auth.wrong',
        'The current password is another one.',
        'Type the password you signed in with.',
        {
          issues: [
            { code: 'auth.wrong', field: 'current', message: 'This is not the current password.' },
          ],
        },
      )
    limit.succeeded(address, me.email)
    checkPassword(body.next, me.email)
    const passwordHash = await hashPassword(body.next)
    const token = await db.record({ action: 'password.change', by: me, at }, async (write) => {
      await write.update('person', me.id, null, { passwordHash })
      for (const { id } of await sessionsOf(write.read, me.id))
        await write.remove('session', id, null)
      return beginSession(write, me, at)
    })
    sendToken(call.reply, call.settings, token, true)
    return sessionReply(call, token, me)
  },
}

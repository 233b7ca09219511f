import type { Id, Person } from '../../domain/record.ts'
import { AppError } from '../../errors.ts'
import { findAccount, listStaff, openOwners, sessionsOf } from '../../storage/people.ts'
import type { Write } from '../../storage/record.ts'
import type { Account } from '../../storage/tables.ts'
import type { Handlers } from '../call.ts'
import { checkPassword, hashPassword } from '../passwords.ts'

const shown = ({ passwordHash: _, ...person }: Account): Person => person

export const peopleRoutes: Handlers<
  'GET /api/people' | 'POST /api/people' | 'PATCH /api/people/:id'
> = {
  'GET /api/people': async ({ db }) => ({ people: await listStaff(db.read) }),

  'POST /api/people': async ({ db, body, me, at }) => {
    const { password, ...person } = body
    checkPassword(password, body.email)
    const passwordHash = await hashPassword(password)
    return db.record({ action: 'person.create', by: me, at }, async (write) => {
      await mustBeFree(write, person.email, person.id)
      return shown(
        await write.insert('person', {
          ...person,
          passwordHash,
          closedAt: null,
          origin: 'own',
          version: 1,
        }),
      )
    })
  },

  'PATCH /api/people/:id': async ({ db, params, body, me, at }) => {
    const { password, version, closedAt, ...fields } = body
    const passwordHash = password === undefined ? undefined : await hashPassword(password)
    return db.record({ action: 'person.change', by: me, at }, async (write) => {
      const before = await write.current('person', params.id, version, { ...fields, closedAt })
      const email = fields.email === undefined ? before.email : fields.email
      if (password !== undefined) checkPassword(password, email ?? '')
      checkAccount(before, email, passwordHash !== undefined)
      if (email !== null) await mustBeFree(write, email, params.id)
      const after = await write.update('person', params.id, null, {
        ...fields,
        ...(email === null ? { passwordHash: null } : {}),
        ...(passwordHash === undefined ? {} : { passwordHash }),
        // The server's clock says when an account was closed, not the request.
        ...(closedAt === undefined ? {} : { closedAt: closedAt === null ? null : at }),
      })
      if ((await openOwners(write.read)).length === 0)
        throw new AppError(
          'people.last_owner',
          'This is the last owner who can sign in.',
          'Make somebody else an owner first.',
          { personId: params.id },
        )
      const signedOut = after.closedAt !== null || email === null || passwordHash !== undefined
      if (signedOut)
        for (const { id } of await sessionsOf(write.read, params.id))
          await write.remove('session', id, null)
      return shown(after)
    })
  },
}

/** One address, one account: a second could never sign in. */
async function mustBeFree(write: Write, email: string, id: Id): Promise<void> {
  const taken = await findAccount(write.read, email)
  if (taken === undefined || taken.id === id) return
  throw new AppError(
    'people.email_taken',
    `${taken.name} has an account with ${email} already.`,
    taken.closedAt === null
      ? 'Use another address, or change that account.'
      : 'That account is closed: open it again, or use another address.',
    { issues: [{ code: 'people.email_taken', field: 'email', message: 'Is in use already.' }] },
  )
}

function checkAccount(before: Account, email: string | null, hasNewPassword: boolean): void {
  if (before.origin === 'example' && email !== null)
    throw new AppError(
      'example.no_account',
      `${before.name} is invented and cannot sign in.`,
      'Make an account for the real person instead.',
    )
  if (email !== null && before.passwordHash === null && !hasNewPassword)
    throw new AppError(
      'people.no_password',
      'An account needs a password to begin with.',
      'Give one; the person can change it after signing in.',
    )
}

import { AppError } from '../errors.ts'

const SHORTEST = 12
/** Argon2id with the first recommended setting of the OWASP Password Storage Cheat Sheet. */
const ARGON2ID = { algorithm: 2, memoryCost: 19_456, timeCost: 2, parallelism: 1 } as const

/** Native and only needed to sign in, so it is loaded then. */
const argon2 = () => import('@node-rs/argon2')

/**
 * Length is what makes a password hard to guess (NIST SP 800-63B, 5.1.1.2), so that is all we ask.
 *
 * @throws AppError `auth.weak_password`.
 */
export function checkPassword(password: string, email: string): void {
  const weak = (message: string) =>
    new AppError('auth.weak_password', message, 'Four or five unrelated words do well.', {
      issues: [{ code: 'auth.weak_password', field: 'password', message }],
    })
  if ([...password].length < SHORTEST)
    throw weak(`The password needs at least ${SHORTEST} characters.`)
  const lower = password.toLowerCase()
  if (lower === email || lower === email.split('@')[0])
    throw weak('The password must not be the e-mail address.')
  if (new Set(password).size < 4) throw weak('The password repeats too few characters.')
}

export async function hashPassword(password: string): Promise<string> {
  return (await argon2()).hash(password, ARGON2ID)
}

let nobody: Promise<string> | undefined

/** Whether a password is the account's; takes as long where there is no such account. */
export async function isPassword(password: string, hash: string | null): Promise<boolean> {
  nobody ??= hashPassword('no account has this one')
  const { verify } = await argon2()
  const matches = await verify(hash ?? (await nobody), password)
  return matches && hash !== null
}

import { AppError } from '../errors.ts'

const WINDOW_MS = 15 * 60_000
const TRIES_PER_ACCOUNT = 10
const TRIES_PER_ADDRESS = 60
/** Beyond this many keys, finished windows are swept out. */
const KEYS_KEPT = 5_000

export interface SignInLimit {
  /** Counts a try, before it is known whether it succeeds. @throws AppError `auth.too_many_tries`. */
  attempt(address: string, account: string, now: number): void
  /** The account holder was there after all: her tries no longer count. */
  succeeded(address: string, account: string): void
}

interface Window {
  readonly endsAt: number
  tries: number
}

/** Slows the guessing of passwords down, for each address and for each account. */
export function signInLimit(): SignInLimit {
  const windows = new Map<string, Window>()

  function take(key: string, allowed: number, now: number): void {
    let window = windows.get(key)
    if (window === undefined || window.endsAt <= now) {
      window = { endsAt: now + WINDOW_MS, tries: 0 }
      windows.set(key, window)
    }
    if (window.tries >= allowed) {
      const seconds = Math.ceil((window.endsAt - now) / 1000)
      throw new AppError(
        'auth.too_many_tries',
        `Too many tries to sign in; the next is possible in ${minutes(seconds)}.`,
        'Wait, or ask an owner for a new password.',
        { retryAfter: seconds },
      )
    }
    window.tries++
  }

  return {
    attempt(address, account, now) {
      if (windows.size > KEYS_KEPT)
        for (const [key, { endsAt }] of windows) if (endsAt <= now) windows.delete(key)
      take(`account ${account}`, TRIES_PER_ACCOUNT, now)
      take(`address ${address}`, TRIES_PER_ADDRESS, now)
    },
    succeeded(address, account) {
      windows.delete(`account ${account}`)
      const window = windows.get(`address ${address}`)
      if (window !== undefined && window.tries > 0) window.tries--
    },
  }
}

function minutes(seconds: number): string {
  const whole = Math.ceil(seconds / 60)
  return whole === 1 ? '1 minute' : `${whole} minutes`
}

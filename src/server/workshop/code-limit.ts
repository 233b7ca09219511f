import { AppError } from '../../errors.ts'

/** Wrong tries that are free at once, and how long it takes to get one back. */
interface Limit {
  readonly tries: number
  readonly msPerTry: number
}
/** What is tried, and how often. */
interface Tried {
  readonly address: Limit
  readonly overall: Limit
  readonly hint: string
}
const ROOM_CODE: Tried = {
  address: { tries: 40, msPerTry: 6_000 },
  overall: { tries: 300, msPerTry: 600 },
  hint: 'Look at the code on the room screen, wait, then type it again.',
}
/** Three digits are soon guessed: an address has few tries at one table. */
export const TABLE_NUMBER: Tried = {
  address: { tries: 10, msPerTry: 30_000 },
  overall: { tries: 300, msPerTry: 600 },
  hint: 'Look at the number on a phone of the table, or ask the facilitator; wait, then type it again.',
}
/** Beyond this many addresses, those that have all their tries back are forgotten. */
const ADDRESSES_KEPT = 5_000
const PAIRS_KEPT = 10_000

export interface CodeLimit {
  /**
   * Before a code is looked up.
   *
   * @throws AppError `room.too_many_tries`.
   */
  mayTry(address: string, code: string | null, now: number): void
  /** The code opens nothing: one try less. */
  wrong(address: string, now: number): void
  /** The code is right. From this address it is never slowed down again. */
  right(address: string, code: string): void
}

interface Bucket {
  /** Tries that are used up, at `at`; they come back with time. */
  used: number
  at: number
}

/**
 * Slows the guessing of room codes down. Only wrong codes count, and an address that has once shown
 * the right one may repeat that one freely: a class behind one address, of which somebody keeps
 * guessing, still gets in. Knowing that a known code is right helps nobody to guess another.
 */
export function codeLimit({ address, overall: all, hint } = ROOM_CODE): CodeLimit {
  const addresses = new Map<string, Bucket>()
  const overall: Bucket = { used: 0, at: 0 }
  const known = new Set<string>()

  const usedAt = (bucket: Bucket, msPerTry: number, now: number) =>
    Math.max(0, bucket.used - Math.max(0, now - bucket.at) / msPerTry)

  function mustHave(bucket: Bucket, limit: Limit, now: number): void {
    const over = usedAt(bucket, limit.msPerTry, now) + 1 - limit.tries
    if (over <= 0) return
    const seconds = Math.max(1, Math.ceil((over * limit.msPerTry) / 1000))
    throw new AppError(
      'room.too_many_tries',
      `Too many wrong codes; the next try is possible in ${seconds} s.`,
      hint,
      { retryAfter: seconds },
    )
  }

  function spend(bucket: Bucket, msPerTry: number, now: number): void {
    bucket.used = usedAt(bucket, msPerTry, now) + 1
    bucket.at = now
  }

  return {
    mayTry(from, code, now) {
      if (code !== null && known.has(`${from} ${code}`)) return
      const own = addresses.get(from)
      if (own !== undefined) mustHave(own, address, now)
      mustHave(overall, all, now)
    },
    wrong(from, now) {
      if (addresses.size > ADDRESSES_KEPT)
        for (const [key, bucket] of addresses)
          if (usedAt(bucket, address.msPerTry, now) === 0) addresses.delete(key)
      const own = addresses.get(from) ?? { used: 0, at: now }
      spend(own, address.msPerTry, now)
      addresses.set(from, own)
      spend(overall, all.msPerTry, now)
    },
    right(from, code) {
      if (known.size >= PAIRS_KEPT) known.delete(known.values().next().value!)
      known.add(`${from} ${code}`)
    },
  }
}

import { AppError } from '../../errors.ts'

/** Wrong codes that one address may try at once, and how long it takes to get one try back. */
const ADDRESS = { tries: 40, msPerTry: 6_000 } as const
/** The same for all addresses together. */
const OVERALL = { tries: 300, msPerTry: 600 } as const
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
export function codeLimit(): CodeLimit {
  const addresses = new Map<string, Bucket>()
  const overall: Bucket = { used: 0, at: 0 }
  const known = new Set<string>()

  const usedAt = (bucket: Bucket, msPerTry: number, now: number) =>
    Math.max(0, bucket.used - Math.max(0, now - bucket.at) / msPerTry)

  function mustHave(bucket: Bucket, limit: typeof ADDRESS | typeof OVERALL, now: number): void {
    const over = usedAt(bucket, limit.msPerTry, now) + 1 - limit.tries
    if (over <= 0) return
    const seconds = Math.max(1, Math.ceil((over * limit.msPerTry) / 1000))
    throw new AppError(
      'room.too_many_tries',
      `Too many wrong codes; the next try is possible in ${seconds} s.`,
      'Look at the code on the room screen, wait, then type it again.',
      { retryAfter: seconds },
    )
  }

  function spend(bucket: Bucket, msPerTry: number, now: number): void {
    bucket.used = usedAt(bucket, msPerTry, now) + 1
    bucket.at = now
  }

  return {
    mayTry(address, code, now) {
      if (code !== null && known.has(`${address} ${code}`)) return
      const own = addresses.get(address)
      if (own !== undefined) mustHave(own, ADDRESS, now)
      mustHave(overall, OVERALL, now)
    },
    wrong(address, now) {
      if (addresses.size > ADDRESSES_KEPT)
        for (const [key, bucket] of addresses)
          if (usedAt(bucket, ADDRESS.msPerTry, now) === 0) addresses.delete(key)
      const own = addresses.get(address) ?? { used: 0, at: now }
      spend(own, ADDRESS.msPerTry, now)
      addresses.set(address, own)
      spend(overall, OVERALL.msPerTry, now)
    },
    right(address, code) {
      if (known.size >= PAIRS_KEPT) known.delete(known.values().next().value!)
      known.add(`${address} ${code}`)
    },
  }
}

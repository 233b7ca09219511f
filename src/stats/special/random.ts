/** A seeded stream of random numbers: the same seed gives the same stream on every machine. */
export interface Random {
  /** Uniform on [0, 1), 53 bits. */
  uniform(): number
  /** A whole number from 0 to n - 1, every one equally likely; n at most 2^32. */
  integer(n: number): number
  /** Standard normal. */
  normal(): number
}

/**
 * Seeded generator xoshiro128** with its state filled by SplitMix32-style mixing of the seed.
 *
 * @param seed Whole number 0 to 2^53 - 1; both of its halves count.
 * @see Blackman & Vigna (2021), Scrambled linear pseudorandom number generators, ACM Trans Math Softw 47:36.
 * @example
 * createRandom(1).integer(1) // => 0
 */
export function createRandom(seed: number): Random {
  const low = seed >>> 0
  const high = Math.floor(seed / 2 ** 32) >>> 0
  let mix = low
  const fill = () => {
    mix = (mix + 0x9e3779b9) | 0
    let z = mix ^ high
    z = Math.imul(z ^ (z >>> 16), 0x85ebca6b)
    z = Math.imul(z ^ (z >>> 13), 0xc2b2ae35)
    return z ^ (z >>> 16)
  }
  // All four words zero is the one state the generator cannot leave; the last word rules it out.
  return randomFromState(fill(), fill(), fill(), fill() | 1)
}

/**
 * The generator from its four state words, for checks against published output.
 *
 * @example
 * randomFromState(1, 2, 3, 4).integer(2 ** 32) // => 11520
 */
export function randomFromState(a: number, b: number, c: number, d: number): Random {
  let s0 = a | 0
  let s1 = b | 0
  let s2 = c | 0
  let s3 = d | 0
  let spare: number | null = null
  const next = (): number => {
    const five = Math.imul(s1, 5)
    const result = Math.imul((five << 7) | (five >>> 25), 9) >>> 0
    const t = s1 << 9
    s2 ^= s0
    s3 ^= s1
    s1 ^= s2
    s0 ^= s3
    s2 ^= t
    s3 = (s3 << 11) | (s3 >>> 21)
    return result
  }
  const uniform = () => ((next() >>> 5) * 67108864 + (next() >>> 6)) / 9007199254740992
  return {
    uniform,
    integer(n) {
      // Rejection, so that no value is favoured by the remainder.
      const limit = 4294967296 - (4294967296 % n)
      for (;;) {
        const word = next()
        if (word < limit) return word % n
      }
    },
    normal() {
      // Marsaglia & Bray (1964), SIAM Rev 6:260: the polar method gives two at a time.
      if (spare !== null) {
        const value = spare
        spare = null
        return value
      }
      for (;;) {
        const u = 2 * uniform() - 1
        const v = 2 * uniform() - 1
        const s = u * u + v * v
        if (s > 0 && s < 1) {
          const scale = Math.sqrt((-2 * Math.log(s)) / s)
          spare = v * scale
          return u * scale
        }
      }
    },
  }
}

/**
 * A random order of 0 … n - 1 (Fisher–Yates).
 *
 * @example
 * randomOrder(1, createRandom(7)) // => [0]
 */
export function randomOrder(n: number, random: Random): number[] {
  const order = Array.from({ length: n }, (_, i) => i)
  for (let i = n - 1; i > 0; i--) {
    const j = random.integer(i + 1)
    const held = order[i]!
    order[i] = order[j]!
    order[j] = held
  }
  return order
}

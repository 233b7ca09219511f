import { AppError } from '../errors.ts'

const ALPHABET = '0123456789ABCDEFGHJKMNPQRSTVWXYZ' // Crockford's base 32: no I, L, O, U

/**
 * A sortable id: 10 characters of time, 16 of chance, in Crockford's base 32. Ids made later sort
 * later; two made in the same millisecond differ by chance (80 bits).
 *
 * @param ms     Milliseconds since 1970, integer, 0 to 2^48 − 1. Passed in: the domain has no clock.
 * @param random 10 bytes from a cryptographic source.
 * @returns 26 characters.
 * @throws AppError `id.bad_input` when the time is out of range or there are not 10 bytes.
 * @see The ULID specification (github.com/ulid/spec), an open format.
 *
 * @example
 * makeId(0, new Uint8Array(10)) // => '00000000000000000000000000'
 */
export function makeId(ms: number, random: Uint8Array): string {
  if (!Number.isInteger(ms) || ms < 0 || ms >= 2 ** 48 || random.length !== 10) {
    throw new AppError(
      'id.bad_input',
      `An id needs a time in whole milliseconds and 10 random bytes, got ${ms} and ${random.length}.`,
      'Pass Date.now() and 10 bytes of crypto.getRandomValues.',
    )
  }
  return writeId(ms, random)
}

/**
 * As `makeId`, for a page that must be small and whose time and bytes cannot be wrong.
 *
 * @param ms     Milliseconds since 1970, integer, 0 to 2^48 − 1.
 * @param random 10 bytes from a cryptographic source.
 * @returns 26 characters.
 *
 * @example
 * writeId(0, new Uint8Array(10)) // => '00000000000000000000000000'
 */
export function writeId(ms: number, random: Uint8Array): string {
  let time = ''
  for (let rest = ms, i = 0; i < 10; i++, rest = Math.floor(rest / 32)) {
    time = ALPHABET[rest % 32]! + time
  }
  let chance = ''
  let bits = 0
  let held = 0
  for (const byte of random) {
    held = (held << 8) | byte
    bits += 8
    while (bits >= 5) {
      bits -= 5
      chance += ALPHABET[(held >> bits) & 31]!
    }
    held &= (1 << bits) - 1
  }
  return time + chance
}

/**
 * Whether a text has the form of an id.
 *
 * @example
 * isId('01ARZ3NDEKTSV4RRFFQ69G5FAV') // => true
 */
export function isId(text: string): boolean {
  return /^[0-7][0-9A-HJKMNP-TV-Z]{25}$/.test(text)
}

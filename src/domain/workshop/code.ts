/** Digits and capital letters of which no two look or sound much alike: no 0 O, 1 I L, 2 Z, 5 S, 6 G, 8 B, U V, A E (words). */
export const CODE_LETTERS = '34679CDFHJKMNPQRTWXY'
const CODE_LENGTH = 6

/**
 * A room's code from random bytes. Bytes above 239 are passed over, so that every letter is as
 * likely as every other: 20^6 = 64,000,000 codes.
 *
 * @param random Bytes from a cryptographic source; 16 are nearly always enough.
 * @returns The code, or `null` where too many bytes had to be passed over.
 *
 * @example
 * makeCode([0, 1, 2, 3, 4, 5]) // => '34679C'
 */
export function makeCode(random: Iterable<number>): string | null {
  let code = ''
  for (const byte of random) {
    if (byte >= 256 - (256 % CODE_LETTERS.length)) continue
    code += CODE_LETTERS[byte % CODE_LETTERS.length]!
    if (code.length === CODE_LENGTH) return code
  }
  return null
}

/**
 * A code as somebody typed it, put in order: spaces and dashes do not matter, nor do small letters.
 *
 * @returns `null` where it cannot be a code.
 *
 * @example
 * readCode(' 3467-9c ') // => '34679C'
 */
export function readCode(typed: string): string | null {
  const code = typed.replace(/[\s\-–.]/g, '').toUpperCase()
  return code.length === CODE_LENGTH && [...code].every((c) => CODE_LETTERS.includes(c))
    ? code
    : null
}

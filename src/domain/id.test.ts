import fc from 'fast-check'
import { expect, it } from 'vitest'
import { isId, makeId } from './id.ts'

const bytes = fc.uint8Array({ minLength: 10, maxLength: 10 })

it('matches the published example of the ULID specification for its time', () => {
  // ulid/spec, README: 01ARZ3NDEKTSV4RRFFQ69G5FAV begins with the time 1469922850259 (from memory;
  // the time part is recomputed here by hand from base 32).
  const text = '01ARZ3NDEK'
  const alphabet = '0123456789ABCDEFGHJKMNPQRSTVWXYZ'
  const ms = [...text].reduce((sum, c) => sum * 32 + alphabet.indexOf(c), 0)
  expect(makeId(ms, new Uint8Array(10)).slice(0, 10)).toBe(text)
})

it('sorts by time and tells ids of the same time apart', () => {
  fc.assert(
    fc.property(fc.nat(2 ** 31), fc.nat(2 ** 31), bytes, bytes, (a, b, r1, r2) => {
      const [x, y] = [makeId(a, r1), makeId(b, r2)]
      expect(isId(x)).toBe(true)
      if (a !== b) expect(x < y).toBe(a < b)
      else expect(x === y).toBe(r1.join() === r2.join())
    }),
  )
})

it.each([
  [-1, 10],
  [0.5, 10],
  [2 ** 48, 10],
  [0, 9],
])('refuses a time of %s with %s bytes', (ms, n) => {
  expect(() => makeId(ms, new Uint8Array(n))).toThrow(
    expect.objectContaining({ code: 'id.bad_input' }),
  )
})

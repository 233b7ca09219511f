import { expect, it } from 'vitest'
import { codeLimit } from './code-limit.ts'

const CODE = '34679C'
const tries = (limit: ReturnType<typeof codeLimit>, address: string, n: number, now: number) => {
  let passed = 0
  for (let i = 0; i < n; i++) {
    try {
      limit.mayTry(address, null, now)
    } catch {
      continue
    }
    limit.wrong(address, now)
    passed++
  }
  return passed
}

it('lets an address guess a few dozen times, then one code every few seconds', () => {
  const limit = codeLimit()
  expect(tries(limit, 'a', 1000, 0)).toBe(40)
  expect(tries(limit, 'a', 1000, 5_000)).toBe(0)
  expect(tries(limit, 'a', 1000, 60_000)).toBe(10)
  expect(() => limit.mayTry('a', null, 60_000)).toThrow(
    expect.objectContaining({
      code: 'room.too_many_tries',
      details: { retryAfter: expect.any(Number) },
    }),
  )
})

it('slows all addresses together, so that many of them do not help', () => {
  const limit = codeLimit()
  let passed = 0
  for (let address = 0; address < 1000; address++) passed += tries(limit, `a${address}`, 10, 0)
  expect(passed).toBe(300)
  for (let minute = 1; minute <= 60; minute++)
    for (let address = 0; address < 100; address++)
      passed += tries(limit, `b${address}-${minute}`, 10, minute * 60_000)
  // Of 64,000,000 codes: a guesser who keeps at it for an hour finds one of 20 open rooms once in 500 times.
  expect(passed).toBeLessThanOrEqual(300 + 60 * 100)
})

it('never slows the right code down where it was used before, whatever else is tried there', () => {
  const limit = codeLimit()
  limit.mayTry('class', CODE, 0)
  limit.right('class', CODE)
  tries(limit, 'class', 1000, 0)
  for (let i = 0; i < 1000; i++) limit.mayTry('class', CODE, 0)
  expect(() => limit.mayTry('class', '34679D', 0)).toThrow('Too many wrong codes')
  expect(() => limit.mayTry('elsewhere', CODE, 0)).not.toThrow()
})

it('does not count right codes', () => {
  const limit = codeLimit()
  for (let i = 0; i < 500; i++) {
    const code = `3467${String.fromCharCode(65 + (i % 26))}${i}`
    limit.mayTry('class', code, 0)
    limit.right('class', code)
  }
  expect(tries(limit, 'class', 100, 0)).toBe(40)
})

import fc from 'fast-check'
import { expect, it } from 'vitest'
import { CODE_LETTERS, makeCode, readCode } from './code.ts'

it('has no two letters that look alike', () => {
  expect(new Set(CODE_LETTERS).size).toBe(CODE_LETTERS.length)
  for (const pair of ['0O', '1I', '1L', '2Z', '5S', '6G', '8B', 'UV'])
    expect([...pair].every((letter) => CODE_LETTERS.includes(letter))).toBe(false)
})

it('reads every code that it makes, however it is typed', () => {
  const bytes = fc.uint8Array({ minLength: 24, maxLength: 24 })
  fc.assert(
    fc.property(bytes, (random) => {
      const code = makeCode(random)
      if (code === null) return
      expect(readCode(code)).toBe(code)
      expect(readCode(` ${code.slice(0, 3).toLowerCase()} - ${code.slice(3)}`)).toBe(code)
    }),
  )
})

it('makes each letter equally often', () => {
  const every = Uint8Array.from({ length: 256 }, (_, i) => i)
  const counts = new Map<string, number>()
  for (let i = 0; i + 6 <= 240; i += 6)
    for (const letter of makeCode(every.subarray(i))!)
      counts.set(letter, (counts.get(letter) ?? 0) + 1)
  expect([...counts.values()]).toEqual(CODE_LETTERS.split('').map(() => 12))
  expect(makeCode([250, 255, 240])).toBeNull()
})

it('reads nothing that cannot be a code', () => {
  for (const typed of ['', '34679', '34679CC', '34679O', '34679!', 'hello there'])
    expect(readCode(typed)).toBeNull()
})

import fc from 'fast-check'
import { expect, it } from 'vitest'
import { combine, isCountOnly, type Mark } from './inspecting.ts'

const marked = (...marks: readonly Mark[]) => ({ marks, rightCount: null })
const bare = (rightCount: number, items: number) => ({
  marks: Array<Mark>(items).fill(null),
  rightCount,
})

it('counts an item right where every inspector who looked says so', () => {
  expect(combine([marked(1, 0, null, 1)])).toEqual({ right: 2, inspected: 3 })
  expect(combine([marked(1, 1, null, null), marked(1, 0, 1, null)])).toEqual({
    right: 2,
    inspected: 3,
  })
})

it('says nothing where nobody has looked', () => {
  expect(combine([])).toEqual({ right: null, inspected: null })
  expect(combine([marked(null, null)])).toEqual({ right: null, inspected: null })
})

it('takes a bare count of the whole list, and the lowest of two', () => {
  expect(combine([bare(14, 16)])).toEqual({ right: 14, inspected: 16 })
  expect(combine([bare(14, 16), bare(13, 16)])).toEqual({ right: 13, inspected: 16 })
  expect(combine([bare(0, 16)])).toEqual({ right: 0, inspected: 16 })
})

it('believes marks before a bare count, and knows when there is nothing but a count', () => {
  expect(combine([bare(3, 4), marked(1, 1, 0, 0)])).toEqual({ right: 2, inspected: 4 })
  expect(isCountOnly([bare(3, 4)])).toBe(true)
  expect(isCountOnly([bare(3, 4), marked(1, 1, 0, 0)])).toBe(false)
  expect(isCountOnly([marked(1, 1, 0, 0)])).toBe(false)
  expect(isCountOnly([])).toBe(false)
})

it('finds no more right with a second inspector than the first found, of what both looked at', () => {
  const marks = fc.array(fc.constantFrom<Mark>(0, 1), { minLength: 12, maxLength: 12 })
  fc.assert(
    fc.property(marks, marks, (a, b) => {
      const [first, second] = [marked(...a), marked(...b)]
      const one = combine([first])
      const both = combine([first, second])
      expect(both.inspected).toBe(one.inspected)
      expect(both.right!).toBeLessThanOrEqual(one.right!)
      expect(both).toEqual(combine([second, first]))
    }),
  )
})

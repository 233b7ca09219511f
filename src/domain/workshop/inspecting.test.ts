import fc from 'fast-check'
import { expect, it } from 'vitest'
import { combine, type Mark } from './inspecting.ts'

it('counts an item right where every inspector who looked says so', () => {
  expect(combine([[1, 0, null, 1]])).toEqual({ right: 2, inspected: 3 })
  expect(
    combine([
      [1, 1, null, null],
      [1, 0, 1, null],
    ]),
  ).toEqual({ right: 2, inspected: 3 })
})

it('says nothing where nobody has looked', () => {
  expect(combine([])).toEqual({ right: null, inspected: null })
  expect(combine([[null, null]])).toEqual({ right: null, inspected: null })
})

it('finds no more right with a second inspector than the first found, of what both looked at', () => {
  const marks = fc.array(fc.constantFrom<Mark>(0, 1), { minLength: 12, maxLength: 12 })
  fc.assert(
    fc.property(marks, marks, (first, second) => {
      const one = combine([first])
      const both = combine([first, second])
      expect(both.inspected).toBe(one.inspected)
      expect(both.right!).toBeLessThanOrEqual(one.right!)
      expect(both).toEqual(combine([second, first]))
    }),
  )
})

import fc from 'fast-check'
import { expect, it } from 'vitest'
import { columnNames } from './column-names.ts'
import { textWidth } from './text-width.ts'

it('keeps one line where every name fits', () => {
  expect(columnNames(['Wren', 'Heron'], 120, 20)).toEqual({
    rows: 1,
    staggered: false,
    lines: [['Wren'], ['Heron']],
  })
})

it('gives every name two lines before it shortens any', () => {
  const names = columnNames(['Wren', 'Theatre Recovery'], 110, 20)
  expect(names).toMatchObject({ rows: 2, staggered: false })
})

it('staggers names of one long word, whole up to two columns', () => {
  const names = columnNames(['Wren', 'Physiotherapist', 'Curlew'], 110, 20)
  expect(names).toMatchObject({ rows: 2, staggered: true })
  expect(names.lines.flat()).toEqual(['Wren', 'Physiotherapist', 'Curlew'])
})

it('never reaches into the next name of its row', () => {
  const name = fc.string({ minLength: 1, maxLength: 40 })
  fc.assert(
    fc.property(fc.array(name, { minLength: 1, maxLength: 12 }), fc.nat(300), (all, width) => {
      const column = width + 20
      const { lines, staggered } = columnNames(all, column, 28)
      const room = staggered ? 2 * column : column
      for (const line of lines.flat()) expect(textWidth(line, 28, true)).toBeLessThanOrEqual(room)
    }),
  )
})

import { describe, expect, it } from 'vitest'
import { parseBlock } from './paste.ts'

describe('parseBlock', () => {
  it('splits a spreadsheet block at tabs and line breaks of every kind', () => {
    expect(parseBlock('a\tb\r\nc\td\ne\tf\r')).toEqual([
      ['a', 'b'],
      ['c', 'd'],
      ['e', 'f'],
    ])
  })

  it('keeps an empty cell in the middle and drops blank lines at the end', () => {
    expect(parseBlock('2026-03-02\t\t7\n\t\t\n\n')).toEqual([['2026-03-02', '', '7']])
  })

  it('reads a quoted cell with a tab, a line break and a doubled quote as one cell', () => {
    expect(parseBlock('1\t"said ""no""\tand\nleft"\n2\tx')).toEqual([
      ['1', 'said "no"\tand left'],
      ['2', 'x'],
    ])
  })

  it('keeps a decimal comma of a single column', () => {
    expect(parseBlock('12,5\n13,1')).toEqual([['12,5'], ['13,1']])
  })

  it('splits at semicolons or commas where the block starts with dates', () => {
    expect(parseBlock('2026-03-02;12,5\n2026-03-09;13,1', true)).toEqual([
      ['2026-03-02', '12,5'],
      ['2026-03-09', '13,1'],
    ])
    expect(parseBlock('2026-03-02,12\n2026-03-09,13', true)).toEqual([
      ['2026-03-02', '12'],
      ['2026-03-09', '13'],
    ])
  })

  it('leaves lines with different numbers of commas alone', () => {
    expect(parseBlock('2026-03-02,12\nno comma', true)).toEqual([['2026-03-02,12'], ['no comma']])
  })

  it('answers nothing for nothing', () => {
    expect(parseBlock('')).toEqual([])
    expect(parseBlock('\n\n')).toEqual([])
  })
})

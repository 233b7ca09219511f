import { describe, expect, it } from 'vitest'
import { readTable } from './read-table.ts'
import type { TableOptions } from './types.ts'

const read = (text: string, options: Partial<TableOptions> = {}) =>
  readTable(text, { dataKind: null, rowNumbers: 'allow', ...options })
const codes = (text: string, options: Partial<TableOptions> = {}) =>
  read(text, options).issues.map((issue) => [issue.row, issue.column, issue.code])

describe('a table that is right', () => {
  it('reads dates and values, and says what each column was taken for', () => {
    const table = read('week,minutes,note\n2026-01-05,31,\n2026-01-12,28,short week\n')
    expect(table.issues).toEqual([])
    expect(table.columns).toEqual({
      at: 'week',
      value: 'minutes',
      numerator: null,
      denominator: null,
      note: 'note',
    })
    expect(table.rows).toEqual([
      { row: 2, at: '2026-01-05', value: 31, numerator: null, denominator: null, note: '' },
      {
        row: 3,
        at: '2026-01-12',
        value: 28,
        numerator: null,
        denominator: null,
        note: 'short week',
      },
    ])
    expect(table.dataKind).toBe('single')
  })

  it('finds numerator and denominator by name, in any order', () => {
    const table = read('month,births,deaths\n1841-01,254,37\n1841-02,239,18')
    expect(table.rows[0]).toMatchObject({ at: '1841-01-01', numerator: 37, denominator: 254 })
    expect(table.dataKind).toBe('classified')
  })

  it('takes three bare columns as date, numerator and denominator', () => {
    const table = read('2026-01-05,3,40\n2026-01-12,5,38')
    expect(table.header).toEqual(['1', '2', '3'])
    expect(table.rows[1]).toMatchObject({ row: 2, numerator: 5, denominator: 38 })
  })

  it('takes events over an area as rates', () => {
    const table = read('month,infections,line days\n2026-01,3,412.5\n2026-02,1,398')
    expect(table.dataKind).toBe('rates')
  })

  it('takes several values of one date as a subgroup', () => {
    const table = read('date,value\n2026-01-05,3\n2026-01-05,4\n2026-01-12,5')
    expect(table.dataKind).toBe('subgrouped')
    expect(table.rows).toHaveLength(3)
  })

  it('reads cells pasted from a spreadsheet', () => {
    const table = read('date\tvalue\r\n05/01/2026\t3\r\n13/01/2026\t4\r\n')
    expect(table.delimiter).toBe('\t')
    expect(table.rows.map((r) => r.at)).toEqual(['2026-01-05', '2026-01-13'])
  })

  it('reads semicolons with decimal commas', () => {
    const table = read('Datum;Value\n2026-01-05;3,25\n2026-01-12;4,5')
    expect(table.delimiter).toBe(';')
    expect(table.rows.map((r) => r.value)).toEqual([3.25, 4.5])
  })

  it('reads quotes, a byte order mark and a quoted line end, and still counts lines', () => {
    const table = read(
      '\ufeffdate,value,note\n2026-01-05,3,"two\nlines, ""quoted"""\n2026-01-12,x,',
    )
    expect(table.issues).toMatchObject([{ row: 4, column: 'value', code: 'import.bad_number' }])
    const right = read('\ufeffdate,value,note\n2026-01-05,3,"two\nlines, ""quoted"""')
    expect(right.rows[0]!.note).toBe('two\nlines, "quoted"')
  })

  it('takes row numbers for dates, and does without', () => {
    expect(read('trial,value\n1,96\n2,71').rows.map((r) => r.at)).toEqual(['1', '2'])
    expect(read('96\n71\n44').rows.map((r) => [r.at, r.value])).toEqual([
      ['1', 96],
      ['2', 71],
      ['3', 44],
    ])
  })

  it('keeps a missing value as missing', () => {
    const table = read('date,value\n2026-01-05,\n2026-01-12,n/a\n2026-01-19,3')
    expect(table.rows.map((r) => r.value)).toEqual([null, null, 3])
  })

  it('reads durations as people write them', () => {
    const table = read('trial,time\n1,1:36\n2,1 min 11 s\n3,44 s\n4,62.5', {
      dataKind: 'single',
      valueFormat: 'duration',
    })
    expect(table.rows.map((r) => r.value)).toEqual([96, 71, 44, 62.5])
  })

  it('takes percent signs where every cell has one', () => {
    expect(read('date,value\n2026-01-05,74 %\n2026-01-12,80%').rows[0]!.value).toBe(74)
  })

  it('lets a person say which column holds what, by name or number', () => {
    const text = 'seen,a,b\n2026-01-05,7,1\n2026-01-12,8,2'
    expect(read(text, { columns: { value: 'b' } }).rows[0]!.value).toBe(1)
    expect(read(text, { columns: { value: '2' } }).rows[0]!.value).toBe(7)
  })
})

it.each([
  ['2026-03-02', '2026-03-02'],
  ['2026-03', '2026-03-01'],
  ['2026/3/2', '2026-03-02'],
  ['20260302', '2026-03-02'],
  ['2.3.2026', '2026-03-02'],
  ['31/3/2026', '2026-03-31'],
  ['3/31/2026', '2026-03-31'],
  ['2 March 2026', '2026-03-02'],
  ['2-Mar-2026', '2026-03-02'],
  ['March 2, 2026', '2026-03-02'],
  ['Mar 2026', '2026-03-01'],
  ['2026-W10', '2026-03-02'],
  ['2026-03-02T09:15:00+01:00', '2026-03-02T08:15:00.000Z'],
  ['2026-03-02 09:15', '2026-03-02T09:15:00.000Z'],
])('reads the date %s', (cell, at) => {
  const table = read(`date;value\n${cell};3`)
  expect(table.issues).toEqual([])
  expect(table.rows[0]!.at).toBe(at)
})

describe('a table that is wrong', () => {
  it('lists every mistake with line, column and what was expected, and gives no row', () => {
    const table = read('date,value\n2026-01-05,3\n2026-02-30,4\n2026-01-19,many\n,5\n2026-01-05,6')
    expect(table.rows).toEqual([])
    expect(table.issues.map((i) => [i.row, i.column, i.code])).toEqual([
      [3, 'date', 'import.bad_date'],
      [4, 'value', 'import.bad_number'],
      [5, 'date', 'import.no_date'],
    ])
    for (const issue of table.issues) expect(issue.message).toContain('expected')
  })

  it('names both lines of one date', () => {
    const table = read('date,falls\n2026-01-05,3\n2026-01-05,4', { dataKind: 'counts' })
    expect(table.issues).toMatchObject([
      {
        row: 3,
        column: 'date',
        code: 'import.duplicate_date',
        message: expect.stringContaining('Lines 2 and 3'),
      },
    ])
  })

  it('asks for the order of days and months, once', () => {
    const text = 'date,value\n03/04/2026,1\n04/05/2026,2'
    expect(codes(text)).toEqual([[2, 'date', 'import.date_order']])
    expect(read(text, { dateOrder: 'day-first' }).rows[0]!.at).toBe('2026-04-03')
    expect(read(text, { dateOrder: 'month-first' }).rows[0]!.at).toBe('2026-03-04')
  })

  it('refuses two orders in one column', () => {
    expect(codes('date,value\n13/04/2026,1\n04/13/2026,2')).toEqual([
      [3, 'date', 'import.bad_date'],
    ])
  })

  it('asks about a thousands mark', () => {
    const text = 'date;value\n2026-01-05;1,234\n2026-01-12;2,345'
    expect(codes(text)).toEqual([
      [2, 'value', 'import.thousands'],
      [3, 'value', 'import.thousands'],
    ])
    expect(read(text, { decimalMark: 'point' }).rows[0]!.value).toBe(1234)
    expect(read(text, { decimalMark: 'comma' }).rows[0]!.value).toBe(1.234)
    expect(read('date;value\n2026-01-05;1,234\n2026-01-12;2,5').rows[0]!.value).toBe(1.234)
    expect(read('date;value\n2026-01-05;1,234,567').rows[0]!.value).toBe(1234567)
  })

  it('refuses points and commas for decimals in one column', () => {
    expect(codes('date;value\n2026-01-05;1.5\n2026-01-12;2,5')).toEqual([
      [3, 'value', 'import.decimal_mark'],
    ])
  })

  it('asks whether 102 is seconds or a stopwatch', () => {
    const options = { dataKind: 'single', valueFormat: 'duration' } as const
    expect(codes('trial,time\n1,102\n2,58', options)).toEqual([[2, 'time', 'import.perhaps_clock']])
    expect(read('trial,time\n1,102\n2,185', options).rows[0]!.value).toBe(102)
  })

  it('holds classified data to parts of wholes', () => {
    const text =
      'date,done,of\n2026-01-05,41,40\n2026-01-12,-1,40\n2026-01-19,2.5,40\n2026-01-26,3,'
    expect(codes(text, { dataKind: 'classified' })).toEqual([
      [2, 'done', 'import.part_over_whole'],
      [3, 'done', 'import.out_of_range'],
      [4, 'done', 'import.out_of_range'],
      [5, 'of', 'import.no_denominator'],
    ])
  })

  it('refuses a percentage where a count belongs', () => {
    expect(codes('date,done,of\n2026-01-05,41 %,40', { dataKind: 'classified' })).toEqual([
      [2, 'done', 'import.percent'],
    ])
  })

  it('complains about the cells, not the column, where all of them are wrong', () => {
    expect(codes('date,value\n2026-01-05,x')).toEqual([[2, 'value', 'import.bad_number']])
    expect(codes('date,done,of\n2026-01-05,x,40', { dataKind: 'classified' })).toEqual([
      [2, 'done', 'import.bad_number'],
    ])
    expect(codes('date,value\nsoon,3')).toEqual([[2, 'date', 'import.bad_date']])
  })

  it('asks which column where no name decides', () => {
    const table = read('date,left,middle\n2026-01-05,1,2\n2026-01-12,2,3', { dataKind: 'single' })
    expect(table.issues).toMatchObject([{ row: 1, code: 'import.which_column' }])
    expect(table.issues[0]!.message).toContain('"left", "middle"')
  })

  it('lists the columns there are where a named one is not', () => {
    const table = read('date,a\n2026-01-05,1', { columns: { value: 'b' } })
    expect(table.issues[0]!.message).toContain('expected one of "date", "a"')
  })

  it('says in which line a quotation mark is not closed', () => {
    expect(codes('date,value\n2026-01-05,"3\n')[0]![2]).toBe('import.bad_quotes')
    expect(codes('date,value\n2026-01-05,3\n2026-01-12,a"b"\n')).toEqual([
      [3, null, 'import.bad_quotes'],
    ])
  })

  it('refuses what is not text, is empty, or is only a header', () => {
    expect(codes('PK\u0003\u0004\u0000')).toEqual([[1, null, 'import.not_text']])
    expect(codes(' \n\n')).toEqual([[1, null, 'import.empty']])
    expect(codes('date,value\n')).toEqual([[1, null, 'import.no_rows']])
  })

  it('refuses lines that are too long, too many lines, too many columns', () => {
    expect(codes(`date,value\n2026-01-05,${'9'.repeat(120_000)}`)[0]![2]).toBe(
      'import.line_too_long',
    )
    expect(codes('date,value\n2026-01-05,1\n2026-01-06,2', { maxRows: 1 })).toEqual([
      [3, null, 'import.too_many_rows'],
    ])
    expect(codes(`${'a,'.repeat(300)}b\n1`)[0]![2]).toBe('import.too_many_columns')
  })

  it('says where a line has too few or too many cells', () => {
    const text = 'date,value\n2026-01-05\n2026-01-12,3,printer, out\n2026-01-19,4,,'
    expect(codes(text)).toEqual([
      [2, null, 'import.short_row'],
      [3, '3', 'import.long_row'],
    ])
  })

  it('wants dates where row numbers will not do', () => {
    expect(codes('trial,value\n1,96', { rowNumbers: 'refuse' })).toEqual([
      [2, 'trial', 'import.bad_date'],
    ])
  })

  it('counts what goes past the list', () => {
    const table = read(`date,value\n${Array.from({ length: 700 }, () => 'x,y').join('\n')}`, {
      dataKind: 'single',
    })
    expect(table.issues.length).toBeLessThanOrEqual(501)
    expect(table.issues.at(-1)!.code).toMatch(/import\./)
  })
})

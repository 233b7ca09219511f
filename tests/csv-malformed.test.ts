import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { DATA_KINDS } from '../src/domain/record.ts'
import { readTable } from '../src/tabular/read-table.ts'
import type { TableOptions } from '../src/tabular/types.ts'

/** Files that are right, of every shape that is read. */
const RIGHT: readonly (readonly [string, TableOptions])[] = [
  ['date,value\n2026-01-05,31\n2026-01-12,28\n2026-01-19,35\n', { dataKind: 'single' }],
  ['month;done;of\r\n2026-01;3;40\r\n2026-02;5;38\r\n', { dataKind: 'classified' }],
  ['day\tfalls\n05/01/2026\t3\n13/01/2026\t4\n', { dataKind: 'counts' }],
  ['week,infections,line days\n2026-W02,1,412.5\n2026-W03,0,398\n', { dataKind: 'rates' }],
  [
    'trial,time\n1,1:36\n2,0:58\n',
    { dataKind: 'single', valueFormat: 'duration', rowNumbers: 'allow' },
  ],
  ['date,value\n2026-01-05,3\n2026-01-05,4\n2026-01-12,5\n', { dataKind: 'subgrouped' }],
  [
    'date,value,note\n"2 March 2026","1,5","a ""quoted"" note"\n3 March 2026,2,\n',
    { dataKind: 'single' },
  ],
]

/** Cells that are not what any column takes, each with what makes it wrong. */
const BAD_CELLS = [
  'many',
  '31 Feb 2026',
  '1;2',
  '1.2.3',
  '#DIV/0!',
  '=A1',
  '1e999',
  '12 stones',
  '∞',
  '--',
]

/** A mistake of the kind people and programs make. The file is wrong afterwards. */
type Mistake = (lines: string[], delimiter: string, pick: number, bad: string) => string

const dataLine = (lines: readonly string[], pick: number) => 1 + (pick % (lines.length - 1))
const withCells = (
  lines: readonly string[],
  delimiter: string,
  at: number,
  change: (cells: string[]) => string[],
) =>
  lines
    .map((line, i) => (i === at ? change(line.split(delimiter)).join(delimiter) : line))
    .join('\n')

const MISTAKES: Readonly<Record<string, Mistake>> = {
  'a cell that is no date': (lines, d, pick, bad) =>
    withCells(lines, d, dataLine(lines, pick), ([, ...rest]) => [bad, ...rest]),
  'an empty date': (lines, d, pick) =>
    withCells(lines, d, dataLine(lines, pick), ([, ...rest]) => ['', ...rest]),
  'a value that is no number': (lines, d, pick, bad) =>
    withCells(lines, d, dataLine(lines, pick), ([at, , ...rest]) => [at!, bad, ...rest]),
  'a line cut short': (lines, d, pick) =>
    withCells(lines, d, dataLine(lines, pick), ([at]) => [at!]),
  'a cell too many': (lines, d, pick) =>
    withCells(lines, d, dataLine(lines, pick), (cells) => [...cells, 'stray', 'cells']),
  'a quotation mark inside a cell': (lines, d, pick) =>
    withCells(lines, d, dataLine(lines, pick), ([at, value, ...rest]) => [
      at!,
      `${value}"x`,
      ...rest,
    ]),
  'a quotation mark that is never closed': (lines, d, pick) =>
    withCells(lines, d, dataLine(lines, pick), ([at, value, ...rest]) => [
      at!,
      `"${value}`,
      ...rest,
    ]),
  'a byte that is no text': (lines, _, pick) => {
    const text = lines.join('\n')
    const at = pick % text.length
    return `${text.slice(0, at)}\u0000${text.slice(at)}`
  },
  'no data at all': (lines) => lines[0]!,
  'a negative count or a part over its whole': (lines, d, pick) =>
    withCells(lines, d, dataLine(lines, pick), ([at, , ...rest]) => [
      at!,
      rest.length > 0 ? '-7' : 'minus 7',
      ...rest,
    ]),
}

const broken = fc
  .record({
    file: fc.constantFrom(...RIGHT.slice(0, 6)),
    mistake: fc.constantFrom(...Object.keys(MISTAKES)),
    pick: fc.nat(10_000),
    bad: fc.constantFrom(...BAD_CELLS),
  })
  .map(({ file: [text, options], mistake, pick, bad }) => {
    const lines = text.trimEnd().split(/\r?\n/)
    const delimiter = /[,;\t]/.exec(lines[0]!)![0]
    return { mistake, options, text: MISTAKES[mistake]!(lines, delimiter, pick, bad) }
  })

/** Noise with the characters that matter to a parser. */
const noise = fc.array(
  fc.oneof(
    fc.constantFrom(
      ',',
      ';',
      '\t',
      '\n',
      '\r\n',
      '"',
      '""',
      '\\',
      ' ',
      '\ufeff',
      '%',
      '-',
      '.',
      '/',
      ':',
    ),
    fc.constantFrom('2026-01-05', '05/01/2026', '1,234', '12', 'date', 'value', 'n', '1e9', '0'),
    fc.string({ unit: 'binary', maxLength: 6 }),
  ),
  { maxLength: 60 },
)
const anyOptions: fc.Arbitrary<TableOptions> = fc
  .record({
    dataKind: fc.constantFrom(null, ...DATA_KINDS),
    valueFormat: fc.constantFrom('number' as const, 'duration' as const),
    rowNumbers: fc.constantFrom('allow' as const, 'refuse' as const),
    value: fc.constantFrom(undefined, '', '2', 'value', '99', '\u0000'),
  })
  .map(({ value, ...rest }) => ({
    ...rest,
    ...(value === undefined ? {} : { columns: { value } }),
  }))

/** Right files with characters cut out, doubled, swapped or replaced anywhere. */
const mangled = fc
  .record({
    file: fc.constantFrom(...RIGHT),
    edits: fc.array(
      fc.record({
        at: fc.nat(400),
        cut: fc.nat(12),
        put: fc.oneof(
          fc.string({ unit: 'binary', maxLength: 4 }),
          fc.constantFrom('"', '\n', ',', '\t', ''),
        ),
      }),
      { minLength: 1, maxLength: 8 },
    ),
  })
  .map(({ file: [text, options], edits }) => {
    let s = text
    for (const { at, cut, put } of edits) {
      const i = at % (s.length + 1)
      s = s.slice(0, i) + put + s.slice(i + cut)
    }
    return { text: s, options }
  })

/** Whatever comes in, this holds of what comes out. */
function expectWholeOrReasons(text: string, options: TableOptions) {
  const { rows, issues } = readTable(text, options)
  const lines = text.replace(/\r\n?/g, '\n').split('\n').length
  if (issues.length === 0) {
    expect(rows.length).toBeGreaterThan(0)
    for (const row of rows) {
      expect(row.at).not.toBe('')
      for (const value of [row.value, row.numerator, row.denominator])
        expect(value === null || Number.isFinite(value)).toBe(true)
    }
  } else expect(rows).toEqual([])
  for (const issue of issues) {
    expect(issue.row).toBeGreaterThanOrEqual(1)
    expect(issue.row).toBeLessThanOrEqual(lines)
    expect(issue.code).toMatch(/^import\.[a-z_]+$/)
    expect(issue.message.length).toBeGreaterThan(10)
  }
  return issues
}

describe('10,000 malformed files', () => {
  it.each(RIGHT.map(([text, options]) => [text.split('\n')[0], text, options] as const))(
    'begins from right files: %s',
    (_, text, options) => expect(readTable(text, options).issues).toEqual([]),
  )

  it('gives a reason with a row for each of 4,000 mistakes, and no row of data', () => {
    fc.assert(
      fc.property(broken, ({ text, options, mistake }) => {
        const issues = expectWholeOrReasons(text, options)
        expect(issues.length, mistake).toBeGreaterThan(0)
      }),
      { numRuns: 4000, seed: 1841 },
    )
  })

  it('takes 3,000 mangled files whole or not at all', () => {
    fc.assert(
      fc.property(mangled, ({ text, options }) => {
        expectWholeOrReasons(text, options)
      }),
      { numRuns: 3000, seed: 1847 },
    )
  })

  it('takes 3,000 streams of noise whole or not at all', () => {
    fc.assert(
      fc.property(noise, anyOptions, (parts, options) => {
        expectWholeOrReasons(parts.join(''), options)
      }),
      { numRuns: 3000, seed: 1849 },
    )
  })
})

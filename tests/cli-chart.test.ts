import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { chartCommand } from '../src/cli/chart.ts'
import { CHART_HELP } from '../src/cli/chart-options.ts'
import { renderPng } from '../src/cli/png.ts'
import type { Analysis } from '../src/stats/types.ts'
import { HANDWASHING_FROM, VIENNA_MONTHS } from './reference/vienna-maternity.ts'

let folder = ''
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'pawl-chart-'))
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

function file(name: string, text: string): string {
  const path = join(folder, name)
  writeFileSync(path, text)
  return path
}

async function pawlChart(args: readonly string[], stdin = '') {
  let out = ''
  let err = ''
  const code = await chartCommand(args, {
    stdin: (async function* () {
      yield stdin
    })(),
    stdout: { write: (text) => (out += text) },
    stderr: { write: (text) => (err += text) },
  })
  return { code, out, err }
}

async function chartJson(args: readonly string[], stdin = ''): Promise<Analysis> {
  const { code, out, err } = await pawlChart([...args, '--json'], stdin)
  expect(err).toBe('')
  expect(code).toBe(0)
  return JSON.parse(out) as Analysis
}

const rows = (header: string, values: readonly (number | string)[]) =>
  `${header}\n${values.map((value, i) => `${i + 1},${value}`).join('\n')}\n`

// Semmelweis 1861, monthly births and deaths of the first clinic.
const vienna = () =>
  file(
    'vienna.csv',
    `month,births,deaths\n${VIENNA_MONTHS.map((m) => `${m.at},${m.births},${m.deaths}`).join('\n')}\n`,
  )

describe('the Vienna maternity clinic, 1841 to 1849 (Semmelweis 1861)', () => {
  it('gives a P chart of two phases with the centres of the months before and after handwashing', async () => {
    const chart = await chartJson([vienna(), '--phase', HANDWASHING_FROM])
    expect(chart.kind).toBe('p')
    const [before, after] = chart.phases
    // Centre of a P chart: all deaths over all births of the phase, added up here from the table.
    for (const [phase, months] of [
      [before!, VIENNA_MONTHS.filter((m) => m.at < HANDWASHING_FROM)],
      [after!, VIENNA_MONTHS.filter((m) => m.at >= HANDWASHING_FROM)],
    ] as const) {
      const births = months.reduce((sum, m) => sum + m.births, 0)
      const deaths = months.reduce((sum, m) => sum + m.deaths, 0)
      expect(phase.center).toBeCloseTo(deaths / births, 12)
      expect(phase.n).toBe(months.length)
      expect([phase.from, phase.to]).toEqual([months[0]!.at, months.at(-1)!.at])
    }
    expect(before!.center).toBeGreaterThan(4 * after!.center!)
    expect(chart.points).toHaveLength(98)
    expect(chart.points[0]).toMatchObject({
      at: '1841-01-01',
      numerator: 37,
      denominator: 254,
      value: 37 / 254,
    })
  })

  it('says so in words and draws it', async () => {
    const picture = join(folder, 'vienna.svg')
    const { code, out } = await pawlChart([
      vienna(),
      '--phase',
      HANDWASHING_FROM,
      '--better',
      'down',
      '--title',
      'Deaths of mothers',
      '--out',
      picture,
    ])
    expect(code).toBe(0)
    expect(out).toContain('P chart of “Deaths of mothers”: 98 points, 1 Jan 1841 to 1 Mar 1849.')
    expect(out).toContain('Phase 1, 1 Jan 1841 to 1 May 1847: centre 10.5 %')
    expect(out).toContain('Phase 2, 1 Jun 1847 to 1 Mar 1849: centre 2.2 %')
    const svg = readFileSync(picture, 'utf8')
    expect(svg).toContain('Deaths of mothers</text>')
    expect(svg).toContain('10.5\u00a0% · 1 Jan 1841 to 1 May 1847')
    // December 1841 has no row, so the line is in two parts.
    expect(/<path d="(M[\d.,]+L[^"]{500,})"/.exec(svg)![1]!.match(/M/g)).toHaveLength(2)
  })
})

describe('NIST/SEMATECH e-Handbook of Statistical Methods', () => {
  // 6.3.3.1: defects on 25 wafers; centre 16, limits 4 and 28, one wafer above.
  const WAFERS = [
    16, 14, 28, 16, 12, 20, 10, 12, 10, 17, 19, 17, 14, 16, 15, 13, 14, 16, 11, 20, 11, 19, 16, 31,
    13,
  ]
  it('6.3.3.1, a C chart of counts on wafers', async () => {
    const chart = await chartJson(['-', '--kind', 'c'], rows('wafer,defects', WAFERS))
    expect(chart.phases).toMatchObject([{ center: 16, sigma: 4, n: 25 }])
    expect(chart.points[0]).toMatchObject({
      at: '1',
      value: 16,
      lower: 4,
      upper: 28,
      numerator: null,
    })
    const beyond = chart.signals.filter((s) => s.rule === 'beyond-limits')
    expect(beyond.map((s) => s.points)).toEqual([[23]])
    expect(beyond[0]).toMatchObject({ direction: 'up' })
    expect(chart.points[23]!.signals).toContain(chart.signals.indexOf(beyond[0]!))
  })

  // 6.3.3.2: defective chips in 30 samples of 50; centre 0.2313, limits 0.0524 and 0.4102.
  const CHIPS = [
    12, 15, 8, 10, 4, 7, 16, 9, 14, 10, 5, 6, 17, 12, 22, 8, 10, 5, 13, 11, 20, 18, 24, 15, 9, 12,
    7, 13, 9, 6,
  ]
  it('6.3.3.2, a P chart of chips, samples 15 and 23 outside', async () => {
    const csv = rows(
      'sample,defective,n',
      CHIPS.map((count) => `${count},50`),
    )
    const chart = await chartJson(['-', '--kind', 'p'], csv)
    expect(chart.phases[0]!.center).toBeCloseTo(0.2313, 4)
    expect(chart.points[0]!.lower).toBeCloseTo(0.0524, 3)
    expect(chart.points[0]!.upper).toBeCloseTo(0.4102, 3)
    const beyond = chart.signals.filter((s) => s.rule === 'beyond-limits').flatMap((s) => s.points)
    expect(beyond).toEqual([14, 22])
  })

  // 6.3.2.2: flow rates; mean 50.81, mean moving range 1.8778, limits 45.8159 and 55.8041. The ten
  // points are repeated, since limits need twelve: the mean stays, the moving ranges are known.
  it('6.3.2.2, individuals of a flow rate, with the mean of the handbook', async () => {
    const flow = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]
    const twice = [...flow, ...flow]
    const chart = await chartJson(['-', '--kind', 'individuals'], rows('batch,flow', twice))
    const ranges = twice.slice(1).map((x, i) => Math.abs(x - twice[i]!))
    const sigma = ranges.reduce((a, b) => a + b, 0) / ranges.length / 1.128
    expect(chart.phases[0]!.center).toBeCloseTo(50.81, 10)
    expect(chart.points[0]!.upper).toBeCloseTo(50.81 + 3 * sigma, 2)
    const alone = await chartJson(['-', '--kind', 'individuals'], rows('batch,flow', flow))
    expect(alone.kind).toBe('run')
    expect(alone.points[0]).toMatchObject({ lower: null, upper: null })
  })
})

describe('the object that --json prints', () => {
  it('has the named fields, with null where there is no value or no limit', async () => {
    const csv = 'date,value\n2026-01-05,3\n2026-01-12,\n2026-01-19,5\n'
    const { out } = await pawlChart(['-', '--json'], csv)
    const chart = JSON.parse(out) as Record<string, Record<string, unknown>[]>
    expect(Object.keys(chart)).toEqual(
      expect.arrayContaining(['kind', 'ruleSet', 'phases', 'points', 'signals']),
    )
    expect(Object.keys(chart['phases']![0]!)).toEqual(
      expect.arrayContaining(['from', 'to', 'n', 'center', 'sigma']),
    )
    for (const point of chart['points']!)
      expect(Object.keys(point)).toEqual(
        expect.arrayContaining([
          'at',
          'value',
          'numerator',
          'denominator',
          'center',
          'lower',
          'upper',
          'signals',
        ]),
      )
    expect(chart['points']![1]).toMatchObject({ value: null, numerator: null, upper: null })
    expect(chart['points']!.map((p) => p['lines'])).toEqual([[2], [3], [4]])
    expect(chart['kind']).toBe('run')
  })

  it('counts points of a signal from 0 and says which signals a point is in', async () => {
    const shifted = [
      ...Array<number>(12)
        .fill(0)
        .map((_, i) => 4 + (i % 3)),
      ...Array<number>(12).fill(9),
    ]
    const chart = await chartJson(
      ['-', '--kind', 'run', '--rules', 'run-classic'],
      rows('row,value', shifted),
    )
    expect(chart.ruleSet).toBe('run-classic')
    expect(chart.signals.length).toBeGreaterThan(0)
    for (const [k, signal] of chart.signals.entries())
      for (const index of signal.points) expect(chart.points[index]!.signals).toContain(k)
  })

  it('takes one date that stands twice for a mistake, not for a subgroup', async () => {
    const text =
      'date,value\n2026-01-05,3\n2026-01-12,4\n2026-01-12,6\n2026-01-19,5\n2026-01-26,5\n'
    const { code, err } = await pawlChart([file('twice.csv', text)])
    expect(code).toBe(2)
    expect(err).toContain(
      'twice.csv:4: date: Lines 3 and 4 both have 2026-01-12, expected each date once.',
    )
  })

  it('draws infections by line days as a rate, not as a share', async () => {
    const text = `month,Infections,Line days\n${Array.from({ length: 24 }, (_, i) => `${i + 1},${i % 4},${900 + i}`).join('\n')}\n`
    const chart = await chartJson([file('lines.csv', text), '--per', '1000'])
    expect(chart).toMatchObject({ kind: 'u', requestedKind: 'auto' })
  })

  it('reads the months that spreadsheets write', async () => {
    const text = 'Month,Falls\nNov-25,3\nDec-25,4\nJan-26,6\n'
    const chart = await chartJson([file('months.csv', text)])
    expect(chart.points.map(({ at }) => at)).toEqual(['2025-11-01', '2025-12-01', '2026-01-01'])
  })

  it('says what is wrong with a title, a line of totals and a stopwatch time', async () => {
    const said = async (text: string) => (await pawlChart([file('said.csv', text)])).err
    expect(await said('Falls 2025\n\ndate,value\n2026-01-05,3\n')).toContain(
      'said.csv:1: Line 1 has one cell and the lines below 2',
    )
    expect(await said('date,value\n2026-01-05,3\nTotal,3\n')).toContain(
      'said.csv:3: date: "Total" is a summary and no date; leave that line out',
    )
    expect(await said('date,time\n2026-01-05,1:30\n')).toContain('add --durations')
  })

  it('takes phases in any order, and the same one once', async () => {
    const path = file('phases.csv', rows('no,value', [...Array(30).keys()]))
    const args = ['--phase', '21', '--phase', '11', '--phase', '21', '--frozen', '5']
    const chart = await chartJson([path, ...args])
    expect(chart.phases.map(({ from }) => from)).toEqual(['1', '11', '21'])
    expect(chart.phases[0]!.frozenThrough).toBe('5')
  })

  it('says which columns it drew', async () => {
    const text = 'week,Seen,Bundles complete\n1,20,12\n2,22,15\n'
    expect((await pawlChart([file('cols.csv', text)])).out).toContain(
      'Drawn from “Bundles complete” of “Seen”.',
    )
  })

  it('puts lines in order of time, and lines of one date into a subgroup', async () => {
    const chart = await chartJson(['-'], 'date,value\n2026-01-12,5\n2026-01-05,3\n2026-01-05,4\n')
    expect(chart.points.map((p) => [p.at, p.value])).toEqual([
      ['2026-01-05', 3.5],
      ['2026-01-12', 5],
    ])
  })

  it('draws rates per so many units', async () => {
    const csv = rows('month,infections,line days', ['2,400', '1,500', '3,300'])
    const chart = await chartJson(['-', '--kind', 'u', '--per', '1000'], csv)
    expect(chart.points[0]!.value).toBeCloseTo(5, 12)
  })
})

describe('input that is wrong', () => {
  it.each([
    ['a cell', 'date,value\n2026-01-05,many\n', [], /:2: value: "many" is not a number, expected /],
    [
      'a date',
      'date,value\n2026-02-30,1\n',
      [],
      /:2: date: "2026-02-30" .*, expected a date such as/,
    ],
    [
      'one date twice',
      'date,value\n2026-01-05,1\n2026-01-05,2\n',
      ['--kind', 'individuals'],
      /:3: date: Lines 2 and 3 both have 2026-01-05, expected/,
    ],
    [
      'one date twice on a run chart',
      'date,value\n2026-01-05,1\n2026-01-05,2\n',
      ['--kind', 'run'],
      /:3: date: Lines 2 and 3 both have 2026-01-05, expected/,
    ],
    [
      'a part over its whole',
      'date,done,of\n2026-01-05,9,8\n',
      ['--kind', 'p'],
      /:2: done: 9 of 8 is more than all, expected/,
    ],
    [
      'a column that is not there',
      'date,value\n2026-01-05,1\n',
      ['--value', 'falls'],
      /:1: falls: There is no column "falls", expected one of "date", "value"/,
    ],
    ['nothing', '', [], /:1: There is nothing here, expected a table/],
  ])('says where %s is wrong, and exits with 2', async (_, csv, args, message) => {
    const path = file('wrong.csv', csv)
    const { code, out, err } = await pawlChart([path, ...args])
    expect(code).toBe(2)
    expect(out).toBe('')
    expect(err).toMatch(message)
    expect(err.startsWith(`${path}:`)).toBe(true)
  })

  it.each([
    [['--kind', 'pie'], '--kind cannot be "pie", expected one of run, individuals'],
    [['--phase', '31/31/2026'], '--phase cannot be "31/31/2026", expected a date'],
    [
      ['--out', 'chart.pdf'],
      '--out cannot be "chart.pdf", expected a name that ends in .svg or .png.',
    ],
    [['--per', '0'], '--per cannot be "0", expected a number more than 0'],
    [['--nonsense'], "Unknown option '--nonsense'"],
    [[], 'No file was given'],
  ])('says what is wrong with %j', async (args, message) => {
    const { code, err } = await pawlChart(message.startsWith('No file') ? [] : ['-', ...args])
    expect(code).toBe(2)
    expect(err).toContain(message)
  })

  it('says that a file is not there', async () => {
    const { code, err } = await pawlChart([join(folder, 'none.csv')])
    expect(code).toBe(2)
    expect(err).toContain('none.csv: There is no such file, expected a CSV file.')
  })

  it('fails, rather than blames the input, where the picture cannot be written', async () => {
    const args = ['-', '--out', join(folder, 'no-such-folder', 'chart.svg')]
    const { code, err } = await pawlChart(args, 'date,value\n2026-01-05,1\n')
    expect(code).toBe(1)
    expect(err).toContain('The picture could not be written (ENOENT).')
  })
})

it('reads what a spreadsheet saves as Unicode text', async () => {
  const path = join(folder, 'utf16.txt')
  writeFileSync(path, Buffer.from('\ufeffdate\tvalue\r\n05.01.2026\t3,5\r\n', 'utf16le'))
  const chart = await chartJson([path])
  expect(chart.points[0]).toMatchObject({ at: '2026-01-05', value: 3.5 })
})

it('prints help that names every field of the object', async () => {
  const { code, out } = await pawlChart(['--help'])
  expect(code).toBe(0)
  expect(out).toBe(`${CHART_HELP}\n`)
  for (const field of ['kind', 'ruleSet', 'sigma', 'numerator', 'denominator', 'direction'])
    expect(out).toContain(field)
})

describe('a PNG', () => {
  const svgWith = (text: string) =>
    `<svg xmlns="http://www.w3.org/2000/svg" width="200" height="40" font-family="Atkinson Hyperlegible"><rect width="200" height="40" fill="#ffffff"/><text x="5" y="28" font-size="24" fill="#000000">${text}</text></svg>`

  it('has its text in pixels', async () => {
    const { Resvg } = await import('@resvg/resvg-js')
    const dark = async (text: string) => {
      const png = await renderPng(svgWith(text), 1)
      // Back through an SVG image: resvg hands out pixels only of what it renders.
      const again = new Resvg(
        `<svg xmlns="http://www.w3.org/2000/svg" width="200" height="40"><image width="200" height="40" href="data:image/png;base64,${Buffer.from(png).toString('base64')}"/></svg>`,
      ).render().pixels
      let n = 0
      for (let i = 0; i < again.length; i += 4) if (again[i]! < 128) n++
      return n
    }
    expect(await dark('')).toBe(0)
    expect(await dark('12 %')).toBeGreaterThan(100)
    expect(await dark('12 % WWW')).toBeGreaterThan(await dark('12 %'))
    expect(await dark('−−−−')).toBeGreaterThan(30)
  })

  it('is written for --out FILE.png', async () => {
    const path = join(folder, 'chart.png')
    const { code } = await pawlChart(
      ['-', '--out', path, '--width', '600'],
      rows('row,value', [3, 4, 5, 4]),
    )
    expect(code).toBe(0)
    const png = readFileSync(path)
    expect(png.subarray(1, 4).toString()).toBe('PNG')
    // Twice the width of the picture and its margins.
    expect(png.readUInt32BE(16)).toBe(2 * (600 + 32))
  })
})

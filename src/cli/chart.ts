import { readFile, writeFile } from 'node:fs/promises'
import { basename, extname } from 'node:path'
import type { ImportIssue } from '../api/import-contract.ts'
import { describeChart } from '../charts/describe-chart.ts'
import { paintSvg } from '../charts/paint-svg.ts'
import type { ChartSpec, ValueFormat } from '../charts/spec.ts'
import { DARK, LIGHT } from '../charts/theme.ts'
import { layOutTimeChart } from '../charts/time-chart.ts'
import { parseDuration } from '../domain/duration.ts'
import type { DataKind } from '../domain/record.ts'
import { AppError } from '../errors.ts'
import { analyze } from '../stats/analyze.ts'
import { isBefore, labelOrder } from '../stats/labels.ts'
import type { Analysis, ChartKind, PhaseStart } from '../stats/types.ts'
import { readNumber } from '../tabular/number-cell.ts'
import { readTable } from '../tabular/read-table.ts'
import { CHART_HELP, type ChartArguments, readChartArguments } from './chart-options.ts'
import { type FileSeries, KIND_TAKES, seriesFrom } from './chart-series.ts'

/** Where a command reads and writes; the process's own, or a test's. */
export interface CommandIo {
  readonly stdin: AsyncIterable<Uint8Array | string>
  readonly stdout: { readonly write: (text: string) => unknown }
  readonly stderr: { readonly write: (text: string) => unknown }
}

export async function run(args: readonly string[]): Promise<void> {
  process.exitCode = await chartCommand(args, process)
}

/**
 * `pawl chart`: a CSV file to a summary, a picture or JSON.
 *
 * @returns 0: fine. 1: the picture could not be written. 2: the input is wrong, said on stderr with
 *   file and line.
 * @throws Whatever else goes wrong.
 */
export async function chartCommand(args: readonly string[], io: CommandIo): Promise<number> {
  let wanted: ChartArguments | null
  try {
    wanted = readChartArguments(args)
  } catch (error) {
    if (!(error instanceof AppError)) throw error
    io.stderr.write(`pawl chart: ${error.message}\n${error.hint}\n`)
    return 2
  }
  if (wanted === null) {
    io.stdout.write(`${CHART_HELP}\n`)
    return 0
  }
  const name = wanted.file === '-' ? 'standard input' : wanted.file
  try {
    const text = await textOf(wanted.file, io)
    const table = readTable(text, { ...wanted.table, dataKind: KIND_TAKES[wanted.kind] })
    const { dataKind, issues } = withoutSubgroups(wanted.kind, table)
    if (issues.length > 0 || dataKind === null) {
      for (const issue of issues) io.stderr.write(`${sentence(name, issue)}\n`)
      if (issues.some(({ code, message }) => code === 'import.bad_number' && CLOCK.test(message)))
        io.stderr.write('Values such as 1:02 are times: add --durations.\n')
      return 2
    }
    await answer(wanted, seriesFrom(table.rows, dataKind), dataKind, io, table.columns)
    return 0
  } catch (error) {
    if (!(error instanceof AppError)) throw error
    io.stderr.write(`${error.message}\n${error.hint}\n`)
    return error.code === 'command.not_written' ? 1 : 2
  }

  /** A run chart takes single values; several of one date are only taken where no kind is named. */
  function withoutSubgroups(kind: ChartKind | 'auto', table: ReturnType<typeof readTable>) {
    if (kind !== 'run' || table.dataKind !== 'subgrouped') return table
    const lines = new Map<string, number>()
    const issues: ImportIssue[] = []
    for (const { at, row } of table.rows) {
      const before = lines.get(at)
      if (before === undefined) lines.set(at, row)
      else {
        const message = `Lines ${before} and ${row} both have ${at}, expected each date once. For several values of one date choose --kind xbar-s.`
        issues.push({
          row,
          column: table.columns['at'] ?? null,
          code: 'import.duplicate_date',
          message,
        })
      }
    }
    return { ...table, issues }
  }
}

/** A cell such as 1:02 or 1:02:30 at the beginning of a message. */
const CLOCK = /^"\d+:\d\d/

function sentence(name: string, { row, column, message }: ImportIssue): string {
  return `${name}:${row ?? 1}: ${column === null ? '' : `${column}: `}${message}`
}

async function textOf(file: string, io: CommandIo): Promise<string> {
  const bytes = file === '-' ? await everything(io.stdin) : await fileBytes(file)
  // Spreadsheets save "Unicode text" as UTF-16 with a byte order mark.
  const isUtf16 = bytes[0] === 0xff && bytes[1] === 0xfe
  return new TextDecoder(isUtf16 ? 'utf-16le' : 'utf-8').decode(bytes)
}

const UNREADABLE: Readonly<Record<string, string>> = {
  ENOENT: 'There is no such file',
  ENOTDIR: 'There is no such file',
  EISDIR: 'This is a folder',
  EACCES: 'This file may not be read',
  EPERM: 'This file may not be read',
}

async function fileBytes(file: string): Promise<Uint8Array> {
  try {
    return await readFile(file)
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code
    const why = UNREADABLE[code ?? '']
    if (why === undefined) throw error
    throw new AppError(
      'command.no_file',
      `${file}: ${why}, expected a CSV file.`,
      'Check the name.',
    )
  }
}

async function everything(stream: AsyncIterable<Uint8Array | string>): Promise<Uint8Array> {
  const parts: Uint8Array[] = []
  for await (const part of stream) parts.push(typeof part === 'string' ? Buffer.from(part) : part)
  return Buffer.concat(parts)
}

async function answer(
  wanted: ChartArguments,
  file: FileSeries,
  dataKind: DataKind,
  io: CommandIo,
  columns: Readonly<Record<string, string | null>>,
): Promise<void> {
  const analysis = analyzed(wanted, file, dataKind)
  const spec = specOf(wanted, analysis)
  if (wanted.json) {
    const { lines } = file
    const points = analysis.points.map((point, i) => ({ ...point, lines: lines[i] }))
    const { title, goal = null } = spec
    const object = { title, columns, goal, per: wanted.per, ...analysis, points }
    io.stdout.write(`${JSON.stringify(object, null, 2)}\n`)
  }
  if (wanted.out !== null) await writePicture(wanted, spec)
  if (!wanted.json) io.stdout.write(summaryOf(spec, wanted, columns))
}

/** The analysis; what the numbers do not allow is said with the line it stands in. */
function analyzed(
  wanted: ChartArguments,
  { series, lines }: FileSeries,
  dataKind: DataKind,
): Analysis {
  const order = labelOrder(series.at)
  const starts = [...new Set(wanted.phases)].sort((a, b) => (isBefore(a, b, order) ? -1 : 1))
  const phases: PhaseStart[] = starts.map((at) => ({ at }))
  if (wanted.frozen !== null) {
    const first = series.at[0]!
    if (starts[0] !== undefined && !isBefore(first, starts[0], order)) phases.shift()
    phases.unshift({ at: first, frozenThrough: wanted.frozen })
  }
  try {
    // The numbers alone do not show events in an area of opportunity; the name of the column does.
    const isRate = wanted.kind === 'auto' && dataKind === 'rates'
    const analysis = analyze(series, {
      kind: isRate ? 'u' : wanted.kind,
      better: wanted.better,
      per: wanted.per,
      phases,
      ...(wanted.ruleSet === null ? {} : { ruleSet: wanted.ruleSet }),
    })
    return { ...analysis, requestedKind: wanted.kind }
  } catch (error) {
    if (!(error instanceof AppError)) throw error
    const index = error.details['index']
    const line = typeof index === 'number' ? lines[index]?.[0] : undefined
    const where = line === undefined ? wanted.file : `${wanted.file}:${line}`
    throw new AppError(error.code, `${where}: ${error.message}`, error.hint, error.details)
  }
}

const PERCENT_KINDS: readonly ChartKind[] = ['p', 'p-prime']

function specOf(wanted: ChartArguments, analysis: Analysis): ChartSpec {
  const isShare =
    PERCENT_KINDS.includes(analysis.kind) ||
    (analysis.kind === 'run' && isShareOf(analysis, wanted.per))
  const format: ValueFormat =
    wanted.table.valueFormat === 'duration' ? 'duration' : isShare ? 'percent' : 'number'
  const name = wanted.file === '-' ? 'Chart' : basename(wanted.file, extname(wanted.file))
  return {
    title: wanted.title ?? name,
    analysis,
    format,
    better: wanted.better,
    goal: wanted.goal === null ? null : goalFrom(wanted.goal, format),
    ...(wanted.per === 1 ? {} : { unitLabel: `per ${wanted.per.toLocaleString('en-GB')}` }),
  }
}

/** Numerators with denominators, and nothing over one: a run chart of shares. */
function isShareOf({ points }: Analysis, per: number): boolean {
  const known = points.filter(({ value }) => value !== null)
  return (
    per === 1 &&
    known.length > 0 &&
    known.every(({ value, denominator }) => denominator !== null && value! >= 0 && value! <= 1)
  )
}

function goalFrom(text: string, format: ValueFormat): number {
  const wrong = (expected: string) =>
    new AppError(
      'command.usage',
      `--goal cannot be "${text}", expected ${expected}.`,
      'Give it in the unit of the chart.',
    )
  if (format === 'duration') return parseDuration(text).seconds
  const reading = readNumber(text)
  if (reading.kind !== 'number') throw wrong('a number')
  if (format !== 'percent') {
    if (reading.percent) throw wrong('a number without a percent sign')
    return reading.value
  }
  const share = reading.percent ? reading.value / 100 : reading.value
  if (share < 0 || share > 1) throw wrong('a share such as 80% or 0.8')
  return share
}

async function writePicture(wanted: ChartArguments, spec: ChartSpec): Promise<void> {
  const { path, format } = wanted.out!
  const chart = layOutTimeChart({ ...spec, width: wanted.width })
  const description = describeChart(spec).text
  const svg = paintSvg(chart, wanted.dark ? DARK : LIGHT, {
    title: spec.title,
    description,
    margin: 16,
  })
  if (format === 'svg') return write(path, svg)
  const { renderPng } = await import('./png.ts')
  await write(path, await renderPng(svg))
}

async function write(path: string, content: string | Uint8Array): Promise<void> {
  try {
    await writeFile(path, content)
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code ?? ''
    throw new AppError(
      'command.not_written',
      `${path}: The picture could not be written (${code}).`,
      'Check that the folder is there and may be written to.',
    )
  }
}

/** Which columns it was drawn from, where the file names them. */
function drawnFrom({ value, numerator, denominator }: Readonly<Record<string, string | null>>) {
  const named = (name: string | null | undefined): name is string =>
    name !== null && name !== undefined && !/^\d+$/.test(name)
  if (named(value)) return [`Drawn from “${value}”.`]
  return named(numerator) && named(denominator)
    ? [`Drawn from “${numerator}” of “${denominator}”.`]
    : []
}

/** Signals said in full; more of them are counted. */
const MOST_SIGNALS = 12

function summaryOf(
  spec: ChartSpec,
  { out }: ChartArguments,
  columns: Readonly<Record<string, string | null>>,
): string {
  const words = describeChart(spec)
  const { signals } = words
  const lines = [words.opening, ...drawnFrom(columns), ...words.phases]
  if (signals.length === 0 && spec.analysis.ruleSet !== 'none') lines.push('No signals.')
  for (const { letter, text } of signals.slice(0, MOST_SIGNALS)) lines.push(`  ${letter}  ${text}`)
  const more = signals.length - MOST_SIGNALS
  if (more > 0)
    lines.push(`  … and ${more} more ${more === 1 ? 'signal' : 'signals'}; --json has them all.`)
  lines.push(`Rules: ${spec.analysis.ruleSet}.`, ...words.notes)
  if (out !== null) lines.push(`Picture: ${out.path}`)
  return `${lines.join('\n').replaceAll('\u00a0', ' ')}\n`
}

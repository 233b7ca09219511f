import { parseArgs } from 'node:util'
import { AppError } from '../errors.ts'
import { CHART_KINDS, type ChartKind, type RuleSetId } from '../stats/types.ts'
import { readDate } from '../tabular/date-cell.ts'
import { readNumber } from '../tabular/number-cell.ts'
import type { TableOptions } from '../tabular/types.ts'

const RULE_SETS: readonly RuleSetId[] = [
  'run-classic',
  'run-length-adjusted',
  'shewhart-healthcare',
  'zone-tests',
  'eight-tests',
  'none',
]

export const CHART_HELP = `Usage: pawl chart FILE.csv [options]

Draws a chart of a measure over time and says what it shows. FILE.csv has a date and
a value in each line, or a date, a numerator and a denominator; - reads standard input.
A plain row number will do for a date. Several lines of one date are a subgroup.

What to draw
  --kind KIND          ${kindList()}
                       (chosen from the columns where left out)
  --rules SET          run-classic, run-length-adjusted, shewhart-healthcare,
                       zone-tests, eight-tests, none
  --phase DATE         a phase starts here, with its own centre and limits; repeatable
  --frozen DATE        centre and limits of the first phase come from the points up to
                       here and are carried forward
  --better up|down     which way is better
  --goal VALUE         such as 12, 0:45 or 80%
  --per N              rates per N, such as 1000
  --title TEXT         written above the chart

How to read the file (guessed where left out; names, or numbers from the left)
  --date COLUMN   --value COLUMN   --numerator COLUMN   --denominator COLUMN
  --date-order day-first|month-first     for dates such as 03/04/2026
  --decimal point|comma                  for numbers such as 1,234
  --durations                            values are times such as 1:02 or 62 s

What to give
  --out FILE.svg       or FILE.png: the picture
  --width PIXELS       of the picture, 320 to 3840 (1200)
  --dark               on a dark ground
  --json               one object instead of the summary:
                         kind, ruleSet
                         phases[]   from, to, n, center, sigma
                         points[]   at, value, numerator, denominator, center, lower,
                                    upper, signals (indices into signals[])
                         signals[]  rule, points, direction, text
                       signals[].points are indices into points[], the first being 0;
                       null where there is no value or no limit. docs/cli.md has it all.

Exit code 0: fine. 1: the program failed. 2: the input is wrong, said as
FILE:line: what is wrong, expected what.`

function kindList(): string {
  const half = 9
  return `${CHART_KINDS.slice(0, half).join(', ')},\n                       ${CHART_KINDS.slice(half).join(', ')}`
}

export interface ChartArguments {
  readonly file: string
  readonly kind: ChartKind | 'auto'
  readonly ruleSet: RuleSetId | null
  readonly phases: readonly string[]
  readonly frozen: string | null
  readonly better: 'up' | 'down' | null
  readonly goal: string | null
  readonly per: number
  readonly title: string | null
  readonly table: Omit<TableOptions, 'dataKind'>
  readonly out: { readonly path: string; readonly format: 'svg' | 'png' } | null
  readonly width: number
  readonly dark: boolean
  readonly json: boolean
}

const text = { type: 'string' } as const
const flag = { type: 'boolean' } as const

/**
 * Reads the arguments of `pawl chart`.
 *
 * @returns `null`: help was asked for.
 * @throws AppError `command.usage`.
 */
export function readChartArguments(args: readonly string[]): ChartArguments | null {
  const { values, positionals } = parse(args)
  if (values.help) return null
  const [file, extra] = positionals
  if (file === undefined) throw usage('No file was given, expected one such as falls.csv, or -.')
  if (extra !== undefined) throw usage(`There is a second file, "${extra}", expected one.`)
  const columns = {
    ...(values.date === undefined ? {} : { at: values.date }),
    ...(values.value === undefined ? {} : { value: values.value }),
    ...(values.numerator === undefined ? {} : { numerator: values.numerator }),
    ...(values.denominator === undefined ? {} : { denominator: values.denominator }),
  }
  const dateOrder = oneOf('date-order', values['date-order'], ['day-first', 'month-first'])
  const decimalMark = oneOf('decimal', values.decimal, ['point', 'comma'])
  return {
    file,
    kind: oneOf('kind', values.kind, CHART_KINDS) ?? 'auto',
    ruleSet: oneOf('rules', values.rules, RULE_SETS),
    phases: (values.phase ?? []).map((date) => placeFrom('phase', date, dateOrder)),
    frozen: values.frozen === undefined ? null : placeFrom('frozen', values.frozen, dateOrder),
    better: oneOf('better', values.better, ['up', 'down']),
    goal: values.goal ?? null,
    per: numberFrom('per', values.per, 1, Number.MIN_VALUE, 1e9),
    title: values.title ?? null,
    table: {
      rowNumbers: 'allow',
      columns,
      valueFormat: values.durations ? 'duration' : 'number',
      ...(dateOrder === null ? {} : { dateOrder }),
      ...(decimalMark === null ? {} : { decimalMark }),
    },
    out: values.out === undefined ? null : { path: values.out, format: formatOf(values.out) },
    width: Math.round(numberFrom('width', values.width, 1200, 320, 3840)),
    dark: values.dark === true,
    json: values.json === true,
  }
}

function parse(args: readonly string[]) {
  try {
    return parseArgs({
      args: [...args],
      allowPositionals: true,
      options: {
        kind: text,
        rules: text,
        phase: { type: 'string', multiple: true },
        frozen: text,
        better: text,
        goal: text,
        per: text,
        title: text,
        date: text,
        value: text,
        numerator: text,
        denominator: text,
        'date-order': text,
        decimal: text,
        durations: flag,
        out: text,
        width: text,
        dark: flag,
        json: flag,
        help: { type: 'boolean', short: 'h' },
      },
    })
  } catch (error) {
    throw usage((error as Error).message.split('. ')[0]!.replace(/\.?$/, '.'))
  }
}

function usage(message: string): AppError {
  return new AppError('command.usage', message, 'pawl chart --help lists what there is.')
}

function oneOf<T extends string>(
  name: string,
  value: string | undefined,
  choices: readonly T[],
): T | null {
  if (value === undefined) return null
  const found = choices.find((choice) => choice === value)
  if (found !== undefined) return found
  throw usage(`--${name} cannot be "${value}", expected one of ${choices.join(', ')}.`)
}

function numberFrom(
  name: string,
  value: string | undefined,
  otherwise: number,
  least: number,
  most: number,
): number {
  if (value === undefined) return otherwise
  const reading = readNumber(value.replaceAll(',', ''))
  if (reading.kind === 'number' && reading.value >= least && reading.value <= most)
    return reading.value
  const from = least === Number.MIN_VALUE ? 'more than 0' : `from ${least}`
  throw usage(`--${name} cannot be "${value}", expected a number ${from} to ${most}.`)
}

function placeFrom(name: string, value: string, order: 'day-first' | 'month-first' | null): string {
  const reading = readDate(value)
  if (reading.kind === 'either' && order !== null)
    return order === 'day-first' ? reading.dayFirst : reading.monthFirst
  if (reading.kind === 'bad' || reading.kind === 'either')
    throw usage(
      `--${name} cannot be "${value}", expected a date such as 2026-03-02, or a row number.`,
    )
  return reading.at
}

function formatOf(path: string): 'svg' | 'png' {
  const format = /\.(svg|png)$/i.exec(path)?.[1]?.toLowerCase()
  if (format === 'svg' || format === 'png') return format
  throw usage(`--out cannot be "${path}", expected a name that ends in .svg or .png.`)
}

import type { DataKind, Measure, MeasureRole } from '../../domain/record.ts'
import type { ChartKind, RuleSetId } from '../../stats/types.ts'

/** Data kinds as a person meets them: what one observation is, with examples. */
export const KIND_CHOICES: readonly {
  readonly kind: DataKind
  readonly label: string
  readonly example: string
}[] = [
  {
    kind: 'classified',
    label: 'So many of so many',
    example: 'Each item meets it or not: 31 of 42 summaries sent in time.',
  },
  {
    kind: 'single',
    label: 'One measured value at a time',
    example: 'Minutes to triage, one a day; seconds to lay out a tray.',
  },
  {
    kind: 'subgrouped',
    label: 'A few measured values at a time',
    example: 'Five charts audited each week, each with its score.',
  },
  {
    kind: 'counts',
    label: 'A count, with about the same chance every time',
    example: 'Falls a month on a ward whose bed-days hardly change.',
  },
  {
    kind: 'rates',
    label: 'A count over an area that changes',
    example: 'Infections in 812 line-days one month, 1,040 the next.',
  },
  {
    kind: 'cases-between',
    label: 'Cases between rare events',
    example: 'Operations since the last wound infection.',
  },
  {
    kind: 'time-between',
    label: 'Time between rare events',
    example: 'Days since the last fall with harm.',
  },
]

export const ROLE_CHOICES: readonly {
  readonly role: MeasureRole
  readonly label: string
  readonly hint: string
}[] = [
  { role: 'outcome', label: 'Outcome', hint: 'What it is all for: how patients or staff fare.' },
  { role: 'process', label: 'Process', hint: 'Whether the new way of working is done.' },
  {
    role: 'balancing',
    label: 'Balancing',
    hint: 'What must not get worse meanwhile; a stop rule watches one of these.',
  },
]

export const CHART_NAMES: Readonly<Record<ChartKind, string>> = {
  run: 'Run chart',
  individuals: 'Individuals chart',
  'moving-range': 'Moving range chart',
  'xbar-s': 'X-bar and S chart',
  'xbar-r': 'X-bar and R chart',
  p: 'P chart',
  'p-prime': 'P′ chart',
  c: 'C chart',
  u: 'U chart',
  'u-prime': 'U′ chart',
  g: 'G chart',
  t: 'T chart',
  ewma: 'EWMA chart',
  cusum: 'CUSUM chart',
}

/** Charts that the columns of each data kind can feed, the usual one first. */
export const CHARTS_FOR: Readonly<Record<DataKind, readonly ChartKind[]>> = {
  single: ['individuals', 'run'],
  subgrouped: ['xbar-s', 'xbar-r', 'run'],
  classified: ['p', 'p-prime', 'run'],
  counts: ['c', 'run'],
  rates: ['u', 'u-prime', 'run'],
  'cases-between': ['g', 'run'],
  'time-between': ['t', 'run'],
}

/** Rule sets that suit a chart: run chart rules need no limits, the others do. */
export function ruleSetsFor(kind: ChartKind): readonly RuleSetId[] {
  return kind === 'run'
    ? ['run-classic', 'run-length-adjusted', 'none']
    : ['shewhart-healthcare', 'zone-tests', 'eight-tests', 'none']
}

/** One sentence on what a measure is. */
export function kindSentence(measure: Measure): string {
  const choice = KIND_CHOICES.find(({ kind }) => kind === measure.dataKind)
  const better =
    measure.better === null
      ? 'Neither direction is better by itself.'
      : `Better is ${measure.better}.`
  const role = measure.role[0]!.toUpperCase() + measure.role.slice(1)
  return `${role} measure; ${choice?.label.toLowerCase() ?? measure.dataKind}. ${better}`
}

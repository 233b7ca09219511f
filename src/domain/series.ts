import { analyze } from '../stats/analyze.ts'
import type { Analysis, ChartKind, RuleSetId, Series } from '../stats/types.ts'
import type { DataKind, Measure, Observation, Phase } from './record.ts'

/** Observations of a measure as the columns that the statistics take. */
export interface MeasureSeries {
  readonly series: Series
  /** For each point, the observations it is made of. */
  readonly observations: readonly (readonly Observation[])[]
}

/**
 * A measure's observations as a series: in time order, one point a date (or date-time).
 *
 * Rows that share a date become one point: numerators and denominators are added up; subgrouped
 * values stay together as a subgroup; single values, counts and gaps between events are averaged
 * (counts added up), since one moment has one place on the axis. A point is left out when every one
 * of its rows is, and shows that reason; otherwise left-out rows simply do not count towards it.
 *
 * @param measure      Decides which columns count.
 * @param observations In any order.
 */
export function seriesOf(
  measure: Pick<Measure, 'dataKind'>,
  observations: readonly Observation[],
): MeasureSeries {
  const byDate = new Map<string, Observation[]>()
  for (const o of observations) {
    const rows = byDate.get(o.at)
    if (rows === undefined) byDate.set(o.at, [o])
    else rows.push(o)
  }
  const at = [...byDate.keys()].sort(compareMoments)
  const groups = at.map((date) => byDate.get(date)!)
  const leftOut: { index: number; reason: string }[] = []
  const counted = groups.map((rows, index) => {
    const kept = rows.filter((o) => o.leftOutReason === null)
    if (kept.length > 0) return kept
    leftOut.push({ index, reason: rows[0]!.leftOutReason ?? '' })
    return rows
  })

  const series: Series = { at, leftOut, ...columns(measure.dataKind, counted) }
  return { series, observations: groups }
}

function columns(kind: DataKind, groups: readonly (readonly Observation[])[]): Partial<Series> {
  switch (kind) {
    case 'classified':
    case 'rates':
      return {
        numerators: groups.map((rows) => sum(rows.map((o) => o.numerator))),
        denominators: groups.map((rows) => sum(rows.map((o) => o.denominator))),
      }
    case 'subgrouped':
      return {
        subgroups: groups.map((rows) => {
          const values = rows.map((o) => o.value).filter((v) => v !== null)
          return values.length > 0 ? values : null
        }),
      }
    case 'counts':
      return { values: groups.map((rows) => sum(rows.map((o) => o.value))) }
    case 'single':
    case 'cases-between':
    case 'time-between':
      return { values: groups.map((rows) => mean(rows.map((o) => o.value))) }
  }
}

/** Missing when any part is: half a week's total is not a total. */
function sum(parts: readonly (number | null)[]): number | null {
  let total = 0
  for (const part of parts) {
    if (part === null) return null
    total += part
  }
  return total
}

function mean(parts: readonly (number | null)[]): number | null {
  const known = parts.filter((v) => v !== null)
  return known.length > 0 ? known.reduce((a, b) => a + b, 0) / known.length : null
}

/** The Shewhart chart that suits each data kind (METHODS 3). */
const CHART_FOR: Readonly<Record<DataKind, ChartKind>> = {
  single: 'individuals',
  subgrouped: 'xbar-s',
  classified: 'p',
  counts: 'c',
  rates: 'u',
  'cases-between': 'g',
  'time-between': 't',
}

/** The chart of a measure: the one chosen for it, else the one that suits its data kind. */
export function chartKindOf(measure: Pick<Measure, 'dataKind' | 'chartKind'>): ChartKind {
  return measure.chartKind === 'auto' ? CHART_FOR[measure.dataKind] : measure.chartKind
}

/** The rule set of a measure: the one chosen for it, else the usual one, as in `analyze`. */
export function ruleSetOf(measure: Pick<Measure, 'dataKind' | 'chartKind' | 'ruleSet'>): RuleSetId {
  if (measure.ruleSet !== 'auto') return measure.ruleSet
  return chartKindOf(measure) === 'run' ? 'run-length-adjusted' : 'shewhart-healthcare'
}

/**
 * The analysis of a measure as every page shows it: its chart, rule set and phases on its data.
 *
 * @returns `null` while the measure has no observation.
 * @throws AppError whatever `analyze` throws for data that its chart cannot take.
 */
export function analysisOf(data: {
  readonly measure: Measure
  readonly observations: readonly Observation[]
  readonly phases: readonly Phase[]
}): Analysis | null {
  const { measure, observations, phases } = data
  if (observations.length === 0) return null
  const { series } = seriesOf(measure, observations)
  const first = series.at[0]!
  return analyze(series, {
    kind: chartKindOf(measure),
    ruleSet: ruleSetOf(measure),
    better: measure.better,
    per: measure.per,
    phases: phases
      .map((p) => ({ at: p.startsAt ?? first, frozenThrough: p.frozenThrough, reason: p.reason }))
      .sort((a, b) => compareMoments(a.at, b.at)),
  })
}

/**
 * Order of two places on a time axis: ISO dates as text, plain row numbers as numbers.
 *
 * @returns Negative when `a` is earlier, positive when later, 0 when equal.
 *
 * @example
 * compareMoments('9', '10') // => -1
 */
export function compareMoments(a: string, b: string): number {
  if (ROW_NUMBER.test(a) && ROW_NUMBER.test(b)) return Number(a) - Number(b)
  return a < b ? -1 : a > b ? 1 : 0
}

const ROW_NUMBER = /^\d{1,9}$/

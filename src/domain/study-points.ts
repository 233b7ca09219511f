import type { Measure, Observation } from './record.ts'
import { compareMoments } from './series.ts'

/** One point of a comparison: a value, or a count out of an area. */
export interface StudyPoint {
  readonly at: string
  /** In the chart's unit: share, rate per `per`, mean of a subgroup, value. */
  readonly value: number
  /** Events or items with the feature; for gaps between events 1; `null` for measured values. */
  readonly numerator: number | null
  /** Items, area, or the gap itself; 1 for counts. */
  readonly denominator: number
}

/** How two stretches of a measure are compared. */
export type Scale = 'share' | 'rate' | 'gap' | 'value'

/** @returns The scale of a measure's data kind. */
export function scaleOf(measure: Pick<Measure, 'dataKind'>): Scale {
  switch (measure.dataKind) {
    case 'classified':
      return 'share'
    case 'counts':
    case 'rates':
      return 'rate'
    case 'cases-between':
    case 'time-between':
      return 'gap'
    case 'single':
    case 'subgrouped':
      return 'value'
  }
}

/**
 * Observations as the points that are compared, in time order: shares, rates, counts and subgroups
 * one a date, single values and gaps between events one each. Left-out rows and gaps are not there.
 *
 * @param observations In any order.
 */
export function studyPoints(
  measure: Pick<Measure, 'dataKind' | 'per'>,
  observations: readonly Observation[],
): StudyPoint[] {
  const scale = scaleOf(measure)
  const alone = measure.dataKind === 'single' || scale === 'gap'
  const groups = new Map<string, { at: string; top: number; bottom: number; n: number }>()
  for (const o of observations) {
    const paired = measure.dataKind === 'classified' || measure.dataKind === 'rates'
    const top = paired ? o.numerator : o.value
    const bottom = paired ? o.denominator : 1
    if (o.leftOutReason !== null || top === null || bottom === null || bottom <= 0) continue
    const key = alone ? `${o.at} ${o.id}` : o.at
    const group = groups.get(key) ?? { at: o.at, top: 0, bottom: 0, n: 0 }
    groups.set(key, {
      at: o.at,
      top: group.top + top,
      bottom: group.bottom + bottom,
      n: group.n + 1,
    })
  }
  return [...groups.values()]
    .sort((a, b) => compareMoments(a.at, b.at))
    .map(({ at, top, bottom, n }) => {
      if (scale === 'share') return { at, value: top / bottom, numerator: top, denominator: bottom }
      if (scale === 'rate') {
        const area = measure.dataKind === 'rates' ? bottom : 1
        const per = measure.dataKind === 'rates' ? measure.per : 1
        return { at, value: (top / area) * per, numerator: top, denominator: area }
      }
      if (scale === 'gap') return { at, value: top, numerator: 1, denominator: top }
      return { at, value: top / n, numerator: null, denominator: 1 }
    })
}

/**
 * Which part of its season each point belongs to, where the points come daily (weekday), monthly
 * (month) or quarterly.
 *
 * @returns `null` where the points have no such rhythm, or carry no dates.
 */
export function seasonOf(
  points: readonly StudyPoint[],
): { readonly period: number; readonly parts: readonly number[] } | null {
  const days = points.map(({ at }) => Date.parse(at.slice(0, 10)) / 86_400_000)
  if (points.length < 8 || days.some((day) => !Number.isFinite(day))) return null
  const steps = days.slice(1).map((day, i) => day - days[i]!)
  const share = (low: number, high: number) =>
    steps.filter((step) => step >= low && step <= high).length / steps.length
  const month = (at: string) => Number(at.slice(5, 7)) - 1
  if (share(1, 1) > 0.8) return { period: 7, parts: days.map((day) => ((day % 7) + 7) % 7) }
  if (share(28, 31) > 0.8) return { period: 12, parts: points.map(({ at }) => month(at)) }
  if (share(89, 93) > 0.8)
    return { period: 4, parts: points.map(({ at }) => Math.floor(month(at) / 3)) }
  return null
}

import { fTails } from '../stats/special/f-distribution.ts'
import { whiten } from './step-whiten.ts'
import type { seasonOf } from './study-points.ts'

type Columns = readonly (readonly number[])[]

const LIKENESSES = [0, 0.15, 0.3, 0.45, 0.6, 0.75, 0.9]

/**
 * Columns that describe a season the baseline plainly shows, from two rounds on: of months one yearly
 * wave where that is enough, else the mean of each part. F tests that
 * allow for likeness: 5 % for the wave, weekdays and quarters, 1 % for twelve months one by one.
 *
 * @param rhythm What `seasonOf` made of the dates.
 * @param y      All points, on a scale where they spread alike.
 * @param first  How many belong to the baseline.
 * @returns Empty where no season shows, or there are fewer than two rounds of it.
 */
export function seasonColumns(
  rhythm: ReturnType<typeof seasonOf>,
  y: readonly number[],
  first: number,
): Columns {
  if (rhythm === null || first < 2 * rhythm.period) return []
  const { period, parts } = rhythm
  const distinct = [...new Set(parts)].sort((a, b) => a - b)
  const means = distinct.slice(1).map((part) => parts.map((p) => Number(p === part)))
  const wave = [Math.cos, Math.sin].map((f) => parts.map((p) => f((2 * Math.PI * p) / period)))
  const baseline = Float64Array.from(y.slice(0, first))
  const cut = (columns: Columns) => [
    baseline.map(() => 1),
    baseline.map((_, i) => i / first - 0.5),
    ...columns.map((c) => Float64Array.from(c.slice(0, first))),
    baseline,
  ]
  const helps = (less: Columns, more: Columns, level: number) => {
    const free = first - more.length - 2
    if (free < 1) return false
    // A drift is no season, and points that are alike swing by themselves: both fits allow for that.
    let best = -Infinity
    let small = 0
    let large = 0
    for (const r of LIKENESSES) {
      const withSeason = whiten(cut(more), r, 1)
      const without = whiten(cut(less), r, 1)
      if (withSeason === null || without === null) return false
      const fit = -withSeason.logDet / 2 - (free / 2) * Math.log(withSeason.rest)
      if (fit <= best) continue
      best = fit
      small = without.rest
      large = withSeason.rest
    }
    const added = more.length - less.length
    if (large <= 1e-12 * small) return small > 0
    return fTails((small - large) / added / (large / free), added, free).upper < level
  }
  if (period !== 12) return helps([], means, 0.05) ? means : []
  if (!helps([], wave, 0.05)) return helps([], means, 0.01) ? means : []
  return helps(wave, means, 0.01) ? means : wave
}

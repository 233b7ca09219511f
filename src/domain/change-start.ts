import { changePoint } from '../stats/change-point.ts'
import type { EffectPoint, Shift } from './effect.ts'
import { compareMoments } from './series.ts'

/** Where a single step most likely began, held against what is on record. */
export interface ChangeStart {
  /** First point after the most likely place of the step. */
  readonly at: string
  /** The step may have begun after this point … */
  readonly after: string
  /** … and up to this one. */
  readonly through: string
  readonly meanBefore: number
  readonly meanAfter: number
  /** The places that fit nearly as well are more than half of all: the data do not say when. */
  readonly unclear: boolean
  /** Shifts on record that began within the stretch, in order of date. */
  readonly within: readonly Shift[]
  /** The shift nearest to the most likely place, where none is within. */
  readonly nearest: Shift | null
}

/**
 * Where a step most likely began, if there was one step and nothing else, with the stretch the data
 * do not rule out at 95 %. It says when, not whether.
 *
 * @param points At least 4, in time order.
 * @param shifts What is on record, in any order.
 * @throws AppError `stats.constant` where the points do not vary, `stats.too_few_points`.
 *
 * @see Hinkley (1970), Biometrika 57:1; Siegmund (1988), Int Stat Rev 56:31.
 */
export function changeStart(points: readonly EffectPoint[], shifts: readonly Shift[]): ChangeStart {
  const found = changePoint(points.map((p) => p.value))
  const first = found.confidenceSet[0]!
  const last = found.confidenceSet.at(-1)!
  const at = points[found.at]!.at
  const after = points[first - 1]!.at
  const through = points[last]!.at
  const sorted = [...shifts].sort((a, b) => compareMoments(a.at, b.at))
  const within = sorted.filter(
    (s) => compareMoments(s.at, after) > 0 && compareMoments(s.at, through) <= 0,
  )
  const distance = (s: Shift) => Math.abs(Date.parse(s.at) - Date.parse(at))
  const nearest = [...sorted].sort((a, b) => distance(a) - distance(b))[0] ?? null
  return {
    at,
    after,
    through,
    meanBefore: found.before,
    meanAfter: found.after,
    unclear: last - first + 1 > points.length / 2,
    within,
    nearest: within.length > 0 ? null : nearest,
  }
}

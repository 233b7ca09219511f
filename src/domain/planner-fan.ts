import { normalQuantile } from '../stats/special/normal.ts'
import type { PlannerBaseline } from './planner-baseline.ts'

/** Where the mean of the first t points lies 8 times in 10, t = 1 … n. */
export interface Fan {
  readonly lower: readonly number[]
  readonly upper: readonly number[]
}

/**
 * The middle 80 % of the mean of the first t points, about a level that holds: normal, with the
 * standard error of counts at that level where the points are counted.
 *
 * `level ± z(0.9) · sigma(level) / √t`; shares stay within 0 and 1, counts at 0 or above. For times
 * and cases between events sigma is the mean itself (exponential).
 *
 * @param level In the chart's unit.
 * @param n     Points, 1 or more.
 *
 * @example
 * fanOf({ model: { kind: 't' } }, 0, 1) // => { lower: [0], upper: [0] }
 */
export function fanOf(baseline: Pick<PlannerBaseline, 'model'>, level: number, n: number): Fan {
  const sigma = sigmaAt(baseline.model, level)
  const z = normalQuantile(0.9)
  const { kind } = baseline.model
  const low = kind === 'normal' ? -Infinity : 0
  const high = kind === 'p' ? 1 : Infinity
  const half = Array.from({ length: n }, (_, i) => (z * sigma) / Math.sqrt(i + 1))
  return {
    lower: half.map((h) => Math.max(low, level - h)),
    upper: half.map((h) => Math.min(high, level + h)),
  }
}

function sigmaAt(model: PlannerBaseline['model'], level: number): number {
  switch (model.kind) {
    case 'normal':
      return model.sigma
    case 't':
    case 'g':
      return level
    case 'p':
    case 'u': {
      const usual = model.denominators.reduce((a, b) => a + b, 0) / model.denominators.length
      return Math.sqrt((model.kind === 'p' ? level * (1 - level) : level) / usual)
    }
  }
}

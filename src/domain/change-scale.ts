import { GAP_VARIANCE, gapRoots } from './change-published.ts'
import type { ChanceSpread } from './step-model.ts'
import type { Scale, StudyPoint } from './study-points.ts'

/** How likely it is, before the data speak, that counts and gaps spread by chance alone (docs/decisions/09). */
export const BY_CHANCE = 1 / 2

/** Points on a scale where they spread alike: arcsine and square root have variance ¼ ÷ size. */
export function rootScale(
  scale: Scale,
  logs: boolean,
  points: readonly StudyPoint[],
): { y: number[]; weights: number[]; chance: ChanceSpread | null } {
  const sizes = points.map(({ denominator }) => denominator)
  if (scale === 'share')
    return {
      y: points.map((p) => Math.asin(Math.sqrt((p.numerator! + 3 / 8) / (p.denominator + 3 / 4)))),
      weights: sizes,
      chance: { variance: 0.25, likely: BY_CHANCE },
    }
  if (scale === 'rate')
    return {
      y: points.map((p) => Math.sqrt((p.numerator! + 3 / 8) / p.denominator)),
      weights: sizes,
      chance: { variance: 0.25, likely: BY_CHANCE },
    }
  const flat = { weights: sizes.map(() => 1), chance: null }
  if (scale === 'gap') {
    const y = gapRoots(points)
    const mean = y.reduce((sum, v) => sum + v, 0) / y.length
    const chance = { variance: GAP_VARIANCE, likely: BY_CHANCE }
    if (mean > 0) return { ...flat, y: y.map((v) => v / mean), chance }
    return { ...flat, y }
  }
  return { ...flat, y: points.map((p) => (logs ? Math.log(p.value) : p.value)) }
}

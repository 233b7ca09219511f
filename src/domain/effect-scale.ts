import type { EffectPoint } from './effect.ts'
import type { Measure } from './record.ts'

/** A scale on which lines stay within what a measure can be, and its way back. */
export interface EffectScale {
  readonly name: 'plain' | 'log' | 'logit'
  readonly forward: (point: EffectPoint) => number
  readonly back: (scaled: number) => number
}

/** Half an event keeps a count of none on the scale (Cox 1970, Analysis of Binary Data, for logits). */
const HALF = 0.5

/**
 * The scale lines are fitted on: log odds for shares, logs for rates, counts and durations, the
 * plain values for everything else and where a log has no meaning.
 *
 * @param points With the numerators and denominators behind their values, where there are any.
 */
export function effectScale(
  measure: Pick<Measure, 'dataKind' | 'valueFormat' | 'per'>,
  points: readonly EffectPoint[],
): EffectScale {
  const { dataKind, valueFormat, per } = measure
  if (dataKind === 'classified')
    return {
      name: 'logit',
      forward: ({ value, numerator, denominator }) => {
        const n = denominator ?? 1
        const yes = numerator ?? value * n
        return Math.log((yes + HALF) / (n - yes + HALF))
      },
      back: (x) => 1 / (1 + Math.exp(-x)),
    }
  if (dataKind === 'rates')
    return {
      name: 'log',
      forward: ({ value, numerator, denominator }) => {
        const area = denominator ?? 1
        return Math.log((((numerator ?? (value / per) * area) + HALF) / area) * per)
      },
      back: Math.exp,
    }
  if (dataKind === 'counts')
    return { name: 'log', forward: ({ value }) => Math.log(value + HALF), back: Math.exp }
  if (valueFormat === 'duration' && points.every(({ value }) => value > 0))
    return { name: 'log', forward: ({ value }) => Math.log(value), back: Math.exp }
  return { name: 'plain', forward: ({ value }) => value, back: (x) => x }
}

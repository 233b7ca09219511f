import type { EffectChartSpec } from './effect-chart.ts'
import { dateText, isRowNumber, valueText } from './format.ts'

/**
 * What each point of an effect chart says when it is read out: its date and value, the fitted line,
 * and after the break where the line before would have been, with its interval.
 *
 * @param spec The chart; its size does not matter.
 * @returns One sentence a point, in time order.
 */
export function effectSentences(
  spec: Pick<EffectChartSpec, 'points' | 'fitted' | 'breakAt' | 'projected' | 'format'>,
): string[] {
  const { points, fitted, projected } = spec
  const text = valueText(spec.format, [...points.map((p) => p.value), ...fitted])
  const carried = new Map(projected.map((p) => [p.at, p]))
  return points.map(({ at, value }, i) => {
    const when = isRowNumber(at) ? `Row ${dateText(at)}` : dateText(at)
    const parts = [`${when}: ${text.value(value)}`, `fitted line ${text.center(fitted[i]!)}`]
    const before = i < spec.breakAt ? undefined : carried.get(at)
    if (before !== undefined)
      parts.push(
        `line before, carried on ${text.center(before.value)} (95 % interval ${text.center(before.low)} to ${text.center(before.high)})`,
      )
    return `${parts.join('; ')}.`
  })
}

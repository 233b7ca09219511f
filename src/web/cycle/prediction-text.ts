import type { Measure, Prediction } from '../../domain/record.ts'
import { formatValue } from '../../domain/value-text.ts'
import { unitOf } from '../measure/measure-chart.ts'

type Said = Pick<Prediction, 'expected' | 'low' | 'high' | 'confidence'>

/** A prediction as one sentence; what is missing or the wrong way round is said as well. */
export function predictionText(
  measure: Pick<Measure, 'dataKind' | 'valueFormat' | 'unitLabel' | 'per'>,
  { expected, low, high, confidence }: Said,
): string {
  const show = (value: number | null) => formatValue(measure, value)
  const unit = unitOf(measure)
  const after = unit === '' ? '' : ` ${unit}`
  if (expected === null && low === null && high === null) return 'Nothing predicted yet.'
  if (low === null || high === null) {
    return expected === null
      ? 'The range needs a lowest and a highest value.'
      : `${show(expected)}${after} expected; the range is still open.`
  }
  if (low > high) return `The lowest value, ${show(low)}, is above the highest, ${show(high)}.`
  const sure = `${formatValue({ dataKind: 'classified', valueFormat: 'number' }, confidence)} sure`
  const range = `${show(low)} to ${show(high)}${after}, ${sure}`
  if (expected === null) return `${range}. The expected value is still open.`
  if (expected < low || expected > high) {
    return `${range}; but the expected value, ${show(expected)}, lies outside that range.`
  }
  return `${range}; ${show(expected)} expected.`
}

import type { Change } from './change.ts'
import type { Measure } from './record.ts'
import { formatNumber, formatValue } from './value-text.ts'

type Kind = Pick<Measure, 'dataKind' | 'valueFormat'>

/** An end of an interval as a size and a side; `null` size: the data set no bound. */
function sized(kind: Change['kind'], value: number, measure: Kind) {
  if (!Number.isFinite(value) || (kind === 'ratio' && value <= 0))
    return {
      size: null,
      side: kind === 'ratio' && value <= 0 ? 'lower' : value > 0 ? 'higher' : 'lower',
    }
  if (kind === 'difference') {
    const side = value < 0 ? 'lower' : 'higher'
    const size = Math.abs(value)
    if (measure.dataKind === 'classified') return { size: formatNumber(round(size * 100)), side }
    return { size: formatValue(measure, size), side }
  }
  if (value >= 2) return { size: formatNumber(value, value < 10 ? 1 : 0), side: 'times' }
  return {
    size: formatNumber(round(Math.abs(value - 1) * 100)),
    side: value < 1 ? 'lower' : 'higher',
  }
}

const round = (percent: number) =>
  percent < 10 ? Math.round(percent * 10) / 10 : Math.round(percent)

function unitFor(kind: Change['kind'], measure: Kind): string {
  if (kind === 'ratio') return ' %'
  return measure.dataKind === 'classified' ? ' points' : ''
}

/**
 * A change in words: "18 % lower", "25 points higher", "2.4 times as high".
 *
 * @example
 * changeSize('ratio', 0.82, { dataKind: 'single', valueFormat: 'number' }) // => '18 % lower'
 * changeSize('difference', 0.25, { dataKind: 'classified', valueFormat: 'number' }) // => '25 points higher'
 */
export function changeSize(kind: Change['kind'], value: number, measure: Kind): string {
  const { size, side } = sized(kind, value, measure)
  if (size === null) return side === 'lower' ? 'any amount lower' : 'any amount higher'
  if (side === 'times') return `${size} times as high`
  if (Number(size.replace(/,/g, '')) === 0) return 'no different'
  return `${size}${unitFor(kind, measure)} ${side}`
}

/**
 * An interval of a change in words, the end nearer to no change first: "7 to 41 points higher",
 * "5 % lower to 20 % higher".
 *
 * @example
 * changeRange('ratio', { lower: 0.79, upper: 0.85 }, { dataKind: 'single', valueFormat: 'number' }) // => '15 to 21 % lower'
 */
export function changeRange(
  kind: Change['kind'],
  interval: { readonly lower: number; readonly upper: number },
  measure: Kind,
): string {
  const a = sized(kind, interval.lower, measure)
  const b = sized(kind, interval.upper, measure)
  const unit = unitFor(kind, measure)
  if (a.size !== null && b.size !== null && a.side === b.side) {
    if (a.side === 'times') return `${a.size} to ${b.size} times as high`
    return a.side === 'lower'
      ? `${b.size} to ${a.size}${unit} lower`
      : `${a.size} to ${b.size}${unit} higher`
  }
  return `${changeSize(kind, interval.lower, measure)} to ${changeSize(kind, interval.upper, measure)}`
}

/** Whether an interval holds nothing but infinite ends. */
export function isUnbounded(
  kind: Change['kind'],
  { lower, upper }: { readonly lower: number; readonly upper: number },
): boolean {
  return upper === Infinity && (kind === 'ratio' ? lower <= 0 : lower === -Infinity)
}

import { formatDuration } from './duration.ts'
import type { Experiment, ExperimentFactor } from './experiment-record.ts'
import type { Measure } from './record.ts'
import { formatNumber, formatValue } from './value-text.ts'

/** How values of a response are read and written. */
type Response = Pick<Experiment, 'responseKind' | 'unitLabel'>

/**
 * A response as the kinds that values are read and written by.
 *
 * @example
 * responseStyle('share') // => { dataKind: 'classified', valueFormat: 'number' }
 */
export function responseStyle(
  kind: Experiment['responseKind'],
): Pick<Measure, 'dataKind' | 'valueFormat'> {
  return {
    dataKind: kind === 'share' ? 'classified' : 'single',
    valueFormat: kind === 'duration' ? 'duration' : 'number',
  }
}

/**
 * A response with its unit.
 *
 * @example
 * responseText({ responseKind: 'number', unitLabel: 'minutes' }, 12.5) // => '12.5 minutes'
 */
export function responseText({ responseKind, unitLabel }: Response, value: number): string {
  const text = formatValue(responseStyle(responseKind), value)
  const unit = responseKind === 'number' ? unitLabel.trim() : ''
  return unit === '' ? text : `${text} ${unit}`
}

/**
 * The size of a difference, without its direction; shares differ by points, times by seconds.
 *
 * @example
 * sizeText({ responseKind: 'share', unitLabel: '' }, -0.18) // => '18 points'
 * sizeText({ responseKind: 'duration', unitLabel: '' }, -7.42) // => '7.4 seconds'
 */
export function sizeText(response: Response, difference: number): string {
  const size = Math.abs(difference)
  const counted = (n: number, unit: string) => `${formatNumber(n)} ${n === 1 ? unit : `${unit}s`}`
  switch (response.responseKind) {
    case 'share':
      return counted(Number((size * 100).toPrecision(3)), 'point')
    case 'duration': {
      const seconds = Math.round(size * 10) / 10
      return seconds < 60 ? counted(seconds, 'second') : formatDuration(seconds)
    }
    case 'number':
      return responseText(response, size)
  }
}

/**
 * The word for a difference in this direction.
 *
 * @example
 * directionText('duration', -3) // => 'shorter'
 */
export function directionText(kind: Experiment['responseKind'], difference: number): string {
  if (kind === 'duration') return difference < 0 ? 'shorter' : 'longer'
  return difference < 0 ? 'lower' : 'higher'
}

/**
 * A difference in words.
 *
 * @example
 * differenceText({ responseKind: 'number', unitLabel: 'minutes' }, -3) // => '3 minutes lower'
 */
export function differenceText(response: Response, difference: number): string {
  if (difference === 0) return 'no different'
  return `${sizeText(response, difference)} ${directionText(response.responseKind, difference)}`
}

/**
 * An effect by the names of its changes.
 *
 * @param effect  Letters, such as `AB`.
 * @param factors In the order of their letters.
 */
export function effectName(effect: string, factors: readonly ExperimentFactor[]): string {
  const names = [...effect].map((letter) => factorOf(letter, factors)?.name.trim() ?? letter)
  return names.length < 3 ? names.join(' with ') : `${listOf(names)} together`
}

const LETTERS = 'ABCDEFG'

/**
 * The letter a factor has in its design, by its place in the order.
 *
 * @example
 * letterOf(2) // => 'C'
 */
export const letterOf = (index: number): string => LETTERS[index] ?? '?'

/** The factor of a letter. */
export const factorOf = (
  letter: string,
  factors: readonly ExperimentFactor[],
): ExperimentFactor | undefined => factors[LETTERS.indexOf(letter)]

/**
 * The level of one factor in words.
 *
 * @param sign `+`, `-` or `0`.
 */
export function levelText(factor: ExperimentFactor, sign: string): string {
  return sign === '+' ? factor.high : sign === '-' ? factor.low : factor.middle
}

/**
 * Parts of a sentence in a row.
 *
 * @example
 * listOf(['a', 'b', 'c']) // => 'a, b and c'
 */
export function listOf(parts: readonly string[]): string {
  return parts.length < 2 ? parts.join('') : `${parts.slice(0, -1).join(', ')} and ${parts.at(-1)}`
}

/**
 * Run numbers in a row, neighbours drawn together.
 *
 * @example
 * runList([1, 2, 3, 7]) // => '1 to 3 and 7'
 */
export function runList(positions: readonly number[]): string {
  const spans: [number, number][] = []
  for (const position of positions) {
    const last = spans.at(-1)
    if (last !== undefined && last[1] === position - 1) last[1] = position
    else spans.push([position, position])
  }
  return listOf(
    spans.map(([from, to]) =>
      from === to ? `${from}` : to === from + 1 ? `${from}, ${to}` : `${from} to ${to}`,
    ),
  )
}

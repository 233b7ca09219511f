import { AppError } from '../errors.ts'
import { formatDuration, parseDuration } from './duration.ts'
import type { Measure } from './record.ts'

/** How a value of a measure is written: shares in percent, durations in m:ss, the rest as numbers. */
export type ValueStyle = 'percent' | 'duration' | 'number'

type Kind = Pick<Measure, 'dataKind' | 'valueFormat'>

/** @returns The style of a measure's values, its limits, goal and predictions. */
export function valueStyle(measure: Kind): ValueStyle {
  if (measure.dataKind === 'classified') return 'percent'
  return measure.valueFormat === 'duration' ? 'duration' : 'number'
}

export interface ValueReading {
  readonly value: number
  /** Another reading worth asking about (a stopwatch read without its colon); else `null`. */
  readonly perhaps: number | null
}

/**
 * The value somebody typed, in the chart's unit: `74 %` or `74` for a share gives 0.74; `1:02` for a
 * duration gives 62; `3,5` and `3.5` give 3.5.
 *
 * A share typed from 0 to 1 without a percent sign could mean either (0.5 is ½ % or one half):
 * it is read as percent, and `perhaps` holds the other reading.
 *
 * @throws AppError `value.unreadable`, `duration.unreadable`, `duration.sixty`.
 *
 * @example
 * parseValue({ dataKind: 'classified', valueFormat: 'number' }, '74 %').value // => 0.74
 */
export function parseValue(measure: Kind, text: string): ValueReading {
  const style = valueStyle(measure)
  if (style === 'duration') {
    const { seconds, perhaps } = parseDuration(text)
    return { value: seconds, perhaps }
  }
  const t = text.trim()
  const number = parseNumber(t.replace(/\s*%$/, ''))
  const hasPercent = t.endsWith('%')
  if (number === null || (hasPercent && style !== 'percent'))
    throw new AppError(
      'value.unreadable',
      `"${t}" is not a number Pawl can read.`,
      style === 'percent' ? 'Write a percentage such as 74 %.' : 'Write a number such as 3.5.',
      { text },
    )
  if (style !== 'percent') return { value: number, perhaps: null }
  const value = Number((number / 100).toPrecision(15))
  return { value, perhaps: !hasPercent && number > 0 && number <= 1 ? number : null }
}

/**
 * A number as people write it, or `null`. A single comma is a decimal comma; anything that could be
 * a thousands mark (`1,234`, `1.234,5`) is not guessed.
 *
 * @example
 * parseNumber('3,5') // => 3.5
 * parseNumber('1,234') // => null
 */
export function parseNumber(text: string): number | null {
  const t = text.trim().replace(/^[−–]/, '-')
  if (/^[-+]?(\d+\.?\d*|\.\d+)(e[-+]?\d+)?$/i.test(t)) {
    const value = Number(t)
    return Number.isFinite(value) ? value : null
  }
  const comma = /^([-+]?\d+),(\d+)$/.exec(t)
  return comma && comma[2]!.length !== 3 ? Number(`${comma[1]}.${comma[2]}`) : null
}

/**
 * A value as it is shown beside its measure.
 *
 * @param value  In the chart's unit; `null` reads as "–".
 * @param digits Decimals for numbers; by default as many as three figures need.
 *
 * @example
 * formatValue({ dataKind: 'classified', valueFormat: 'number' }, 0.7381) // => '74 %'
 * formatValue({ dataKind: 'single', valueFormat: 'duration' }, 62) // => '1:02'
 */
export function formatValue(measure: Kind, value: number | null, digits?: number): string {
  if (value === null) return '–'
  const style = valueStyle(measure)
  if (style === 'duration') return formatDuration(value)
  if (style === 'percent') return `${formatPercent(value, digits)} %`
  return formatNumber(value, digits)
}

/** Whole percents; below ten one decimal, where it says something. */
function formatPercent(value: number, digits?: number): string {
  const percent = Number((value * 100).toPrecision(13))
  if (digits !== undefined) return formatNumber(percent, digits)
  const places = Math.abs(percent) < 10 ? 10 : 1
  return formatNumber(Math.round(percent * places) / places)
}

/**
 * A number with as many decimals as three figures need, and no more.
 *
 * @example
 * formatNumber(50.8123) // => '50.8'
 * formatNumber(1234.5) // => '1,235'
 */
export function formatNumber(value: number, digits?: number): string {
  const size = Math.abs(value)
  const places = digits ?? (size >= 100 || Number.isInteger(value) ? 0 : size >= 10 ? 1 : 2)
  // 2.15 is a hair under 2.15 in binary; people round it up.
  const scaled = Math.round(Number((size * 10 ** places).toPrecision(13)))
  const fixed = (scaled / 10 ** places).toFixed(places)
  const trimmed = digits === undefined && places > 0 ? fixed.replace(/\.?0+$/, '') : fixed
  const [whole, rest] = trimmed.split('.')
  const grouped = whole!.replace(/\B(?=(\d{3})+$)/g, ',')
  const sign = value < 0 && Number(trimmed) !== 0 ? '−' : ''
  return sign + grouped + (rest === undefined ? '' : `.${rest}`)
}

/**
 * A value as it is written into a field, so that `parseValue` gives it back.
 *
 * @example
 * editableValue({ dataKind: 'classified', valueFormat: 'number' }, 0.745) // => '74.5 %'
 */
export function editableValue(measure: Kind, value: number | null): string {
  if (value === null) return ''
  const style = valueStyle(measure)
  if (style === 'percent') return `${Number((value * 100).toPrecision(12))} %`
  if (style !== 'duration') return String(value)
  return formatDuration(value).endsWith('.0') || Number.isInteger(value * 10)
    ? formatDuration(value)
    : `${value} s`
}

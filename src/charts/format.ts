import { utcFormat } from 'd3-time-format'
import type { ValueFormat } from './spec.ts'

/** The three ways a chart writes a value. */
export interface ValueText {
  /** On the axis: no more decimals than the steps need. */
  readonly axis: (value: number, step: number) => string
  /** A point. */
  readonly value: (value: number) => string
  /** A centre or limit: for counts, one decimal more than the counts have. */
  readonly center: (value: number) => string
}

/**
 * How one chart writes its values, with as many decimals as its own spread needs.
 *
 * @param format Style or own function.
 * @param values The chart's points, in the chart's unit.
 *
 * @example
 * valueText('percent', [0.2, 0.9]).value(0.738) // => '74\u00a0%'
 * valueText('number', [3, 5, 4]).center(4.1234) // => '4.1'
 */
export function valueText(format: ValueFormat, values: readonly number[]): ValueText {
  if (typeof format === 'function') return { axis: format, value: format, center: format }
  if (format === 'duration') {
    return { axis: durationText, value: durationText, center: durationText }
  }
  const factor = format === 'percent' ? 100 : 1
  const tail = format === 'percent' ? '\u00a0%' : ''
  let low = Infinity
  let high = -Infinity
  let decimals = 0
  for (const value of values) {
    low = Math.min(low, value)
    high = Math.max(high, value)
    if (format !== 'percent') decimals = Math.max(decimals, decimalsOf(value))
  }
  const spread = (high > low ? high - low : Math.abs(high) || 1) * factor
  const forSpread = decimalsFor(spread)
  const own = format === 'percent' ? forSpread : Math.min(decimals, forSpread + 1)
  const center =
    format === 'percent' ? own : Math.min(own + 1, Math.max(own, decimalsFor(spread / 10)))
  return {
    axis: (value, step) => numberText(value * factor, decimalsOf(step * factor)) + tail,
    value: (value) => numberText(value * factor, own) + tail,
    center: (value) => numberText(value * factor, center) + tail,
  }
}

/** Decimals with which the spread holds at least 40 steps. */
function decimalsFor(spread: number): number {
  if (!(spread > 0) || !Number.isFinite(spread)) return 0
  return Math.min(6, Math.max(0, Math.ceil(Math.log10(40 / spread))))
}

/** Decimals of a number as it is written, up to 6; noise of binary fractions is not counted. */
function decimalsOf(value: number): number {
  for (let d = 0; d < 6; d++) {
    const scaled = value * 10 ** d
    if (Math.abs(scaled - Math.round(scaled)) < 1e-6 * Math.max(1, Math.abs(scaled))) return d
  }
  return 6
}

/**
 * A number with grouped thousands.
 *
 * @param decimals 0 to 6.
 *
 * @example
 * numberText(1234.56, 1) // => '1,234.6'
 */
export function numberText(value: number, decimals: number): string {
  const size = Math.abs(value)
  if (size >= 1e15) return value.toExponential(2)
  const [whole, rest] = size.toFixed(decimals).split('.')
  const grouped = whole!.length > 3 ? whole!.replace(/\B(?=(\d{3})+$)/g, ',') : whole!
  const zero = Number(size.toFixed(decimals)) === 0
  return (value < 0 && !zero ? '−' : '') + grouped + (rest === undefined ? '' : `.${rest}`)
}

/**
 * Seconds as m:ss, with a tenth where there is one, and as h:mm:ss from one hour on.
 *
 * @param seconds Finite.
 *
 * @example
 * durationText(41.3) // => '0:41.3'
 * durationText(3600) // => '1:00:00'
 */
export function durationText(seconds: number): string {
  const tenths = Math.round(Math.abs(seconds) * 10)
  const whole = Math.floor(tenths / 10)
  const two = (n: number) => String(n).padStart(2, '0')
  const hours = Math.floor(whole / 3600)
  const minutes = Math.floor((whole % 3600) / 60)
  const tail = `${two(whole % 60)}${tenths % 10 === 0 ? '' : `.${tenths % 10}`}`
  const sign = seconds < 0 && tenths > 0 ? '−' : ''
  return sign + (hours > 0 ? `${hours}:${two(minutes)}:${tail}` : `${minutes}:${tail}`)
}

const DAY = utcFormat('%-d %b %Y')
const DAY_TIME = utcFormat('%-d %b %Y %H:%M')
const MONTH = utcFormat('%b %Y')
const ISO =
  /^(\d{4})-(\d{2})(?:-(\d{2})(?:[T ](\d{2}):(\d{2})(?::(\d{2})(?:\.\d+)?)?(?:Z|[+-]\d{2}:?\d{2})?)?)?$/

/**
 * Milliseconds of an ISO date or date-time in UTC (a month counts as its first day); `null` for
 * anything else.
 *
 * @example
 * instantOf('1970-01-02') // => 86400000
 * instantOf('12') // => null
 */
export function instantOf(at: string): number | null {
  // Most labels are plain dates, and these are read ten times as fast digit by digit.
  if (at.length === 10) return plainDate(at)
  if (!ISO.test(at)) return null
  const full = at.length === 7 ? `${at}-01` : at
  const zoned = full.length > 10 && !/(Z|[+-]\d{2}:?\d{2})$/.test(full) ? `${full}Z` : full
  const time = Date.parse(zoned.replace(' ', 'T'))
  return Number.isNaN(time) ? null : time
}

function plainDate(at: string): number | null {
  if (at.charCodeAt(4) !== DASH || at.charCodeAt(7) !== DASH) return null
  const year = digits(at, 0, 4)
  const month = digits(at, 5, 7)
  const day = digits(at, 8, 10)
  if (!(month >= 1 && month <= 12 && day >= 1 && day <= 31 && year >= 100)) return null
  const time = Date.UTC(year, month - 1, day)
  // 30 February runs over into March.
  return day <= 28 || new Date(time).getUTCDate() === day ? time : null
}

const DASH = 45
const ZERO = 48

/** NaN where a character is not a digit. */
function digits(text: string, from: number, to: number): number {
  let value = 0
  for (let i = from; i < to; i++) {
    const digit = text.charCodeAt(i) - ZERO
    if (digit < 0 || digit > 9) return Number.NaN
    value = value * 10 + digit
  }
  return value
}

/**
 * A place on the time axis as a reader sees it; row numbers and anything unknown stay as they are.
 *
 * @param at ISO date, date-time, month, or row number.
 *
 * @example
 * dateText('2026-06-08') // => '8 Jun 2026'
 * dateText('2026-06') // => 'Jun 2026'
 */
export function dateText(at: string): string {
  const time = instantOf(at)
  if (time === null) return at
  const date = new Date(time)
  if (at.length === 7) return MONTH(date)
  const midnight = at.length === 10 || time % 86_400_000 === 0
  return midnight ? DAY(date) : DAY_TIME(date)
}

const ISO_INSIDE = /\b\d{4}-\d{2}-\d{2}(?:T\d{2}:\d{2}[\d:.]*Z?)?/g

/**
 * A sentence with its ISO dates as a reader sees dates.
 *
 * @example
 * readableDates('2026-04-13 is below the lower limit.') // => '13 Apr 2026 is below the lower limit.'
 */
export function readableDates(sentence: string): string {
  return sentence.replace(ISO_INSIDE, dateText)
}

/**
 * Whether a label is a plain row number, and not a year.
 *
 * @example
 * isRowNumber('12') // => true
 * isRowNumber('1871') // => false
 */
export function isRowNumber(at: string): boolean {
  return /^\d+$/.test(at) && !/^(1[5-9]|2[01])\d\d$/.test(at)
}

/**
 * A stretch of time; what both ends share is said once.
 *
 * @example
 * rangeText('2026-02-02', '2026-05-31') // => '2 Feb to 31 May 2026'
 * rangeText('3', '9') // => '3 to 9'
 */
export function rangeText(from: string, to: string): string {
  if (from === to) return dateText(from)
  const sameYear =
    instantOf(from) !== null && instantOf(to) !== null && from.slice(0, 4) === to.slice(0, 4)
  const start = dateText(from)
  return `${sameYear ? start.replace(/ \d{4}(?=$| )/, '') : start} to ${dateText(to)}`
}

/**
 * A stretch of time in as few characters as say it, by month.
 *
 * @example
 * shortRangeText('2026-02-02', '2026-05-31') // => 'Feb–May 2026'
 */
export function shortRangeText(from: string, to: string): string {
  const a = instantOf(from)
  const b = instantOf(to)
  if (a === null || b === null) return from === to ? from : `${from}–${to}`
  const start = MONTH(new Date(a))
  const end = MONTH(new Date(b))
  if (start === end) return end
  return `${start.slice(-4) === end.slice(-4) ? start.slice(0, -5) : start}–${end}`
}

import { scaleLinear, scaleUtc } from 'd3-scale'
import { utcFormat } from 'd3-time-format'
import { instantOf } from './format.ts'

export interface TimeTick {
  readonly position: number
  readonly text: string
  /** The year, where it begins or where the axis begins; `''` elsewhere. */
  readonly year: string
}

export interface TimeAxis {
  /** Pixels of a label, or `null` where it is of another kind than the axis. */
  readonly position: (at: string) => number | null
  readonly ticks: (labelWidth: number) => readonly TimeTick[]
}

type Scale = 'time' | 'number' | 'order'

const NUMBER = /^-?\d+(\.\d+)?$/

/**
 * A time axis over labels: by the calendar where all are ISO dates, by value where all are plain
 * numbers, else one step a label in the order given.
 *
 * @param labels The chart's points in order, at least one.
 * @param others Labels that must be on the axis too (tests, events), where they are of its kind.
 * @param left   Pixels of the earliest place.
 * @param right  Pixels of the latest place, more than `left`.
 *
 * @example
 * timeAxis(['1', '2', '3'], [], 0, 100).position('2') // => 50
 */
export function timeAxis(
  labels: readonly string[],
  others: readonly string[],
  left: number,
  right: number,
): TimeAxis {
  const kind = kindOf(labels)
  const order = kind === 'order' ? new Map(labels.map((label, i) => [label, i])) : null
  const numberOf = (at: string): number | null => {
    if (order !== null) return order.get(at) ?? null
    return kind === 'time' ? instantOf(at) : NUMBER.test(at) ? Number(at) : null
  }
  let low = Infinity
  let high = -Infinity
  for (const at of [...labels, ...others]) {
    const value = numberOf(at)
    if (value === null) continue
    if (value < low) low = value
    if (value > high) high = value
  }
  const only = !(high > low)
  const position = (value: number) =>
    only ? (left + right) / 2 : left + ((value - low) / (high - low)) * (right - left)

  return {
    position: (at) => {
      const value = numberOf(at)
      return value === null ? null : position(value)
    },
    ticks: (labelWidth) => {
      const wanted = Math.max(2, Math.floor((right - left) / (labelWidth * 1.3)))
      if (kind === 'time') return calendarTicks(low, high, wanted, only).map(place)
      const text = (value: number) => (order === null ? String(value) : (labels[value] ?? ''))
      const values = only
        ? [low]
        : scaleLinear().domain([low, high]).ticks(wanted).filter(Number.isInteger)
      return values.map((value) => ({ position: position(value), text: text(value), year: '' }))
    },
  }

  function place(tick: { value: number; text: string; year: string }): TimeTick {
    return { position: position(tick.value), text: tick.text, year: tick.year }
  }
}

function kindOf(labels: readonly string[]): Scale {
  if (labels.every((at) => NUMBER.test(at))) return 'number'
  return labels.every((at) => instantOf(at) !== null) ? 'time' : 'order'
}

const YEAR = utcFormat('%Y')
const MONTH = utcFormat('%b')
const DAY = utcFormat('%-d %b')
const CLOCK = utcFormat('%H:%M')

/** At least two ticks, so that the axis tells a length of time and not only a day. */
function ticksBetween(low: number, high: number, wanted: number): Date[] {
  const scale = scaleUtc().domain([new Date(low), new Date(high)])
  let dates = scale.ticks(wanted)
  for (let more = wanted + 1; dates.length < 2 && more <= wanted + 8; more++)
    dates = scale.ticks(more)
  return dates
}

function calendarTicks(low: number, high: number, wanted: number, only: boolean) {
  const dates = only ? [new Date(low)] : ticksBetween(low, high, wanted)
  const all = (test: (date: Date) => boolean) => dates.every(test)
  const atMidnight = (d: Date) => d.getTime() % 86_400_000 === 0
  const firstOfMonth = (d: Date) => atMidnight(d) && d.getUTCDate() === 1
  const firstOfYear = (d: Date) => firstOfMonth(d) && d.getUTCMonth() === 0

  if (dates.length > 1 && all(firstOfYear)) {
    return dates.map((d) => ({ value: d.getTime(), text: YEAR(d), year: '' }))
  }
  const format = only ? DAY : all(firstOfMonth) ? MONTH : all(atMidnight) ? DAY : null
  let shown = ''
  return dates.map((d) => {
    const year = YEAR(d)
    const isNew = year !== shown
    shown = year
    const text = format !== null ? format(d) : atMidnight(d) ? DAY(d) : CLOCK(d)
    return { value: d.getTime(), text, year: isNew ? year : '' }
  })
}

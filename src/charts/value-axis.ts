import { nice, ticks as niceTicks } from 'd3-array'
import type { ValueFormat } from './spec.ts'

export interface ValueAxis {
  readonly low: number
  readonly high: number
  readonly ticks: readonly number[]
  /** Distance between ticks. */
  readonly step: number
}

/** Steps people read on a clock, in seconds: to a quarter of an hour, then hours and days. */
const CLOCK_STEPS = [
  0.1, 0.2, 0.5, 1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 14400, 21600, 43200,
  86400,
]

/**
 * A value axis that holds every value given, at round numbers. Shares, and values that come close
 * to zero for their size, start at zero; shares that come close to one end there.
 *
 * @param values At least one finite number: points, limits, predictions, goal.
 * @param format Style of the values.
 * @param wanted About how many ticks, 2 or more.
 *
 * @example
 * valueAxis([0.22, 0.9], 'percent', 5).ticks // => [0, 0.2, 0.4, 0.6, 0.8, 1]
 * valueAxis([38, 112], 'duration', 5).ticks // => [30, 45, 60, 75, 90, 105, 120]
 */
export function valueAxis(
  values: readonly number[],
  format: ValueFormat,
  wanted: number,
): ValueAxis {
  let low = Infinity
  let high = -Infinity
  for (const value of values) {
    if (value < low) low = value
    if (value > high) high = value
  }
  if (!Number.isFinite(low)) return { low: 0, high: 1, ticks: [0, 1], step: 1 }
  if (low === high) {
    const half = Math.abs(low) * 0.1 || 1
    low = low >= 0 ? Math.max(0, low - half) : low - half
    high += half
  }
  if (low > 0 && low < 0.3 * high) low = 0
  if (format === 'percent' && high > 0.85 && high < 1) high = 1
  return format === 'duration' ? clockAxis(low, high, wanted) : roundAxis(low, high, wanted)
}

function roundAxis(low: number, high: number, wanted: number): ValueAxis {
  const [start, end] = nice(low, high, wanted)
  const ticks = niceTicks(start, end, wanted)
  const step = ticks.length > 1 ? ticks[1]! - ticks[0]! : end - start
  return { low: Math.min(start, low), high: Math.max(end, high), ticks, step }
}

function clockAxis(low: number, high: number, wanted: number): ValueAxis {
  const rough = (high - low) / wanted
  const step = CLOCK_STEPS.find((s) => s >= rough)
  if (step === undefined || rough < CLOCK_STEPS[0]!) return roundAxis(low, high, wanted)
  const first = Math.floor(low / step + 1e-9)
  const last = Math.ceil(high / step - 1e-9)
  const ticks: number[] = []
  for (let k = first; k <= last; k++) ticks.push(Math.round(k * step * 10) / 10)
  return { low: Math.min(first * step, low), high: Math.max(last * step, high), ticks, step }
}

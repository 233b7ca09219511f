/** What a caller says about a chart over time. Plain data, except where a format is a function. */

import type { Analysis } from '../stats/types.ts'
import type { Box, Picture } from './marks.ts'

/**
 * How values are written. `percent`: proportions 0–1 as percent; `duration`: seconds as m:ss;
 * `rate`: like `number`, with the unit in the read-out. A function writes every value itself.
 */
export type ValueFormat = 'percent' | 'number' | 'duration' | 'rate' | ((value: number) => string)

/** What the values are, so that an axis counts in steps that people read. */
export type ValueScale = 'percent' | 'number' | 'duration'

/** Where a test of change stands. The first three are decisions. */
export type TestMark = 'adopt' | 'adapt' | 'abandon' | 'waiting' | 'running' | 'planned'

/** What a team predicted for the charted measure, in the chart's unit, low ≤ expected ≤ high. */
export interface Bracket {
  readonly low: number
  readonly high: number
  readonly expected: number | null
  /** `null` or absent: not known yet. */
  readonly outcome?: number | null
}

/** A test of change as charts show it. */
export interface ChartTest {
  readonly id: string
  readonly number: number
  /** What was tried, in a few words. */
  readonly label: string
  readonly mark: TestMark
  /** Labels on the chart's axis; `null`: no date yet, so the test is listed but not drawn. */
  readonly from: string | null
  readonly to: string | null
  readonly bracket?: Bracket | null
}

export interface ChartAnnotation {
  readonly at: string
  readonly text: string
}

export interface ChartSpec {
  readonly title: string
  readonly subtitle?: string
  readonly analysis: Analysis
  readonly format: ValueFormat
  /** Needed where `format` is a function; else the format says it. */
  readonly scale?: ValueScale
  /** Written after values in sentences: `minutes`, `per 1,000 bed-days`. */
  readonly unitLabel?: string
  readonly better?: 'up' | 'down' | null
  readonly goal?: number | null
  readonly annotations?: readonly ChartAnnotation[]
  readonly tests?: readonly ChartTest[]
}

export interface TimeChartSpec extends ChartSpec {
  /** Pixels, 320 to 3840. */
  readonly width: number
  /** Pixels; chosen from the width where left out. */
  readonly height?: number
  /** 1 for a page, about 2 for a room screen. */
  readonly textScale?: number
  /** `false` leaves title and subtitle to the page around the picture. Default `true`. */
  readonly heading?: boolean
}

/** A point that can be pointed at, tapped or stepped to. */
export interface PointTarget {
  /** Index into `analysis.points`. */
  readonly index: number
  readonly x: number
  /** `null`: a gap. */
  readonly y: number | null
  readonly hit: Box
}

/** A tooth that opens its test. */
export interface ToothTarget {
  readonly id: string
  readonly number: number
  readonly mark: TestMark
  readonly hit: Box
  readonly text: string
}

export interface TimeChart extends Picture {
  /** The area of the data, inside the axes. */
  readonly plot: Box
  readonly points: readonly PointTarget[]
  readonly teeth: readonly ToothTarget[]
  /** Value axis: first and last value shown. */
  readonly valueDomain: readonly [number, number]
}

import { drawBracket } from './bracket-marks.ts'
import { valueText } from './format.ts'
import { textSizes } from './frame.ts'
import type { Mark, Picture } from './marks.ts'
import { penOn, tenth } from './pen.ts'
import { textWidth } from './text-width.ts'
import { valueAxis } from './value-axis.ts'

/** A round as it is drawn on a worksheet. */
export interface WorksheetRound {
  /** From 1. */
  readonly round: number
  /** Seconds; `null`: not measured. */
  readonly seconds: number | null
  /** Seconds; `null`: not predicted. */
  readonly predicted: {
    readonly low: number
    readonly expected: number
    readonly high: number
  } | null
}

export interface WorksheetGridSpec {
  /** Rounds of the workshop, 1 or more. */
  readonly rounds: number
  /** What is recorded; empty for a blank sheet, whose time axis the table numbers itself. */
  readonly filled: readonly WorksheetRound[]
  readonly width: number
  readonly height: number
}

/** Lines of a blank grid: enough to draw on, few enough to number by hand; fewer on a low one. */
const blankLines = (height: number) => (height < 130 ? 4 : 6)

/**
 * The plot of a paper worksheet: rounds across, time upwards. Blank, with lines to number and draw
 * on; or with what is recorded, on an axis that holds every time and every prediction.
 *
 * @param spec Times in seconds.
 *
 * @example
 * layOutWorksheetGrid({ rounds: 4, filled: [], width: 600, height: 200 }).width // => 600
 */
export function layOutWorksheetGrid(spec: WorksheetGridSpec): Picture {
  const { rounds, filled, width, height } = spec
  const { text, unit } = textSizes(width, 1)
  const marks: Mark[] = []
  const pen = penOn(marks)
  const values = filled.flatMap(({ seconds, predicted }) =>
    [seconds, predicted?.low, predicted?.high].filter((v) => v !== null && v !== undefined),
  )
  const axis = values.length === 0 ? null : valueAxis(values, 'duration', blankLines(height))
  const words = valueText('duration', values)
  const ticks = axis?.ticks ?? Array.from({ length: blankLines(height) + 1 }, (_, i) => i)
  const texts = axis === null ? [] : axis.ticks.map((tick) => words.axis(tick, axis.step))
  const written = Math.max(textWidth('0:00', text), ...texts.map((t) => textWidth(t, text)))
  const left = Math.ceil(written + 12 * unit)
  const right = width - 2 * unit
  const top = text * 0.6
  const bottom = height - text * 1.8
  const [low, high] = axis === null ? [0, blankLines(height)] : [axis.low, axis.high]
  const y = (value: number) => bottom - ((value - low) / (high - low)) * (bottom - top)
  const step = (right - left) / rounds
  const x = (round: number) => left + (round - 0.5) * step

  let grid = ''
  for (const tick of ticks) grid += `M${left},${tenth(y(tick))}H${tenth(right)}`
  for (let round = 1; round <= rounds; round++)
    grid += `M${tenth(x(round))},${tenth(top)}V${tenth(bottom)}`
  pen.path('grid', grid)
  pen.path('rail', `M${left},${tenth(top)}V${tenth(bottom)}H${tenth(right)}`)
  for (const [i, label] of texts.entries())
    pen.text('tick-text', label, left - 6 * unit, y(ticks[i]!) + text * 0.35, text, 'end')
  for (let round = 1; round <= rounds; round++)
    pen.text('tick-text', `Round ${round}`, x(round), height - text * 0.4, text, 'middle')

  const half = Math.min(10 * unit, step * 0.3)
  const measured = filled.filter(({ seconds }) => seconds !== null)
  for (const { round, predicted } of filled)
    if (predicted !== null) drawBracket(pen, predicted, x(round), half, y)
  pen.path(
    'line',
    measured
      .map(
        ({ round, seconds }, i) => `${i === 0 ? 'M' : 'L'}${tenth(x(round))},${tenth(y(seconds!))}`,
      )
      .join(''),
  )
  for (const { round, seconds } of measured) pen.circle('outcome', x(round), y(seconds!), 5 * unit)
  return { width, height, unit, marks }
}

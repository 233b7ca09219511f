import { AppError } from '../errors.ts'
import { textSizes } from './frame.ts'
import type { Mark, Picture } from './marks.ts'
import { penOn, tenth } from './pen.ts'
import { timeAxis } from './time-axis.ts'

export interface ResidualChartSpec {
  /** In time order, one for each residual. */
  readonly at: readonly string[]
  /** Finite; 0 lies on the fitted line. */
  readonly residuals: readonly number[]
  /** Pixels, 120 or more. */
  readonly width: number
}

/**
 * How far each point lies from the fitted line, over time: a stem from zero to each. Where neighbours
 * are unrelated the stems change sides at random; long stretches on one side show that they are not.
 *
 * @throws AppError `chart.no_points`.
 */
export function layOutResiduals({ at, residuals, width }: ResidualChartSpec): Picture {
  if (residuals.length === 0)
    throw new AppError('chart.no_points', 'There is no point to draw.', 'Add data first.')
  const { unit } = textSizes(width, 1)
  const marks: Mark[] = []
  const pen = penOn(marks)
  const height = Math.round(96 * unit)
  const inset = 8 * unit
  const middle = height / 2
  const largest = Math.max(...residuals.map(Math.abs)) || 1
  const time = timeAxis(at, [], inset, width - inset)
  const places = residuals.map((residual, i) => ({
    x: time.position(at[i]!) ?? inset,
    y: middle - (residual / largest) * (middle - inset),
  }))
  let stems = ''
  for (const { x, y } of places) stems += `M${tenth(x)},${tenth(middle)}V${tenth(y)}`
  pen.path('link', stems)
  pen.path('center', `M0,${tenth(middle)}H${tenth(width)}`)
  const radius = Math.max(1.4, Math.min(3 * unit, (width / residuals.length) * 0.4))
  for (const { x, y } of places) pen.circle('point', x, y, radius)
  return { width, height, unit, marks }
}

import { AppError } from '../errors.ts'
import { valueText } from './format.ts'
import { textSizes } from './frame.ts'
import type { Mark, Picture } from './marks.ts'
import { penOn, tenth } from './pen.ts'
import { textWidth } from './text-width.ts'
import { valueAxis } from './value-axis.ts'

export interface AgreementChartSpec {
  /** Mean and difference of the two readings of each trial, seconds. */
  readonly pairs: readonly { readonly mean: number; readonly difference: number }[]
  /** `null` where there are too few pairs for them. */
  readonly limits: {
    readonly bias: number
    readonly lower: number
    readonly upper: number
  } | null
  /** Pixels, 200 to 3840. */
  readonly width: number
}

/**
 * Two timers of each trial: the difference of their readings over their mean, with the mean
 * difference and the limits of agreement, and zero as the line where they agree.
 *
 * @throws AppError `chart.no_points`.
 * @see Bland & Altman (1986), Lancet 327:307.
 */
export function layOutAgreement({ pairs, limits, width }: AgreementChartSpec): Picture {
  if (pairs.length === 0)
    throw new AppError(
      'chart.no_points',
      'There is no pair to draw.',
      'Let two people time a trial.',
    )
  const { text, unit } = textSizes(width, 1)
  const marks: Mark[] = []
  const pen = penOn(marks)
  const own = limits === null ? [] : [limits.bias, limits.lower, limits.upper]
  const differences = [0, ...pairs.map((p) => p.difference), ...own]
  const means = pairs.map((p) => p.mean)
  const plotHeight = Math.round(Math.min(200 * unit, Math.max(120 * unit, width * 0.28)))
  const up = valueAxis(differences, 'number', Math.max(2, Math.round(plotHeight / (44 * unit))))
  const along = valueAxis(means, 'duration', Math.max(2, Math.round(width / (140 * unit))))
  const words = valueText('number', differences)
  const clock = valueText('duration', means)
  const tickTexts = up.ticks.map((tick) => `${words.axis(tick, up.step)} s`)
  const left = Math.ceil(Math.max(...tickTexts.map((t) => textWidth(t, text))) + 12 * unit)
  const lastTick = clock.axis(along.ticks.at(-1)!, along.step)
  const right = width - Math.max(10 * unit, textWidth(lastTick, text) / 2)
  const top = 10 * unit
  const bottom = top + plotHeight
  const y = (value: number) => bottom - ((value - up.low) / (up.high - up.low)) * plotHeight
  const x = (value: number) =>
    left + 8 * unit + ((value - along.low) / (along.high - along.low)) * (right - left - 8 * unit)

  let grid = ''
  for (const tick of up.ticks) grid += `M${left},${tenth(y(tick))}H${tenth(right)}`
  pen.path('grid', grid)
  for (const [i, label] of tickTexts.entries())
    pen.text('tick-text', label, left - 8 * unit, y(up.ticks[i]!) + text * 0.35, text, 'end')
  for (const tick of along.ticks)
    pen.text(
      'tick-text',
      clock.axis(tick, along.step),
      x(tick),
      bottom + text * 1.5,
      text,
      'middle',
    )
  pen.path('rail', `M${left},${tenth(y(0))}H${tenth(right)}`)
  if (limits !== null) {
    const across = (value: number) => `M${left},${tenth(y(value))}H${tenth(right)}`
    pen.path('limit', across(limits.lower) + across(limits.upper))
    pen.path('center', across(limits.bias))
  }
  for (const { mean, difference } of pairs) pen.circle('point', x(mean), y(difference), 4 * unit)
  return { width, height: Math.ceil(bottom + text * 2.1), unit, marks }
}

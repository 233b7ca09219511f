import type { Frame } from './frame.ts'
import { type Pen, tenth } from './pen.ts'
import { textWidth, wrapText } from './text-width.ts'
import type { TimeTick } from './time-axis.ts'
import type { ValueAxis } from './value-axis.ts'

/** Title in at most two lines and subtitle in at most two; returns where they end. */
export function drawHeading(
  pen: Pen,
  heading: { title: string; subtitle?: string; width: number },
  unit: number,
  text: number,
): number {
  const size = text * 1.3
  const room = heading.width - 8 * unit
  let y = 0
  for (const part of wrapText(heading.title, room, size, 2, true)) {
    y += size * 1.25
    pen.text('title', part, 2 * unit, y, size)
  }
  for (const part of wrapText(heading.subtitle ?? '', room, text, 2)) {
    y += text * 1.4
    pen.text('subtitle', part, 2 * unit, y, text)
  }
  return y + 10 * unit
}

/** Horizontal lines and their values. */
export function drawGrid(pen: Pen, frame: Frame, axis: ValueAxis, texts: readonly string[]): void {
  const { plot, right, unit, text } = frame
  let d = ''
  for (const tick of axis.ticks) d += `M${plot.x},${tenth(frame.y(tick))}H${right}`
  pen.path('grid', d)
  for (const [i, tick] of axis.ticks.entries()) {
    pen.text('tick-text', texts[i]!, plot.x - 8 * unit, frame.y(tick) + text * 0.35, text, 'end')
  }
}

/** A short arrow at the right edge that points at the goal, not a line across the data. */
export function drawGoal(pen: Pen, frame: Frame, goal: number, goalText: string): void {
  const { right, unit, text, narrow } = frame
  const y = frame.y(goal)
  const tip = right + 2 * unit
  const s = 6 * unit
  const length = (narrow ? 12 : 28) * unit
  pen.path(
    'goal',
    `M${tenth(tip + length)},${tenth(y)}H${tenth(tip)}M${tenth(tip + s)},${tenth(y - s)}L${tenth(tip)},${tenth(y)}L${tenth(tip + s)},${tenth(y + s)}`,
  )
  const x = tip + length + 5 * unit
  if (narrow) {
    pen.text('goal-text', 'goal', x - 2 * unit, y - text * 0.25, text)
    pen.text('goal-text', goalText, x - 2 * unit, y + text * 0.95, text)
  } else pen.text('goal-text', `goal ${goalText}`, x, y + text * 0.35, text)
}

/** Dates under the rail; one that would lie on its neighbour is left out. */
export function drawDates(
  pen: Pen,
  frame: Frame,
  ticks: readonly TimeTick[],
  railY: number,
  top: number,
  row: number,
): void {
  const { text, width, unit } = frame
  let d = ''
  let end = -Infinity
  let yearEnd = -Infinity
  for (const tick of ticks) {
    const place = (words: string) => {
      const half = textWidth(words, text) / 2
      return { half, x: Math.max(half + 1, Math.min(width - half - 1, tick.position)) }
    }
    const { half, x } = place(tick.text)
    if (x - half < end) continue
    end = x + half + text * 0.5
    d += `M${tenth(tick.position)},${tenth(railY)}v${tenth(5 * unit)}`
    pen.text('tick-text', tick.text, x, top + row * 0.85, text, 'middle')
    const year = place(tick.year)
    if (tick.year === '' || year.x - year.half < yearEnd) continue
    yearEnd = year.x + year.half + text * 0.5
    pen.text('tick-text', tick.year, year.x, top + row * 1.85, text, 'middle')
  }
  pen.path('tick', d)
}

import { AppError } from '../errors.ts'
import { halfNormalScores } from '../stats/lenth.ts'
import { normalQuantile } from '../stats/special/normal.ts'
import { drawGrid } from './axis-marks.ts'
import type { ChartTable } from './chart-table.ts'
import { numberText, valueText } from './format.ts'
import { type Frame, textSizes } from './frame.ts'
import type { Box, Mark, Picture } from './marks.ts'
import { type Pen, penOn, tenth } from './pen.ts'
import type { PointTarget, ValueFormat } from './spec.ts'
import { shorten, textWidth, wrapText } from './text-width.ts'
import { valueAxis } from './value-axis.ts'

/** One effect as the plot shows it. */
interface PlottedEffect {
  readonly name: string
  /** In the unit of the response. */
  readonly estimate: number
  /** `clear` effects carry a ring and their name, `possible` ones their name. */
  readonly standing: 'clear' | 'possible' | 'none' | 'unjudged'
}

export interface HalfNormalSpec {
  /** At least one. */
  readonly effects: readonly PlottedEffect[]
  /** Standard error of an effect: the slope of the line of chance; `null`: no line. */
  readonly standardError: number | null
  /** Margin of one effect and of all together; `null`: none. */
  readonly alone: number | null
  readonly together: number | null
  readonly format: ValueFormat
  /** Under the value axis, such as `size of the effect, minutes`. */
  readonly axisTitle: string
}

export interface HalfNormalChart extends Picture {
  readonly plot: Box
  /** One an effect, smallest first. */
  readonly points: readonly PointTarget[]
}

/** Shares of the effects that the height stands for. */
const SHARES = [0.5, 0.8, 0.9, 0.95, 0.99]
/** A margin further out than this many times the largest effect is named, not drawn. */
const FURTHEST = 1.6

/**
 * The sizes of effects against what the sizes of as many chance effects would be. Chance lies along a
 * line from the corner; effects that stand out lie to the right of it.
 *
 * @param spec  What to draw.
 * @param width Pixels, 280 to 3840.
 * @throws AppError `chart.no_points`.
 * @see Daniel (1959), Technometrics 1:311.
 */
export function layOutHalfNormal(spec: HalfNormalSpec, width: number): HalfNormalChart {
  const { effects, standardError, alone, together } = spec
  if (effects.length === 0)
    throw new AppError('chart.no_points', 'There is no effect to draw.', 'Add the responses first.')
  const scores = halfNormalScores(effects.map((e) => e.estimate))
  const { text, unit } = textSizes(width, 1)
  const marks: Mark[] = []
  const pen = penOn(marks)
  const largest = scores.at(-1)!.size
  const drawn = [
    { at: alone, words: 'margin, one effect' },
    { at: together, words: `margin, all ${effects.length}` },
  ].flatMap(({ at, words }) =>
    at !== null && at <= FURTHEST * largest ? [{ at, words: `${words}: ${sizeOf(spec, at)}` }] : [],
  )
  const row = text * 1.35
  const plotHeight = Math.round(Math.min(380 * unit, Math.max(240 * unit, width * 0.42)))
  const shareTexts = SHARES.map((share) => `${Math.round(share * 100)}\u00a0%`)
  const left = Math.ceil(Math.max(...shareTexts.map((t) => textWidth(t, text))) + 10 * unit)
  const right = Math.floor(width - 16 * unit)
  const axis = valueAxis(
    [0, largest, ...drawn.map((m) => m.at)],
    'number',
    Math.max(2, Math.min(8, Math.round((right - left) / (90 * unit)))),
  )
  // One row for each margin's words above the plot, so that they never lie on each other.
  const titleLines = wrapText('Share of effects no larger', width, text, 2)
  const top = titleLines.length * row + drawn.length * row + 10 * unit
  const bottom = top + plotHeight
  const topScore = scores.at(-1)!.score * 1.06
  const frame: Frame = {
    width,
    unit,
    text,
    narrow: width < 520,
    plot: { x: left, y: top, width: right - left, height: plotHeight },
    right,
    bottom,
    x: () => null,
    y: (score) => bottom - (score / topScore) * plotHeight,
  }
  const x = (size: number) => left + (size / axis.high) * (right - left)
  const { y } = frame

  for (const [i, words] of titleLines.entries())
    pen.text('tick-text', words, 2 * unit, (i + 0.85) * row, text)
  const shown = SHARES.map((share, i) => ({
    score: normalQuantile(0.5 + share / 2),
    words: shareTexts[i]!,
  })).filter((s) => s.score <= topScore)
  const ticks = shown.map((s) => s.score)
  drawGrid(
    pen,
    frame,
    { ...axis, ticks },
    shown.map((s) => s.words),
  )
  pen.path('rail', `M${left},${tenth(bottom)}H${right}`)
  drawSizes(pen, frame, spec, axis, x)
  if (standardError !== null && standardError > 0) {
    const end = Math.min(topScore, axis.high / standardError)
    pen.path(
      'center',
      `M${left},${tenth(bottom)}L${tenth(x(end * standardError))},${tenth(y(end))}`,
    )
  }
  // Words beside the line they name: on its right with the outer margin below, or, where there is no
  // room, on its left with the inner one below. Either way no line runs through the words of another.
  const last = drawn.at(-1)
  const rightwards =
    last === undefined || drawn.every((m) => x(m.at) + textWidth(m.words, text) <= width)
  for (const [i, { at, words }] of (rightwards ? drawn : drawn.toReversed()).entries()) {
    const rowY = (titleLines.length + i + 0.85) * row
    pen.path('limit', `M${tenth(x(at))},${tenth(rowY - text * 0.7)}V${tenth(bottom)}`)
    if (rightwards) pen.text('note-text', words, x(at) + 5 * unit, rowY, text)
    else {
      const end = Math.max(textWidth(words, text) + 1, x(at) - 5 * unit)
      pen.text('note-text', words, end, rowY, text, 'end')
    }
  }
  const radius = 4 * unit
  const places = scores.map(({ index, size, score }) => ({
    effect: effects[index]!,
    x: x(size),
    y: y(score),
  }))
  for (const p of places) pen.circle('point', p.x, p.y, radius)
  for (const p of places) {
    if (p.effect.standing === 'clear') pen.circle('ring', p.x, p.y, 8 * unit)
    if (p.effect.standing === 'clear' || p.effect.standing === 'possible') label(pen, frame, p)
  }
  return {
    width,
    height: Math.ceil(bottom + 2.4 * row + 8 * unit),
    unit,
    marks,
    plot: frame.plot,
    points: places.map((p, i) => {
      const from = i === 0 ? left : (places[i - 1]!.x + p.x) / 2
      const to = i === places.length - 1 ? right : (p.x + places[i + 1]!.x) / 2
      return {
        index: i,
        x: tenth(p.x),
        y: tenth(p.y),
        hit: { x: tenth(from), y: top, width: tenth(to - from), height: plotHeight },
      }
    }),
  }
}

/** The value axis below: its ticks and what it measures. */
function drawSizes(
  pen: Pen,
  { unit, text, bottom, width, plot, right }: Frame,
  spec: HalfNormalSpec,
  axis: ReturnType<typeof valueAxis>,
  x: (size: number) => number,
): void {
  const row = text * 1.35
  const words = valueText(
    spec.format,
    spec.effects.map((e) => e.estimate),
  )
  let d = ''
  let end = -Infinity
  for (const tick of axis.ticks) {
    const tickText = words.axis(tick, axis.step)
    const half = textWidth(tickText, text) / 2
    const middle = Math.max(half + 1, Math.min(width - half - 1, x(tick)))
    if (middle - half < end) continue
    end = middle + half + text * 0.5
    d += `M${tenth(x(tick))},${tenth(bottom)}v${tenth(5 * unit)}`
    pen.text('tick-text', tickText, middle, bottom + 5 * unit + row * 0.85, text, 'middle')
  }
  pen.path('tick', d)
  const title = shorten(spec.axisTitle, right - plot.x, text)
  pen.text('tick-text', title, right, bottom + 5 * unit + row * 1.85, text, 'end')
}

/** The name beside its point, on the side that has more room. */
function label(
  pen: Pen,
  { unit, text, plot, right }: Frame,
  place: { readonly effect: PlottedEffect; readonly x: number; readonly y: number },
): void {
  const gap = 12 * unit
  const before = place.x - gap - plot.x
  const after = right - place.x - gap
  const name = shorten(place.effect.name, Math.max(before, after), text)
  const baseline = place.y + text * 0.35
  if (after >= textWidth(name, text) && after >= before)
    pen.text('note-text', name, place.x + gap, baseline, text)
  else pen.text('note-text', name, place.x - gap, baseline, text, 'end')
}

const sizeOf = (spec: HalfNormalSpec, value: number) =>
  valueText(
    spec.format,
    spec.effects.map((e) => e.estimate),
  ).value(value)

const STANDING = {
  clear: 'stands out even among so many',
  possible: 'beyond the margin of one effect only',
  none: 'within what chance gives',
  unjudged: 'not judged',
} as const

/** The plot in words: what it shows, and a sentence for each of its points, smallest first. */
export interface HalfNormalWords {
  readonly text: string
  readonly points: readonly string[]
}

/**
 * The plot in words.
 *
 * @param spec What is drawn; its width does not matter.
 */
export function describeHalfNormal(spec: HalfNormalSpec): HalfNormalWords {
  const { effects, alone, together } = spec
  const scores = halfNormalScores(effects.map((e) => e.estimate))
  const clear = scores.filter((s) => effects[s.index]!.standing === 'clear')
  const names = clear.map((s) => effects[s.index]!.name).reverse()
  const margins =
    alone === null || together === null
      ? 'No margin can be put on them.'
      : `Margin of one effect: ${sizeOf(spec, alone)}; of all together: ${sizeOf(spec, together)}.`
  return {
    text: `Half-normal plot of ${effects.length} effects by size. ${margins} ${
      names.length === 0 ? 'None stands out.' : `Standing out: ${names.join('; ')}.`
    }`,
    points: scores.map(({ index, size }, i) => {
      const { name, standing } = effects[index]!
      return `${name}: size ${sizeOf(spec, size)}, ${i + 1} of ${effects.length} by size, ${STANDING[standing]}.`
    }),
  }
}

/**
 * The plot as a table, the largest effect first.
 *
 * @param spec What is drawn; its width does not matter.
 */
export function halfNormalTable(spec: HalfNormalSpec): ChartTable {
  const column = (key: string, label: string, numeric: boolean) => ({ key, label, numeric })
  return {
    columns: [
      column('name', 'Effect', false),
      column('estimate', 'Estimate', true),
      column('score', 'Half-normal score', true),
      column('standing', 'Standing', false),
    ],
    rows: halfNormalScores(spec.effects.map((e) => e.estimate))
      .reverse()
      .map(({ index, score }) => {
        const { name, estimate, standing } = spec.effects[index]!
        return {
          at: name,
          cells: [name, sizeOf(spec, estimate), numberText(score, 2), STANDING[standing]],
        }
      }),
  }
}

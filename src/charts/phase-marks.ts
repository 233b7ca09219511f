import { isThrough, labelOrder } from '../stats/labels.ts'
import type { Analysis } from '../stats/types.ts'
import { rangeText, shortRangeText, type ValueText } from './format.ts'
import type { Frame } from './frame.ts'
import { type Pen, tenth } from './pen.ts'
import { textWidth } from './text-width.ts'

/** Points of one phase with the edges of the steps they stand on. */
interface Stretch {
  readonly points: readonly number[]
  /** One more than `points`: half way between neighbours. */
  readonly edges: readonly number[]
}

/** The points of each phase, and where its lines begin, step and end. */
export function stretchesOf(
  analysis: Analysis,
  xs: readonly number[],
  left: number,
  right: number,
): Stretch[] {
  const byPhase: number[][] = analysis.phases.map(() => [])
  for (const [i, point] of analysis.points.entries()) byPhase[point.phase]?.push(i)
  const last = xs.length - 1
  const edge = (i: number): number => {
    if (i <= 0) return left
    if (i > last) return right
    return (xs[i - 1]! + xs[i]!) / 2
  }
  return byPhase.map((points) => ({
    points,
    edges: points.length === 0 ? [] : [...points.map(edge), edge(points.at(-1)! + 1)],
  }))
}

/** A line that is level at each point and steps half way between points; `null` interrupts it. */
function stepPath(
  values: readonly (number | null)[],
  edges: readonly number[],
  y: (value: number) => number,
): string {
  let d = ''
  let drawn: number | null = null
  for (let i = 0; i < values.length; i++) {
    const value = values[i] ?? null
    if (value === null) {
      if (drawn !== null) d += `H${tenth(edges[i]!)}`
      drawn = null
      continue
    }
    const here = tenth(y(value))
    if (drawn === null) d += `M${tenth(edges[i]!)},${here}`
    else if (here !== drawn) d += `H${tenth(edges[i]!)}V${here}`
    drawn = here
  }
  return drawn === null ? d : `${d}H${tenth(edges[values.length]!)}`
}

/** Centre lines, limits, and the catch where frozen ones were caught. */
export function drawPhaseLines(
  pen: Pen,
  frame: Frame,
  analysis: Analysis,
  stretches: readonly Stretch[],
): void {
  for (const { points, edges } of stretches) {
    const of = (key: 'lower' | 'upper') => points.map((i) => analysis.points[i]![key])
    pen.path('limit', stepPath(of('lower'), edges, frame.y))
    pen.path('limit', stepPath(of('upper'), edges, frame.y))
  }
  for (const { points, edges } of stretches) {
    const centers = points.map((i) => analysis.points[i]!.center)
    pen.path('center', stepPath(centers, edges, frame.y))
  }
  drawCatches(pen, frame, analysis, stretches)
}

/** A barb on each frozen limit (on the centre where there are none), after the last point it came from. */
function drawCatches(
  pen: Pen,
  frame: Frame,
  analysis: Analysis,
  stretches: readonly Stretch[],
): void {
  const order = labelOrder(analysis.points.map((p) => p.at))
  for (const [k, phase] of analysis.phases.entries()) {
    const { points, edges } = stretches[k]!
    const through = phase.frozenThrough
    if (through === null) continue
    let n = 0
    while (n < points.length && isThrough(analysis.points[points[n]!]!.at, through, order)) n++
    if (n === 0) continue
    const { lower, upper, center } = analysis.points[points[n - 1]!]!
    const x = edges[n]!
    const s = 5 * frame.unit
    const lines = [lower, upper].filter((v) => v !== null)
    for (const value of lines.length > 0 ? lines : [center]) {
      if (value === null) continue
      const y = frame.y(value)
      pen.path(
        'catch',
        `M${tenth(x - s)},${tenth(y - s)}L${tenth(x)},${tenth(y)}L${tenth(x - s)},${tenth(y + s)}`,
      )
    }
  }
}

interface PhaseLabel {
  /** Index into `phases`. */
  readonly phase: number
  readonly start: number
  /** From the longest to the shortest. */
  readonly texts: readonly string[]
}

/** What the label of each phase can say, long to short. */
export function phaseLabels(
  analysis: Analysis,
  stretches: readonly { readonly edges: readonly number[] }[],
  text: ValueText,
): PhaseLabel[] {
  return analysis.phases.flatMap((phase, k) => {
    const start = stretches[k]!.edges[0]
    if (start === undefined || phase.center === null) return []
    const center = text.center(phase.center)
    const frozen = phase.frozenThrough === null ? '' : ', frozen'
    return [
      {
        phase: k,
        start,
        texts: [
          `${center} · ${rangeText(phase.from, phase.to)}${frozen}`,
          `${center} · ${shortRangeText(phase.from, phase.to)}${frozen}`,
          `${center} · ${shortRangeText(phase.from, phase.to)}`,
          center,
        ],
      },
    ]
  })
}

export interface PlacedLabel {
  readonly phase: number
  readonly x: number
  readonly row: number
  readonly text: string
}

/**
 * Labels in one row, or two where that lets them say more; one with no room even for its shortest
 * text is left out.
 */
export function placePhaseLabels(
  labels: readonly PhaseLabel[],
  left: number,
  right: number,
  size: number,
): PlacedLabel[] {
  const gap = size
  const fitIn = (rows: number) =>
    labels.map((label, i) => {
      // Clear of the line at the border.
      const start = label.start > left ? label.start + size * 0.35 : left
      const next = labels[i + rows]
      const room = (next === undefined ? right : next.start - gap) - start
      const choice = label.texts.findIndex((text) => textWidth(text, size) <= room)
      return {
        phase: label.phase,
        x: start,
        row: i % rows,
        choice,
        text: label.texts[choice] ?? '',
      }
    })
  const one = fitIn(1)
  const enough = one.every(({ choice }) => choice >= 0 && choice <= 1)
  const placed = enough || labels.length < 2 ? one : fitIn(2)
  return placed.filter(({ text }) => text !== '')
}

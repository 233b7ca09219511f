import { around, overlap, spread, textBox } from './boxes.ts'
import type { Frame } from './frame.ts'
import type { Box } from './marks.ts'
import { type Pen, tenth } from './pen.ts'
import type { Bracket, ChartTest } from './spec.ts'

/** A test with a place on the axis. */
export interface PlacedTest {
  readonly test: ChartTest
  readonly from: number
  readonly to: number
}

/** Tests whose dates are on the axis, in the order of their dates. */
export function placeTests(
  tests: readonly ChartTest[],
  x: (at: string) => number | null,
): PlacedTest[] {
  return tests
    .flatMap((test) => {
      const from = test.from === null ? null : x(test.from)
      if (from === null) return []
      const to = test.to === null ? null : x(test.to)
      return [{ test, from, to: Math.max(from, to ?? from) }]
    })
    .sort((a, b) => a.from - b.from || a.test.number - b.test.number)
}

/**
 * Brackets from the predicted low to the predicted high where each test ran, moved apart where they
 * would lie on each other.
 *
 * @param taken Boxes that must stay readable; brackets and their numbers are added to it.
 */
export function drawBrackets(
  pen: Pen,
  frame: Frame,
  placed: readonly PlacedTest[],
  taken: Box[],
): { readonly x: number; readonly test: ChartTest }[] {
  const tests = placed.filter(({ test }) => test.bracket)
  const half = Math.min(9 * frame.unit, frame.plot.width / (2.5 * Math.max(1, tests.length)))
  const lefts = spread(
    tests.map(({ from, to }) => (from + to) / 2 - half),
    tests.map(() => 2 * half),
    frame.plot.x,
    frame.right,
    2 * frame.unit,
  )
  return tests.map(({ test }, i) => {
    const x = lefts[i]! + half
    drawBracket(pen, test.bracket!, x, half, frame.y)
    const top = frame.y(test.bracket!.high)
    const bottom = frame.y(test.bracket!.low)
    taken.push({ x: x - half, y: top - 2, width: 2 * half, height: bottom - top + 4 })
    const outcome = test.bracket!.outcome ?? null
    if (outcome !== null) taken.push(around(x, frame.y(outcome), 8 * frame.unit))
    return { x, test }
  })
}

/** The bracket itself, with a tick at the expected value. */
export function drawBracket(
  pen: Pen,
  bracket: Bracket,
  x: number,
  half: number,
  y: (value: number) => number,
): void {
  const low = tenth(y(bracket.low))
  const high = tenth(y(bracket.high))
  const [l, r, t] = [tenth(x - half), tenth(x + half), tenth(x)]
  let d = `M${l},${high}H${r}M${l},${low}H${r}M${t},${high}V${low}`
  if (bracket.expected !== null) {
    const e = tenth(y(bracket.expected))
    d += `M${tenth(x - half * 0.62)},${e}H${tenth(x + half * 0.62)}`
  }
  pen.path('bracket', d)
}

/** The outcome's dot, over everything else at its place. */
export function drawOutcomes(
  pen: Pen,
  frame: Frame,
  brackets: readonly { readonly x: number; readonly test: ChartTest }[],
): void {
  for (const { x, test } of brackets) {
    const outcome = test.bracket?.outcome ?? null
    if (outcome !== null) pen.circle('outcome', x, frame.y(outcome), 6 * frame.unit)
  }
}

/** The test's number above its bracket, or below it, where there is room. */
export function drawBracketNumbers(
  pen: Pen,
  frame: Frame,
  brackets: readonly { readonly x: number; readonly test: ChartTest }[],
  taken: Box[],
): void {
  const size = frame.text * 0.9
  for (const { x, test } of brackets) {
    const text = String(test.number)
    const above = frame.y(test.bracket!.high) - 7 * frame.unit
    const below = frame.y(test.bracket!.low) + 6 * frame.unit + size * 0.8
    for (const y of [above, below]) {
      const box = textBox(text, x, y, size, 'middle')
      const inside = box.y >= frame.plot.y - size && box.y + box.height <= frame.bottom + size * 0.3
      if (!inside || taken.some((other) => overlap(box, other))) continue
      pen.text('bracket-text', text, x, y, size, 'middle')
      taken.push(box)
      break
    }
  }
}

import { overlap, spread, textBox } from './boxes.ts'
import type { PlacedTest } from './bracket-marks.ts'
import { rangeText } from './format.ts'
import type { Box, MarkRole } from './marks.ts'
import { type Pen, tenth } from './pen.ts'
import type { TestMark, ToothTarget } from './spec.ts'
import { MARK_WORDS } from './words.ts'

const SHAPE: Readonly<Record<TestMark, MarkRole>> = {
  adopt: 'tooth-full',
  adapt: 'tooth-outline',
  abandon: 'notch',
  waiting: 'tooth-dotted',
  running: 'tooth-dotted',
  planned: 'tooth-planned',
}

/** A tooth standing on the rail: where, and how high the rail is. */
export interface Tooth {
  readonly x: number
  readonly width: number
  readonly rail: number
  readonly unit: number
}

/** Height of a tooth over the rail and depth of a notch below it, in design pixels. */
export const TOOTH_HEIGHT = 20
export const NOTCH_DEPTH = 10

/**
 * One tooth. Adopt: full. Adapt: outlined, leaning into the next. Abandon: a notch in the rail.
 * Waiting for Study: dotted, with a dot in it. Running: dotted and open at its end. Planned: faint.
 */
export function drawTooth(pen: Pen, mark: TestMark, { x, width, rail, unit }: Tooth): void {
  const top = tenth(rail - TOOTH_HEIGHT * unit)
  const [l, r, base] = [tenth(x), tenth(x + width), tenth(rail)]
  const role = SHAPE[mark]
  if (mark === 'abandon') {
    const half = Math.min(8 * unit, width / 2)
    const middle = x + width / 2
    pen.path(
      role,
      `M${tenth(middle - half)},${base}L${tenth(middle)},${tenth(rail + NOTCH_DEPTH * unit)}L${tenth(middle + half)},${base}Z`,
    )
  } else if (mark === 'adapt') {
    // The tip hangs over the foot, towards the test that comes of it.
    const foot = tenth(x + width - Math.min(width * 0.3, 7 * unit))
    pen.path(role, `M${l},${base}L${r},${top}L${foot},${base}Z`)
  } else if (mark === 'running') {
    pen.path(role, `M${l},${base}L${r},${top}`)
  } else {
    pen.path(role, `M${l},${base}L${r},${top}V${base}`)
    if (mark === 'waiting') {
      const dot = Math.max(1.5 * unit, Math.min(2.5 * unit, width * 0.12))
      pen.circle('tooth-full', x + width * 0.72, rail - TOOTH_HEIGHT * 0.3 * unit, dot)
    }
  }
}

export interface Rail {
  readonly left: number
  readonly right: number
  readonly width: number
  readonly y: number
  readonly unit: number
  readonly text: number
}

export interface RailLabels {
  readonly rows: number
  readonly labels: readonly { readonly x: number; readonly row: number; readonly text: string }[]
}

/** Where each tooth stands: at its dates, at least 16 design pixels wide, none on another. */
export function placeTeeth(
  placed: readonly PlacedTest[],
  rail: Pick<Rail, 'left' | 'right' | 'unit'>,
): { x: number; width: number }[] {
  const n = placed.length
  const least = Math.min(16 * rail.unit, (0.9 * (rail.right - rail.left)) / Math.max(1, n))
  const widths = placed.map(({ from, to }, i) => {
    const next = placed[i + 1]
    const own = next === undefined ? to - from : Math.min(to - from, next.from - from - rail.unit)
    return Math.max(least, own)
  })
  const wanted = placed.map(({ from, to }, i) => {
    const width = widths[i]!
    return to - from >= width ? from : (from + to) / 2 - width / 2
  })
  const lefts = spread(wanted, widths, rail.left, rail.right, 2 * rail.unit)
  return lefts.map((x, i) => ({ x, width: widths[i]! }))
}

/** Number and word under each tooth; only numbers where the words do not fit in two rows. */
export function placeToothLabels(
  placed: readonly PlacedTest[],
  teeth: readonly { readonly x: number; readonly width: number }[],
  rail: Omit<Rail, 'y'>,
): RailLabels {
  const texts = placed.map(({ test }) => `${test.number} ${MARK_WORDS[test.mark]}`)
  const full = fitRows(texts, teeth, rail, 2)
  if (full.labels.length === texts.length) return full
  const numbers = placed.map(({ test }) => String(test.number))
  return fitRows(numbers, teeth, rail, 2)
}

function fitRows(
  texts: readonly string[],
  teeth: readonly { readonly x: number; readonly width: number }[],
  rail: Omit<Rail, 'y'>,
  rows: number,
): RailLabels {
  const taken: Box[] = []
  const labels: { x: number; row: number; text: string }[] = []
  let used = 0
  for (const [i, text] of texts.entries()) {
    const { x, width } = teeth[i]!
    for (let row = 0; row < rows; row++) {
      const box = textBox(text, x + width / 2, row * rail.text * 2, rail.text, 'middle')
      const left = Math.max(1, Math.min(box.x, rail.width - 1 - box.width))
      // Half a letter of air on either side keeps neighbours apart.
      const roomy = { ...box, x: left - rail.text * 0.3, width: box.width + rail.text * 0.6 }
      if (taken.some((other) => overlap(roomy, other))) continue
      taken.push(roomy)
      labels.push({ x: left + box.width / 2, row, text })
      used = Math.max(used, row + 1)
      break
    }
  }
  return { rows: used, labels }
}

/** What each tooth says to somebody who cannot see it, and how large it is to press. */
export function toothTargets(
  placed: readonly PlacedTest[],
  teeth: readonly { readonly x: number; readonly width: number }[],
  rail: Rail,
): ToothTarget[] {
  const top = rail.y - TOOTH_HEIGHT * 1.15 * rail.unit
  const height = (TOOTH_HEIGHT * 1.15 + 22) * rail.unit
  const least = 24 * Math.max(1, rail.unit)
  return placed.map(({ test }, i) => {
    const { x, width } = teeth[i]!
    const middle = x + width / 2
    const before = teeth[i - 1]
    const after = teeth[i + 1]
    const from = before === undefined ? 0 : (before.x + before.width + x) / 2
    const to = after === undefined ? rail.width : (x + width + after.x) / 2
    const left = Math.max(from, Math.min(x, middle - least / 2))
    const right = Math.min(to, Math.max(x + width, middle + least / 2))
    const dates = test.from === null ? '' : `, ${rangeText(test.from, test.to ?? test.from)}`
    return {
      id: test.id,
      number: test.number,
      mark: test.mark,
      hit: { x: tenth(left), y: tenth(top), width: tenth(right - left), height: tenth(height) },
      text: `Test ${test.number}, ${MARK_WORDS[test.mark]}: ${test.label}${dates}`,
    }
  })
}

import type { Kit } from '../../../domain/workshop/kit.ts'

/** How a worksheet is set so that a round stays on one page of A4 or Letter. */
export interface SheetSpace {
  /** Smaller letters and narrower lines, for a long checklist. */
  readonly dense: boolean
  /** Height of the plot before it is made as wide as the page, pixels. */
  readonly plot: number
}

/** Pixels of Letter, the shorter page, between its margins, less what an estimate may be off. */
const PAGE = 969 - 24
/** The plot is laid out at 680 pixels and printed as wide as Letter leaves. */
const WIDENED = 718 / 680
/** Characters that fit in half a page of A4, the narrower one, and pixels; as measured in print. */
const OPEN = { letters: 52, line: 17.1, around: 3, rest: 605, most: 175, least: 95 }
const DENSE = { letters: 62, line: 12.8, around: 0, rest: 530, most: 115, least: 85 }
/** Beside two boxes of 45 pixels. */
const DEFINITION = { letters: 78, line: 16.2, box: 45 }

const linesOf = (text: string, letters: number) => Math.max(1, Math.ceil(text.length / letters))

/** What the kit's own words take, and what they leave to the plot. */
export function sheetSpace(kit: Pick<Kit, 'checklist' | 'clockStarts' | 'clockStops'>): SheetSpace {
  const definition = linesOf(`${kit.clockStarts} ${kit.clockStops}`, DEFINITION.letters)
  const more = Math.max(0, definition * DEFINITION.line - DEFINITION.box)
  const left = ({ letters, line, around, rest }: typeof OPEN) => {
    const lines = kit.checklist.map((item, i) => linesOf(`${i + 1}. ${item}`, letters))
    const heights = lines.map((n) => n * line + around)
    // Two columns, one of which may be an item longer.
    const checks = heights.reduce((sum, h) => sum + h, 0) / 2 + Math.max(0, ...heights) / 2
    return Math.floor((PAGE - rest - more - checks) / WIDENED)
  }
  const open = left(OPEN)
  if (open >= OPEN.least) return { dense: false, plot: Math.min(OPEN.most, open) }
  return { dense: true, plot: Math.max(DENSE.least, Math.min(DENSE.most, left(DENSE))) }
}

import type { Box } from './marks.ts'

/** What every part of a chart over time needs to know to place itself. */
export interface Frame {
  readonly width: number
  /** One design pixel. */
  readonly unit: number
  /** Font size of labels. */
  readonly text: number
  /** Less than about 480 design pixels: labels get shorter. */
  readonly narrow: boolean
  readonly plot: Box
  readonly right: number
  readonly bottom: number
  readonly x: (at: string) => number | null
  readonly y: (value: number) => number
}

/**
 * Text size and design pixel for a width: 13 px on a phone, 14 px on a page, 16 px on a wide screen.
 *
 * @param width     Pixels.
 * @param textScale 1 or more for screens read from afar.
 *
 * @example
 * textSizes(1280, 1).text // => 14
 */
export function textSizes(width: number, textScale: number): { text: number; unit: number } {
  const base = width < 520 ? 13 : width < 1500 ? 14 : 16
  const text = base * textScale
  return { text, unit: text / 14 }
}

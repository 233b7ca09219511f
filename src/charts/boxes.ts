import type { Box } from './marks.ts'
import { textWidth } from './text-width.ts'

/**
 * Whether two boxes share any area.
 *
 * @example
 * overlap({ x: 0, y: 0, width: 2, height: 2 }, { x: 2, y: 0, width: 2, height: 2 }) // => false
 */
export function overlap(a: Box, b: Box): boolean {
  return a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height
}

/** The box a line of text takes; `y` is its baseline. */
export function textBox(
  text: string,
  x: number,
  y: number,
  size: number,
  anchor: 'start' | 'middle' | 'end' = 'start',
  bold = false,
): Box {
  const width = textWidth(text, size, bold)
  const left = anchor === 'start' ? x : anchor === 'end' ? x - width : x - width / 2
  return { x: left, y: y - size * 0.8, width, height: size * 1.05 }
}

/** The square around a circle. */
export function around(x: number, y: number, r: number): Box {
  return { x: x - r, y: y - r, width: 2 * r, height: 2 * r }
}

/**
 * Whether the straight line from (x1, y1) to (x2, y2) passes through a box.
 *
 * @example
 * crosses({ x: 0, y: 0, width: 2, height: 2 }, -1, -1, 3, 3) // => true
 */
export function crosses(box: Box, x1: number, y1: number, x2: number, y2: number): boolean {
  let from = 0
  let to = 1
  const sides: readonly (readonly [number, number])[] = [
    [x1 - x2, x1 - box.x],
    [x2 - x1, box.x + box.width - x1],
    [y1 - y2, y1 - box.y],
    [y2 - y1, box.y + box.height - y1],
  ]
  // Liang–Barsky clipping: each side cuts the stretch of the line that can lie inside.
  for (const [slope, room] of sides) {
    if (slope === 0) {
      if (room < 0) return false
      continue
    }
    const t = room / slope
    if (slope < 0) from = Math.max(from, t)
    else to = Math.min(to, t)
    if (from > to) return false
  }
  return true
}

/**
 * Places of equal gaps or more, as near to the wanted ones as an order-keeping shift allows, inside
 * `left`–`right`. Where there is no room for all, they share what there is evenly.
 *
 * @param wanted Left edges, ascending.
 * @param widths Width of each, as many as `wanted`.
 * @returns Left edges.
 *
 * @example
 * spread([0, 1, 50], [10, 10, 10], 0, 100, 2) // => [0, 12, 50]
 */
export function spread(
  wanted: readonly number[],
  widths: readonly number[],
  left: number,
  right: number,
  gap: number,
): number[] {
  const n = wanted.length
  const total = widths.reduce((sum, w) => sum + w, 0) + gap * Math.max(0, n - 1)
  if (total > right - left) {
    const last = widths[n - 1]!
    return wanted.map((_, i) => (n === 1 ? left : left + (i * (right - left - last)) / (n - 1)))
  }
  const placed = [...wanted]
  for (let i = 0; i < n; i++) {
    const least = i === 0 ? left : placed[i - 1]! + widths[i - 1]! + gap
    placed[i] = Math.max(placed[i]!, least)
  }
  for (let i = n - 1; i >= 0; i--) {
    const most = i === n - 1 ? right - widths[i]! : placed[i + 1]! - gap - widths[i]!
    placed[i] = Math.min(placed[i]!, most)
  }
  return placed
}

import type { Box } from './marks.ts'
import { tenth } from './pen.ts'
import type { PointTarget } from './spec.ts'

/**
 * A column over each point of a chart, halfway to its neighbours, to point at or step through.
 *
 * @param places Where the points are, from left to right; `y` is `null` for a gap.
 * @param plot   The area of the plot.
 *
 * @example
 * pointColumns([{ x: 5, y: null }], { x: 0, y: 0, width: 9, height: 4 })[0].hit // => { x: 0, y: 0, width: 9, height: 4 }
 */
export function pointColumns(
  places: readonly { readonly x: number; readonly y: number | null }[],
  plot: Box,
): PointTarget[] {
  const right = plot.x + plot.width
  return places.map(({ x, y }, index) => {
    const from = index === 0 ? plot.x : (places[index - 1]!.x + x) / 2
    const to = index === places.length - 1 ? right : (x + places[index + 1]!.x) / 2
    return {
      index,
      x: tenth(x),
      y: y === null ? null : tenth(y),
      hit: {
        x: tenth(from),
        y: tenth(plot.y),
        width: tenth(to - from),
        height: tenth(plot.height),
      },
    }
  })
}

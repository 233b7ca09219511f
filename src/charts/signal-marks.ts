import type { Analysis } from '../stats/types.ts'
import { around, crosses, overlap, textBox } from './boxes.ts'
import type { Frame } from './frame.ts'
import type { Box } from './marks.ts'
import type { Pen } from './pen.ts'
import { letterOf } from './words.ts'

/** Drawn points: x, y, or `null` for a gap. */
export type Place = { readonly x: number; readonly y: number } | null

/** One ring round each point that belongs to a signal, however many signals it belongs to. */
export function drawRings(
  pen: Pen,
  analysis: Analysis,
  places: readonly Place[],
  radius: number,
): void {
  for (const [i, point] of analysis.points.entries()) {
    const place = places[i]
    if (point.signals.length > 0 && place) pen.circle('ring', place.x, place.y, radius)
  }
}

/** Directions to look for room in, by preference. */
const AROUND: readonly (readonly [number, number])[] = [
  [0.75, -0.75],
  [0, -1],
  [-0.75, -0.75],
  [0.75, 0.75],
  [0, 1],
  [-0.75, 0.75],
  [1, 0],
  [-1, 0],
]

/**
 * One letter a signal, near its last point, where it covers least of what is there already.
 *
 * @param taken Boxes of what must stay readable; the letters are added to it.
 */
export function drawLetters(
  pen: Pen,
  frame: Frame,
  analysis: Analysis,
  places: readonly Place[],
  radius: number,
  taken: Box[],
): void {
  const size = frame.text * 1.05
  for (const [k, signal] of analysis.signals.entries()) {
    const index = signal.points.findLast((i) => places[i])
    const at = index === undefined ? null : places[index]
    if (!at) continue
    const letter = letterOf(k)
    let best: { x: number; y: number; box: Box; cost: number } | null = null
    for (const far of [1, 1.8, 2.8]) {
      for (const [dx, dy] of AROUND) {
        const reach = (radius + size * 0.62) * far
        const x = at.x + dx * reach * 1.15
        const y = at.y + dy * reach + size * 0.35
        const box = textBox(letter, x, y, size, 'middle', true)
        const cost = costOf(box, frame, places, radius, taken) + (far - 1) * 0.8
        if (best === null || cost < best.cost - 1e-9) best = { x, y, box, cost }
      }
      if (best !== null && best.cost < far - 1 + 0.5) break
    }
    pen.text('letter', letter, best!.x, best!.y, size, 'middle')
    taken.push(best!.box)
  }
}

function costOf(
  box: Box,
  frame: Frame,
  places: readonly Place[],
  radius: number,
  taken: readonly Box[],
): number {
  let cost = 0
  const { plot } = frame
  const outside =
    box.x < plot.x ||
    box.y < plot.y - frame.text ||
    box.x + box.width > frame.width ||
    box.y + box.height > frame.bottom
  if (outside) cost += 20
  for (const other of taken) if (overlap(box, other)) cost += 6
  let before: Place = null
  for (const place of places) {
    if (place && before) {
      const near = place.x >= box.x && before.x <= box.x + box.width
      if (near && crosses(box, before.x, before.y, place.x, place.y)) cost += 1
    }
    if (place && overlap(box, around(place.x, place.y, radius * 0.8))) cost += 4
    before = place
  }
  return cost
}

import type { Pen } from './pen.ts'
import { tenth } from './pen.ts'
import type { ChartAnnotation } from './spec.ts'
import { shorten, textWidth } from './text-width.ts'

export interface PlacedNote {
  readonly x: number
  readonly row: number
  readonly text: string
  readonly anchor: 'start' | 'end'
}

/**
 * Events in one or two rows over the data, each beginning at its date and shortened to the room up
 * to the next; one without room for three letters keeps only its line.
 */
export function placeNotes(
  notes: readonly ChartAnnotation[],
  x: (at: string) => number | null,
  left: number,
  right: number,
  size: number,
): PlacedNote[] {
  const placed = notes
    .flatMap((note) => {
      const at = x(note.at)
      return at === null ? [] : [{ at, text: note.text }]
    })
    .sort((a, b) => a.at - b.at)
  const pad = size * 0.3
  const widthOf = (text: string) => textWidth(text, size) + 2 * pad
  const fits = placed.every(
    (note, i) => note.at + widthOf(note.text) <= (placed[i + 1]?.at ?? right),
  )
  const rows = fits || placed.length < 2 ? 1 : 2
  const ends = [left, left]
  return placed.map((note, i) => {
    const row = i % rows
    const next = placed[i + rows]?.at ?? right
    const after = next - note.at - 2 * pad
    const before = note.at - ends[row]! - 2 * pad
    const whole = textWidth(note.text, size)
    // Near the right edge there is often more room on the other side of the line.
    const flip = after < whole && before > after && placed[i + rows] === undefined
    const text = shorten(note.text, flip ? before : after, size)
    ends[row] = note.at + (flip ? 0 : textWidth(text, size) + 2 * pad)
    return { x: note.at, row, text, anchor: flip ? 'end' : 'start' }
  })
}

/** The events' words and a fine line from each down to the axis. */
export function drawNotes(
  pen: Pen,
  notes: readonly PlacedNote[],
  rowY: (row: number) => number,
  bottom: number,
  size: number,
): void {
  for (const note of notes) {
    const y = rowY(note.row)
    pen.path('note-line', `M${tenth(note.x)},${tenth(y - size * 0.8)}V${tenth(bottom)}`)
  }
  for (const note of notes) {
    const x = note.x + (note.anchor === 'start' ? 0.3 : -0.3) * size
    pen.text('note-text', note.text, x, rowY(note.row), size, note.anchor)
  }
}

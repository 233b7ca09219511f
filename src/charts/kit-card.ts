import { textSizes } from './frame.ts'
import type { Mark, Picture } from './marks.ts'
import { type Pen, penOn, tenth } from './pen.ts'
import { textWidth, wrapText } from './text-width.ts'

/** How a thing on the card is drawn. */
export type ThingShape = 'box' | 'round' | 'slim' | 'fold' | 'arrow' | 'stack'

/** One thing on the card, in cells from the upper left corner, 0-based. */
interface CardThing {
  readonly label: string
  readonly column: number
  readonly row: number
  readonly columns: number
  readonly rows: number
  readonly shape: ThingShape
}

export interface CardSpec {
  /** 1 to 26 each way; beyond that it is drawn as if it were 1 or 26. */
  readonly columns: number
  readonly rows: number
  readonly places: readonly CardThing[]
  /** One sentence that is read out after the places. */
  readonly note?: string
}

export interface CardOptions {
  /** Pixels. */
  readonly width: number
  readonly textScale?: number
  /** Without words and cell names, for a picture the size of a stamp. Default false. */
  readonly bare?: boolean
}

export interface CardPicture extends Picture {
  /** The card in words. */
  readonly description: string
}

const MOST = 26
const inRange = (n: number, low: number, high: number) =>
  Number.isFinite(n) ? Math.min(high, Math.max(low, Math.floor(n))) : low

/**
 * Name of a cell, as a map has them: columns are letters, rows are numbers.
 *
 * @param column 0-based, 0–25.
 * @param row    0-based.
 *
 * @example
 * cellName(2, 0) // => 'C1'
 */
export function cellName(column: number, row: number): string {
  return `${String.fromCharCode(65 + column)}${row + 1}`
}

/**
 * The card in words: its size, then what lies where, in reading order.
 *
 * @param card Its places in any order.
 *
 * @example
 * describeCard({ columns: 2, rows: 1, places: [{ label: 'Cup', column: 1, row: 0, columns: 1, rows: 1, shape: 'round' }] }) // => 'A card of 2 columns, A to B, and 1 row. B1: Cup.'
 */
export function describeCard({ columns, rows, places, note = '' }: CardSpec): string {
  const wide = inRange(columns, 1, MOST)
  const high = inRange(rows, 1, MOST)
  const width = wide === 1 ? '1 column, A' : `${wide} columns, A to ${cellName(wide - 1, 0)[0]}`
  const height = high === 1 ? '1 row' : `${high} rows`
  const parts = [...places]
    .sort((a, b) => a.row - b.row || a.column - b.column)
    .map((place) => {
      const from = cellName(place.column, place.row)
      const to = cellName(place.column + place.columns - 1, place.row + place.rows - 1)
      return `${from === to ? from : `${from} to ${to}`}: ${place.label.trim()}.`
    })
  return [`A card of ${width}, and ${height}.`, ...parts, note.trim()].filter(Boolean).join(' ')
}

/**
 * The card of a kit: a grid with letters and numbers at its edge, and the things that lie on it.
 * Drawn in lines only, so that a black and white printer loses nothing. What sticks out of the card
 * is cut at its edge.
 *
 * @param card    Cells and things; a card that is still being written may have things on each other.
 * @param options Width in pixels.
 * @returns The picture and its description.
 */
export function layOutKitCard(card: CardSpec, options: CardOptions): CardPicture {
  const { width, textScale = 1, bare = false } = options
  const { text, unit } = textSizes(width, textScale)
  const marks: Mark[] = []
  const pen = penOn(marks)
  const columns = inRange(card.columns, 1, MOST)
  const rows = inRange(card.rows, 1, MOST)
  const edge = 2 * unit
  const left = bare ? edge : text * 1.5
  const top = bare ? edge : text * 1.6
  const cell = (width - left - edge) / columns
  const right = left + columns * cell
  const bottom = top + rows * cell

  let grid = ''
  for (let c = 1; c < columns; c++)
    grid += `M${tenth(left + c * cell)},${tenth(top)}V${tenth(bottom)}`
  for (let r = 1; r < rows; r++) grid += `M${tenth(left)},${tenth(top + r * cell)}H${tenth(right)}`
  pen.path('grid', grid)
  for (let c = 0; c < columns && !bare; c++)
    pen.text(
      'tick-text',
      cellName(c, 0)[0]!,
      left + (c + 0.5) * cell,
      top - text * 0.5,
      text,
      'middle',
    )
  for (let r = 0; r < rows && !bare; r++)
    pen.text(
      'tick-text',
      String(r + 1),
      left - text * 0.5,
      top + (r + 0.5) * cell + text * 0.35,
      text,
      'end',
    )
  pen.path('card-frame', rectangle(left, top, right - left, bottom - top))

  const gap = Math.min(6 * unit, cell * 0.09)
  for (const place of card.places) {
    const column = inRange(place.column, 0, columns - 1)
    const row = inRange(place.row, 0, rows - 1)
    const room: Room = {
      x: left + column * cell + gap,
      y: top + row * cell + gap,
      width: inRange(place.columns, 1, columns - column) * cell - 2 * gap,
      height: inRange(place.rows, 1, rows - row) * cell - 2 * gap,
    }
    const label = drawThing(pen, place.shape, room, cell)
    if (!bare) drawLabel(pen, place.label.trim(), label, text)
  }
  return { width, height: Math.ceil(bottom + edge), unit, marks, description: describeCard(card) }
}

interface Room {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
}

/** Draws the shape; @returns where its label fits. */
function drawThing(pen: Pen, shape: ThingShape, room: Room, cell: number): Room {
  const { x, y, width, height } = room
  switch (shape) {
    case 'box':
      pen.path('thing', rectangle(x, y, width, height))
      return room
    case 'round': {
      const r = Math.min(width, height) / 2
      const [cx, cy] = [x + width / 2, y + height / 2]
      pen.circle('thing', cx, cy, r)
      pen.path('thing-line', circlePath(cx, cy, r * 0.86))
      const half = r * 0.8
      return { x: cx - half, y: cy - half * 0.7, width: half * 2, height: half * 1.4 }
    }
    case 'slim': {
      const thick = Math.min(width, height, cell) * 0.2
      const labelled = Math.min(height * 0.45, cell * 0.45)
      const [w, h] = height > width ? [thick, height - labelled] : [width, thick]
      const above = height > width ? y : y + Math.max(0, (height - labelled - thick) / 2)
      pen.path('thing', rounded(x + (width - w) / 2, above, w, h))
      return { x, y: above + h, width, height: y + height - above - h }
    }
    case 'fold': {
      const c = Math.min(width, height) * 0.3
      const [a, b] = [tenth(x + width), tenth(y)]
      pen.path(
        'thing',
        `M${tenth(x)},${b}H${tenth(x + width - c)}L${a},${tenth(y + c)}V${tenth(y + height)}H${tenth(x)}Z`,
      )
      pen.path('thing-line', `M${tenth(x + width - c)},${b}V${tenth(y + c)}H${a}`)
      return { x, y: y + c * 0.5, width: width - c * 0.2, height: height - c * 0.5 }
    }
    case 'arrow': {
      const head = Math.min(height * 0.6, width * 0.4)
      const [mid, neck] = [tenth(y + height / 2), x + width - head]
      const [upper, lower] = [tenth(y + height * 0.2), tenth(y + height * 0.8)]
      pen.path(
        'thing',
        `M${tenth(x)},${upper}H${tenth(neck)}V${tenth(y)}L${tenth(x + width)},${mid}L${tenth(neck)},${tenth(y + height)}V${lower}H${tenth(x)}Z`,
      )
      return { x, y: y + height * 0.2, width: width - head * 0.5, height: height * 0.6 }
    }
    case 'stack': {
      const s = Math.min(width, height) * 0.07
      const [w, h] = [width - 2 * s, height - 2 * s]
      for (const i of [2, 1, 0]) pen.path('thing', rectangle(x + i * s, y + i * s, w, h))
      return { x, y, width: w, height: h }
    }
  }
}

/** Words in the middle of a room, as large as they fit whole; a small room cuts them. */
function drawLabel(pen: Pen, label: string, room: Room, text: number) {
  if (label === '') return
  const width = room.width - text * 0.4
  let size = text * 1.15
  let lines: string[] = []
  for (const scale of [1.15, 1, 0.88, 0.78, 0.68]) {
    size = text * scale
    const most = Math.max(1, Math.floor(room.height / (size * 1.15)))
    lines = wrapText(label, width, size, most)
    const longest = Math.max(...label.split(/\s+/).map((word) => textWidth(word, size)))
    if (longest <= width && lines.join(' ') === label.replace(/\s+/g, ' ')) break
  }
  const step = size * 1.15
  const first = room.y + room.height / 2 - ((lines.length - 1) * step) / 2 + size * 0.35
  for (const [i, line] of lines.entries())
    pen.text('thing-text', line, room.x + room.width / 2, first + i * step, size, 'middle')
}

const rectangle = (x: number, y: number, width: number, height: number) =>
  `M${tenth(x)},${tenth(y)}h${tenth(width)}v${tenth(height)}h${tenth(-width)}Z`

function rounded(x: number, y: number, width: number, height: number): string {
  const r = tenth(Math.min(width, height) / 2)
  const [w, h] = [tenth(width - 2 * r), tenth(height - 2 * r)]
  const turn = (dx: number, dy: number) => `a${r},${r} 0 0 1 ${dx},${dy}`
  return `M${tenth(x + r)},${tenth(y)}h${w}${turn(r, r)}v${h}${turn(-r, r)}h${-w}${turn(-r, -r)}v${-h}${turn(r, -r)}Z`
}

function circlePath(cx: number, cy: number, radius: number): string {
  const r = tenth(radius)
  return `M${tenth(cx - r)},${tenth(cy)}a${r},${r} 0 1 0 ${2 * r},0a${r},${r} 0 1 0 ${-2 * r},0`
}

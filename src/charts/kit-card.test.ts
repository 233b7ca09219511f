import { describe, expect, it } from 'vitest'
import {
  type CardSpec,
  cellName,
  describeCard,
  layOutKitCard,
  type ThingShape,
} from './kit-card.ts'
import type { TextMark } from './marks.ts'
import { paintSvg } from './paint-svg.ts'

const thing = (
  label: string,
  column: number,
  row: number,
  shape: ThingShape = 'box',
  columns = 1,
  rows = 1,
) => ({
  label,
  column,
  row,
  columns,
  rows,
  shape,
})
const SHAPES: readonly ThingShape[] = ['box', 'round', 'slim', 'fold', 'arrow', 'stack']
const card: CardSpec = {
  columns: 6,
  rows: 2,
  places: SHAPES.map((shape, i) => thing(`Thing ${i}`, i, 0, shape)),
  note: 'All face up.',
}

/** Every number of every mark that is a place on the sheet, roughly: absolute moves and circles. */
function corners(picture: ReturnType<typeof layOutKitCard>): [number, number][] {
  return picture.marks.flatMap((mark): [number, number][] => {
    if (mark.shape === 'circle')
      return [
        [mark.cx - mark.r, mark.cy - mark.r],
        [mark.cx + mark.r, mark.cy + mark.r],
      ]
    if (mark.shape === 'text') return [[mark.x, mark.y]]
    return [...mark.d.matchAll(/[ML]([-\d.]+),([-\d.]+)/g)].map((m) => [Number(m[1]), Number(m[2])])
  })
}

describe('the card of a kit', () => {
  it('names cells as a map does', () => {
    expect(cellName(0, 0)).toBe('A1')
    expect(cellName(11, 11)).toBe('L12')
  })

  it('is told in words, in reading order whatever the order of the list', () => {
    const places = [thing('Ruler', 1, 1, 'slim', 4, 1), thing('Cup ', 2, 0, 'round')]
    expect(describeCard({ columns: 6, rows: 2, places, note: 'Cup upright.' })).toBe(
      'A card of 6 columns, A to F, and 2 rows. C1: Cup. B2 to E2: Ruler. Cup upright.',
    )
  })

  it.each([200, 360, 720, 1600])('keeps everything inside %i px', (width) => {
    const picture = layOutKitCard(card, { width })
    for (const [x, y] of corners(picture)) {
      expect(x).toBeGreaterThanOrEqual(0)
      expect(x).toBeLessThanOrEqual(width)
      expect(y).toBeGreaterThanOrEqual(0)
      expect(y).toBeLessThanOrEqual(picture.height)
    }
  })

  it('draws square cells, so that a wide card is low', () => {
    const wide = layOutKitCard({ columns: 8, rows: 2, places: [] }, { width: 800, bare: true })
    expect(wide.height / wide.width).toBeCloseTo(2 / 8, 1)
  })

  it('draws each shape differently', () => {
    const drawn = SHAPES.map((shape) => {
      const one = { columns: 1, rows: 1, places: [thing('', 0, 0, shape)] }
      return JSON.stringify(layOutKitCard(one, { width: 100 }).marks.slice(-3))
    })
    expect(new Set(drawn).size).toBe(SHAPES.length)
  })

  it('shows labels whole where they fit, in smaller letters where they must', () => {
    const long = { columns: 4, rows: 1, places: [thing('Diamonds two to ten', 0, 0, 'stack')] }
    const texts = layOutKitCard(long, { width: 480 }).marks.filter(
      (mark): mark is TextMark => mark.role === 'thing-text',
    )
    expect(texts.map(({ text }) => text).join(' ')).toBe('Diamonds two to ten')
  })

  it('has neither words nor cell names when it is bare', () => {
    const marks = layOutKitCard(card, { width: 160, bare: true }).marks
    expect(marks.some(({ shape }) => shape === 'text')).toBe(false)
  })

  it('draws a card that is still being written: outside, on each other, not a number', () => {
    const places = [
      thing('a', 9, 9),
      thing('b', 0, 0, 'box', 40, 1),
      thing('c', Number.NaN, 0, 'slim'),
    ]
    const picture = layOutKitCard({ columns: 2, rows: 2, places }, { width: 300 })
    expect(paintSvg(picture)).not.toContain('NaN')
    for (const [x, y] of corners(picture)) {
      expect(x).toBeLessThanOrEqual(300)
      expect(y).toBeLessThanOrEqual(picture.height)
    }
  })

  it('is painted as an SVG with its description', () => {
    const picture = layOutKitCard(card, { width: 400 })
    const svg = paintSvg(picture, undefined, { title: 'Card', description: picture.description })
    expect(svg).toContain('<desc>A card of 6 columns, A to F, and 2 rows.')
    expect(svg).toContain('Thing 3')
  })
})

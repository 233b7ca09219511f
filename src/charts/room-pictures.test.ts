import { describe, expect, it } from 'vitest'
import { overlap, textBox } from './boxes.ts'
import type { CircleMark, MarkRole, Picture, TextMark } from './marks.ts'
import { layOutRoomCurve } from './room-curve.ts'
import { layOutRoomErrors } from './room-errors.ts'
import type { RoomPoint } from './room-frame.ts'
import { layOutRoomScatter } from './room-scatter.ts'
import { layOutRoomSpread } from './room-spread.ts'
import { layOutRoomTimes } from './room-times.ts'

const NAMES = [
  'Kestrel',
  'Heron',
  'Wren',
  'Plover',
  'Finch',
  'Swift',
  'Curlew',
  'Avocet',
  'Dunlin',
  'Lapwing',
  'Goldcrest',
  'Kingfisher',
]

/** A class of any size, always the same. */
function points(tables: number, rounds: number): RoomPoint[] {
  return NAMES.slice(0, tables).flatMap((table, k) =>
    Array.from({ length: rounds }, (_, i) => {
      const seconds = Math.round((95 + ((k * 37) % 40)) * (i + 1) ** -0.5)
      return {
        table,
        round: i + 1,
        turn: i + 1,
        seconds,
        right: 12 - ((k + i) % 4),
        inspected: 12,
        // Every fifth table predicts longer than it takes.
        predicted:
          k % 5 === 4
            ? { low: seconds + 4, expected: seconds + 6, high: seconds + 8 }
            : { low: seconds - 12 + (k % 5) * 4, expected: seconds, high: seconds + 8 },
      }
    }),
  )
}
const SIZES = [
  { width: 1800, height: 700, text: 28 },
  { width: 1280, height: 470, text: 20 },
  { width: 3600, height: 1400, text: 56 },
]
const medians = (rounds: number) =>
  Array.from({ length: rounds }, (_, i) => ({ round: i + 1, seconds: 100 * (i + 1) ** -0.5 }))

function pictures(tables: number, rounds: number, size: (typeof SIZES)[number]) {
  const spec = { points: points(tables, rounds), ...size }
  return {
    times: layOutRoomTimes({ ...spec, round: rounds }),
    curve: layOutRoomCurve({ ...spec, curve: { first: 110, exponent: -0.5 } }),
    spread: layOutRoomSpread({ ...spec, medians: medians(rounds) }),
    errors: layOutRoomErrors(spec),
    scatter: layOutRoomScatter({ ...spec, round: rounds }),
  }
}

const textsOf = (picture: Picture) =>
  picture.marks.filter((mark): mark is TextMark => mark.shape === 'text')
const circlesOf = (picture: Picture, role: MarkRole) =>
  picture.marks.filter((mark): mark is CircleMark => mark.shape === 'circle' && mark.role === role)
const boxOf = (t: TextMark) =>
  textBox(t.text, t.x, t.y, t.size, t.anchor, t.role === 'title' || t.role === 'letter')

/** Every pair of absolute coordinates of a path. */
const placesOf = (d: string) =>
  [...d.matchAll(/[ML]?(-?\d+(?:\.\d+)?),(-?\d+(?:\.\d+)?)/g)].map(([, x, y]) => ({
    x: Number(x),
    y: Number(y),
  }))

describe.each(SIZES)('pictures for the room at $width × $height', (size) => {
  const cases = [1, 2, 6, 12].flatMap((tables) => [1, 3, 8].map((rounds) => ({ tables, rounds })))

  it.each(cases)('keep $tables tables and $rounds rounds inside', ({ tables, rounds }) => {
    for (const [name, picture] of Object.entries(pictures(tables, rounds, size))) {
      for (const text of textsOf(picture)) {
        const box = boxOf(text)
        // The width of letters is an estimate on the wide side.
        const slack = size.text * 0.5
        expect(box.x, `${name}: ${text.text}`).toBeGreaterThanOrEqual(-slack)
        expect(box.x + box.width, `${name}: ${text.text}`).toBeLessThanOrEqual(size.width + slack)
        expect(box.y, `${name}: ${text.text}`).toBeGreaterThanOrEqual(-slack)
        expect(box.y + box.height, `${name}: ${text.text}`).toBeLessThanOrEqual(size.height + slack)
        expect(text.size, `${name}: ${text.text}`).toBeGreaterThanOrEqual(size.text)
      }
      for (const mark of picture.marks) {
        const places =
          mark.shape === 'circle'
            ? [{ x: mark.cx, y: mark.cy }]
            : mark.shape === 'path'
              ? placesOf(mark.d)
              : []
        for (const { x, y } of places) {
          expect(x, `${name}: ${mark.role}`).toBeGreaterThanOrEqual(0)
          expect(x, `${name}: ${mark.role}`).toBeLessThanOrEqual(size.width)
          expect(y, `${name}: ${mark.role}`).toBeGreaterThanOrEqual(0)
          expect(y, `${name}: ${mark.role}`).toBeLessThanOrEqual(size.height)
        }
      }
    }
  })

  it('keep the words under twelve tables apart', () => {
    const picture = pictures(12, 4, size).times
    const under = textsOf(picture).filter((t) =>
      ['title', 'tooth-text', 'tick-text'].includes(t.role),
    )
    for (const [i, a] of under.entries())
      for (const b of under.slice(i + 1))
        expect(overlap(boxOf(a), boxOf(b)), `${a.text} on ${b.text}`).toBe(false)
  })

  it('keep the names at the ends of twelve lines apart', () => {
    const names = textsOf(pictures(12, 3, size).curve).filter((t) => t.role === 'tooth-text')
    expect(names).toHaveLength(12)
    const ys = names.map((t) => t.y).sort((a, b) => a - b)
    for (const [i, y] of ys.slice(1).entries())
      expect(y - ys[i]!).toBeGreaterThanOrEqual(size.text * 0.98)
  })
})

describe('times of all tables', () => {
  const at = { width: 1800, height: 700, text: 28 }
  const spec = { points: points(6, 3), ...at, round: 3 }

  it('draws one dot of the round for each table, lower where it was quicker', () => {
    const dots = circlesOf(layOutRoomTimes(spec), 'outcome')
    expect(dots).toHaveLength(6)
    const order = spec.points.filter((p) => p.round === 3)
    for (const [i, a] of order.entries())
      for (const [j, b] of order.entries())
        if (a.seconds! < b.seconds!) expect(dots[i]!.cy).toBeGreaterThan(dots[j]!.cy)
  })

  it('puts a dot between the ends of its bracket exactly where it held', () => {
    const picture = layOutRoomTimes(spec)
    const brackets = picture.marks.filter((m) => m.role === 'bracket')
    const dots = circlesOf(picture, 'outcome')
    const order = spec.points.filter((p) => p.round === 3)
    expect(brackets).toHaveLength(6)
    for (const [i, p] of order.entries()) {
      const mark = brackets[i]!
      const ys = mark.shape === 'path' ? placesOf(mark.d).map((place) => place.y) : []
      const between = dots[i]!.cy >= Math.min(...ys) && dots[i]!.cy <= Math.max(...ys)
      expect(between).toBe(p.seconds! >= p.predicted!.low && p.seconds! <= p.predicted!.high)
    }
  })

  it('says in words, under each table, what the bracket shows', () => {
    const mixed = spec.points.map((p) =>
      p.table === 'Heron' && p.round === 3 ? { ...p, seconds: 20 } : p,
    )
    const texts = textsOf(layOutRoomTimes({ ...spec, points: mixed })).map((t) => t.text)
    expect(texts.some((text) => text.startsWith('quicker'))).toBe(true)
  })

  it('draws no bracket for a prediction that may not be seen, and says so', () => {
    const hidden = spec.points.map((p) => ({ ...p, predicted: null }))
    const picture = layOutRoomTimes({ ...spec, points: hidden })
    expect(picture.marks.filter((m) => ['bracket', 'fan'].includes(m.role))).toEqual([])
    expect(textsOf(picture).map((t) => t.text)).toContain('no prediction')
  })

  it('shows a table without a time as waiting, with its bracket', () => {
    const open = spec.points.map((p) =>
      p.table === 'Wren' && p.round === 3 ? { ...p, seconds: null, right: null } : p,
    )
    const picture = layOutRoomTimes({ ...spec, points: open })
    expect(circlesOf(picture, 'outcome')).toHaveLength(5)
    expect(picture.marks.filter((m) => m.role === 'bracket')).toHaveLength(6)
    expect(picture.description).toContain('Wren: round 1')
  })

  it('describes every table with times, range and quality', () => {
    const { description } = layOutRoomTimes(spec)
    for (const table of NAMES.slice(0, 6)) expect(description).toContain(`${table}: round 1`)
    expect(description).toMatch(/predicted 0:\d\d to \d:\d\d: as predicted; \d+ of 12 right/)
  })

  it('fits an axis that holds a prediction far above every time', () => {
    const far = spec.points.map((p, i) =>
      i === 2 ? { ...p, predicted: { low: 200, expected: 240, high: 300 } } : p,
    )
    expect(textsOf(layOutRoomTimes({ ...spec, points: far })).map((t) => t.text)).toContain('5:00')
  })
})

describe('names of up to sixteen letters', () => {
  const LONG = ['Theatre Recovery', 'Physiotherapist', 'Day Surgery Unit', 'Wren']
  const longNames = (tables: number, rounds: number) =>
    points(tables, rounds).map((p) => ({
      ...p,
      table: `${LONG[NAMES.indexOf(p.table) % 4]!}${NAMES.indexOf(p.table) < 4 ? '' : '.'.repeat(NAMES.indexOf(p.table) >> 2)}`,
    }))
  const PHONE = { width: 318, height: 500, text: 14 }

  it.each([...SIZES.map((size) => [size.width, size] as const)])(
    'stand whole in every picture of twelve tables, %s pixels wide',
    (_width, size) => {
      const spec = { points: longNames(12, 4), ...size }
      for (const picture of [
        layOutRoomTimes({ ...spec, round: 4 }),
        layOutRoomCurve({ ...spec, curve: { first: 110, exponent: -0.5 } }),
        layOutRoomSpread({ ...spec, medians: medians(4) }),
        layOutRoomScatter({ ...spec, round: 4 }),
      ])
        expect(textsOf(picture).filter(({ text }) => /.…$/.test(text))).toEqual([])
    },
  )

  it('stand whole on a phone: a few tables at a time, or in lines below', () => {
    const spec = { points: longNames(12, 4), ...PHONE }
    const tables = [...new Set(spec.points.map((p) => p.table))]
    for (let i = 0; i < 12; i += 3) {
      const only = tables.slice(i, i + 3)
      const texts = textsOf(layOutRoomTimes({ ...spec, height: 266, round: 4, only }))
      const titles = texts.filter(({ role }) => role === 'title').map(({ text }) => text)
      expect(titles.join(' ').split(' ').sort()).toEqual(only.join(' ').split(' ').sort())
    }
    const spread = layOutRoomSpread({ ...spec, medians: medians(4) })
    expect(spread.lines).toHaveLength(4)
    expect(spread.lines![0]).toMatch(/^Round 1: .* to .*\d:\d\d$/)
    const curve = layOutRoomCurve({ ...spec, curve: { first: 110, exponent: -0.5 } })
    for (const picture of [spread, curve])
      expect(textsOf(picture).filter(({ text }) => /.…$/.test(text))).toEqual([])
  })
})

describe('the class curve', () => {
  const spec = { points: points(3, 3), width: 1800, height: 700, text: 28 }

  it('goes through the fitted times and one go further', () => {
    const picture = layOutRoomCurve({ ...spec, curve: { first: 120, exponent: -0.5 } })
    expect(textsOf(picture).map((t) => t.text)).toContain('typical 1:00')
    expect(textsOf(picture).map((t) => t.text)).toContain('next')
  })

  it('is left out where nothing was fitted', () => {
    const picture = layOutRoomCurve({ ...spec, curve: null })
    expect(picture.marks.filter((m) => ['center', 'projection'].includes(m.role))).toEqual([])
    expect(picture.description).toContain('No curve is fitted.')
  })
})

describe('how far predictions were off', () => {
  const base = points(4, 1)
  const at = { width: 1800, height: 700, text: 28 }

  it('counts a bracket that crosses the line as held', () => {
    const off = base.map((p, i) =>
      i === 0 ? { ...p, predicted: { low: 10, expected: 11, high: 12 } } : p,
    )
    const texts = textsOf(layOutRoomErrors({ points: off, ...at })).map((t) => t.text)
    expect(texts).toContain('3 of 4 held')
  })

  it('draws twice as much and half as much at the same distance from the line', () => {
    const two = base.slice(0, 2).map((p, i) => {
      const expected = p.seconds! * (i === 0 ? 2 : 0.5)
      return { ...p, predicted: { low: expected, expected, high: expected } }
    })
    const picture = layOutRoomErrors({ points: two, ...at })
    const line = picture.marks.find((m) => m.role === 'center')
    const middle = line?.shape === 'path' ? placesOf(line.d)[0]!.y : 0
    const [a, b] = picture.marks
      .filter((m) => m.role === 'bracket')
      .map((m) => (m.shape === 'path' ? placesOf(m.d)[0]!.y : 0))
    expect(middle - a!).toBeCloseTo(b! - middle, 0)
  })
})

describe('time against quality', () => {
  it('puts a quicker table to the left and a better one higher', () => {
    const [a, b] = [
      { ...points(1, 1)[0]!, table: 'Quick', seconds: 40, right: 9 },
      { ...points(1, 1)[0]!, table: 'Right', seconds: 80, right: 12 },
    ]
    const picture = layOutRoomScatter({
      points: [a, b],
      round: 1,
      width: 1800,
      height: 700,
      text: 28,
    })
    const [quick, right] = circlesOf(picture, 'outcome')
    expect(quick!.cx).toBeLessThan(right!.cx)
    expect(quick!.cy).toBeGreaterThan(right!.cy)
    const names = textsOf(picture).map((t) => t.text)
    expect(names).toEqual(expect.arrayContaining(['Quick', 'Right']))
  })
})

describe('the spread between tables', () => {
  it('names the quickest and the slowest of each round', () => {
    const picture = layOutRoomSpread({
      points: points(6, 2),
      medians: medians(2),
      width: 1800,
      height: 700,
      text: 28,
    })
    expect(picture.description).toMatch(/Round 1: 6 tables, quickest Kestrel 1:35, slowest/)
    expect(textsOf(picture).some((t) => t.text.startsWith('Kestrel 1:35'))).toBe(true)
  })
})

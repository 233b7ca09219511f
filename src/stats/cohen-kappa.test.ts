import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { blandAltman } from './bland-altman.ts'
import { cohenKappa } from './cohen-kappa.ts'

const COHEN = [
  [88, 14, 18],
  [10, 40, 10],
  [2, 6, 12],
]

describe('AG1 kappa', () => {
  it('gives .492 for the example of Cohen (1960), Educ Psychol Meas 20:37', () => {
    const k = cohenKappa(COHEN)
    expect(k.observed).toBeCloseTo(0.7, 12)
    expect(k.expected).toBeCloseTo(0.41, 12)
    expect(k.estimate.toFixed(3)).toBe('0.492')
    // Standard errors of Fleiss, Cohen & Everitt (1969), recomputed with statsmodels.
    expect(k.standardError).toBeCloseTo(0.0510018155761, 10)
    expect(k.standardErrorAtZero).toBeCloseTo(0.0519789363566, 10)
  })

  it('gives .348 for the weighted example of Cohen (1968), Psychol Bull 70:213, table 1', () => {
    const weights = [
      [0, 1, 3],
      [1, 0, 6],
      [3, 6, 0],
    ]
    const k = cohenKappa(COHEN, { weights })
    expect(k.estimate.toFixed(3)).toBe('0.348')
    expect(k.estimate).toBeCloseTo(0.347826086957, 11)
    expect(k.standardError).toBeCloseTo(0.0755040152548, 10)
    expect(k.standardErrorAtZero).toBeCloseTo(0.0597199935595, 10)
  })

  /** Widely reprinted two-way tables; intervals recomputed with statsmodels. */
  it.each([
    {
      table: [
        [20, 5],
        [10, 15],
      ],
      kappa: 0.4,
      lower: 0.151092290476661,
      upper: 0.6489077095233389,
    },
    {
      table: [
        [45, 15],
        [25, 15],
      ],
      kappa: 0.1304,
      lower: -0.06293827779258965,
      upper: 0.3238078430099807,
    },
    {
      table: [
        [25, 35],
        [5, 35],
      ],
      kappa: 0.2593,
      lower: null,
      upper: null,
    },
  ])('gives $kappa for $table', ({ table, kappa, lower, upper }) => {
    const k = cohenKappa(table)
    expect(k.estimate).toBeCloseTo(kappa, 4)
    if (lower !== null) expect(k.lower).toBeCloseTo(lower, 8)
    if (upper !== null) expect(k.upper).toBeCloseTo(upper, 8)
  })

  const tables = fc.integer({ min: 2, max: 5 }).chain((k) =>
    fc.array(fc.array(fc.integer({ min: 1, max: 50 }), { minLength: k, maxLength: k }), {
      minLength: k,
      maxLength: k,
    }),
  )

  it('does not mind which inspector is which, or the order of unordered categories', () => {
    fc.assert(
      fc.property(tables, (table) => {
        const plain = cohenKappa(table)
        const turned = cohenKappa(table.map((_, i) => table.map((row) => row[i]!)))
        const reversed = cohenKappa([...table].reverse().map((row) => [...row].reverse()))
        expect(turned.estimate).toBeCloseTo(plain.estimate, 12)
        expect(turned.standardError).toBeCloseTo(plain.standardError, 12)
        expect(reversed.estimate).toBeCloseTo(plain.estimate, 12)
        expect(plain.estimate).toBeLessThanOrEqual(1)
      }),
    )
  })

  it('is 1 where both always agree, and all weightings are the same for two categories', () => {
    expect(
      cohenKappa([
        [7, 0],
        [0, 9],
      ]),
    ).toMatchObject({ estimate: 1, standardError: 0 })
    const table = [
      [12, 3],
      [4, 20],
    ]
    const plain = cohenKappa(table)
    expect(cohenKappa(table, { weights: 'linear' })).toEqual(plain)
    expect(cohenKappa(table, { weights: 'quadratic' })).toEqual(plain)
  })

  it.each([
    [[[1, 2]], 'stats.bad_table'],
    [[[1, 2], [3]], 'stats.bad_table'],
    [[[5]], 'stats.bad_table'],
    [
      [
        [0, 0],
        [0, 0],
      ],
      'stats.out_of_range',
    ],
    [
      [
        [9, 0],
        [0, 0],
      ],
      'stats.constant',
    ],
    [
      [
        [9, Number.NaN],
        [0, 0],
      ],
      'stats.not_finite',
    ],
  ])('refuses %j', (table, code) => {
    expect(() => cohenKappa(table)).toThrow(expect.objectContaining({ code }))
  })

  it('names the cell that is not a count', () => {
    expect(() =>
      cohenKappa([
        [1, 2],
        [-3, 4],
      ]),
    ).toThrow('Row 2, column 1 of the table is -3')
  })
})

describe('AG2 Bland–Altman', () => {
  /** Peak flow of 17 subjects, l/min, first readings of two meters: Bland & Altman (1986), Lancet 327:307, table 1. */
  const WRIGHT = [
    494, 395, 516, 434, 476, 557, 413, 442, 650, 433, 417, 656, 267, 478, 178, 423, 427,
  ]
  const MINI = [512, 430, 520, 428, 500, 600, 364, 380, 658, 445, 432, 626, 260, 477, 259, 350, 451]

  it('prints the bias and limits of the paper, which takes 2 standard deviations', () => {
    const { bias, sd, lowerLimit, upperLimit } = blandAltman(WRIGHT, MINI, { multiplier: 2 })
    expect(bias.estimate.toFixed(1)).toBe('-2.1')
    expect(sd.toFixed(1)).toBe('38.8')
    // Printed −79.7 and 75.5 follow from the rounded bias and deviation.
    expect(Math.abs(lowerLimit.estimate + 79.7)).toBeLessThan(0.1)
    expect(Math.abs(upperLimit.estimate - 75.5)).toBeLessThan(0.1)
  })

  it('takes 1.96 unless told otherwise (recomputed)', () => {
    const { lowerLimit, upperLimit } = blandAltman(WRIGHT, MINI)
    expect(lowerLimit.estimate).toBeCloseTo(-78.0973016111, 9)
    expect(upperLimit.estimate).toBeCloseTo(73.8620074934, 9)
  })

  it('follows shift, scale and reversal', () => {
    const list = fc.array(
      fc.tuple(fc.integer({ min: -99, max: 99 }), fc.integer({ min: -99, max: 99 })),
      { minLength: 3, maxLength: 20 },
    )
    fc.assert(
      fc.property(list, fc.integer({ min: -50, max: 50 }), (pairs, c) => {
        const a = pairs.map(([x]) => x)
        const b = pairs.map(([, y]) => y)
        const plain = blandAltman(a, b)
        const moved = blandAltman(
          a.map((x) => 2 * x + c),
          b.map((y) => 2 * y),
        )
        const turned = blandAltman(b, a)
        expect(moved.bias.estimate).toBeCloseTo(2 * plain.bias.estimate + c, 9)
        expect(moved.sd).toBeCloseTo(2 * plain.sd, 9)
        expect(turned.upperLimit.estimate).toBeCloseTo(-plain.lowerLimit.estimate, 9)
        expect(turned.upperLimit.upper).toBeCloseTo(-plain.lowerLimit.lower, 9)
      }),
    )
  })

  it('collapses onto the bias where both always differ by the same', () => {
    const { bias, lowerLimit, upperLimit } = blandAltman([3, 5, 9], [1, 3, 7])
    expect([bias.estimate, lowerLimit.lower, upperLimit.upper]).toEqual([2, 2, 2])
  })

  it('refuses two items, or lists of different lengths', () => {
    expect(() => blandAltman([1, 2], [1, 2])).toThrow(
      expect.objectContaining({ code: 'stats.too_few_points' }),
    )
    expect(() => blandAltman([1, 2, 3], [1, 2])).toThrow(
      expect.objectContaining({ code: 'stats.length_mismatch' }),
    )
  })
})

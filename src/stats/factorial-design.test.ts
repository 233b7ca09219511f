import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { PUBLISHED_EXPERIMENTS } from '../../tests/reference/factorial-experiments.ts'
import { effectColumn, factorialDesign } from './factorial-design.ts'
import { factorialEffects } from './factorial-effects.ts'
import { halfNormalScores, lenth } from './lenth.ts'
import { runOrder } from './run-order.ts'

/** Unreplicated 2^4: Montgomery (2013), example 6.2. */
const FILTRATION = PUBLISHED_EXPERIMENTS[0]!
const table = (found: ReturnType<typeof factorialEffects>) =>
  Object.fromEntries(found.effects.map((e) => [e.effect, e.estimate]))

describe('EF7 factorial effects', () => {
  it('gives all fifteen printed effects of the filtration rate', () => {
    const found = factorialEffects(factorialDesign(4), FILTRATION.responses)
    expect(table(found)).toEqual(FILTRATION.effects)
    expect(found.mean).toBe(70.0625)
    const squares = Object.fromEntries(found.effects.map((e) => [e.effect, e.sumOfSquares]))
    expect(squares).toMatchObject({
      A: 1870.5625,
      C: 390.0625,
      D: 855.5625,
      AC: 1314.0625,
      AD: 1105.5625,
    })
    expect(found.errorMeanSquare).toBeNull()
  })

  it('gives the printed effects of the pilot plant (Box, Hunter & Hunter 1978, table 10.1–10.4)', () => {
    const found = factorialEffects(factorialDesign(3), [60, 72, 54, 68, 52, 83, 45, 80])
    expect(table(found)).toEqual({ A: 23, B: -5, AB: 1.5, C: 1.5, AC: 10, BC: 0, ABC: 0.5 })
    expect(found.mean).toBe(64.25)
  })

  it('tests replicated effects against their error (Montgomery 2013, table 6.1)', () => {
    const cells = [
      [28, 25, 27],
      [36, 32, 32],
      [18, 19, 23],
      [31, 30, 29],
    ]
    const found = factorialEffects(factorialDesign(2), cells)
    const [a, b, ab] = found.effects
    expect([a!.estimate.toFixed(2), b!.estimate.toFixed(2), ab!.estimate.toFixed(2)]).toEqual([
      '8.33',
      '-5.00',
      '1.67',
    ])
    expect([
      a!.sumOfSquares.toFixed(2),
      b!.sumOfSquares.toFixed(2),
      ab!.sumOfSquares.toFixed(2),
    ]).toEqual(['208.33', '75.00', '8.33'])
    expect(found.errorDf).toBe(8)
    expect(found.errorMeanSquare).toBeCloseTo(3.91666666667, 10)
    expect(found.standardError).toBeCloseTo(1.14260910007, 10)
    expect(a!.p).toBeCloseTo(8.44371693001e-5, 12)
    expect(ab!.p).toBeCloseTo(0.18277648068, 10)
  })

  it('judges curvature from five centre points (Montgomery 2013, example 6.6)', () => {
    const found = factorialEffects(
      factorialDesign(2),
      [39.3, 40.9, 40, 41.5],
      [40.3, 40.5, 40.7, 40.2, 40.6],
    )
    expect(found.effects.map((e) => e.estimate.toFixed(2))).toEqual(['1.55', '0.65', '-0.05'])
    expect(found.errorMeanSquare!.toFixed(4)).toBe('0.0430')
    expect(found.curvature!.sumOfSquares.toFixed(4)).toBe('0.0027')
    expect(found.curvature!.f!.toFixed(3)).toBe('0.063')
  })

  it('gives the printed effects of the half fraction I = ABCD (Montgomery 2013, example 8.1)', () => {
    const design = factorialDesign(4, { generators: ['D=ABC'] })
    expect(design.definingRelation).toEqual(['ABCD'])
    expect(design.resolution).toBe(4)
    const found = factorialEffects(design, [45, 100, 45, 65, 75, 60, 80, 96])
    expect(table(found)).toEqual({ A: 19, B: 1.5, AB: -1, C: 14, AC: -18.5, AD: 19, D: 16.5 })
    expect(design.aliasSets.map((s) => [s.effect, ...s.aliases].join('='))).toEqual([
      'A=BCD',
      'B=ACD',
      'AB=CD',
      'C=ABD',
      'AC=BD',
      'AD=BC',
      'D=ABC',
    ])
  })

  it('lists the defining relation of the 2^(6−2) with E = ABC, F = BCD (Montgomery 2013, section 8.3)', () => {
    const design = factorialDesign(6, { generators: ['E=ABC', 'F=BCD'] })
    expect([...design.definingRelation].sort()).toEqual(['ABCE', 'ADEF', 'BCDF'])
    expect(design.resolution).toBe(4)
    const ab = design.aliasSets.find((s) => s.effect === 'AB')!
    expect(ab.aliases).toContain('CE')
    const a = design.aliasSets.find((s) => s.effect === 'A')!
    expect([...a.aliases].sort()).toEqual(['BCE', 'DEF'])
  })

  it('lists the sixteenth fraction of seven factors in eight runs as resolution 3 (Montgomery 2013, table 8.14)', () => {
    const design = factorialDesign(7, { generators: ['D=AB', 'E=AC', 'F=BC', 'G=ABC'] })
    expect(design.runs.length).toBe(8)
    expect(design.resolution).toBe(3)
    expect(design.definingRelation.length).toBe(15)
    const a = design.aliasSets.find((s) => s.effect === 'A')!
    expect(a.aliases.filter((w) => w.length === 2)).toEqual(['BD', 'CE', 'FG'])
  })

  it('turns the sign of aliases with a negative generator', () => {
    const design = factorialDesign(3, { generators: ['C=-AB'] })
    expect(design.definingRelation).toEqual(['-ABC'])
    expect(design.aliasSets[0]).toEqual({ effect: 'A', aliases: ['-BC'] })
    const product = effectColumn(design, 'BC').map((s) => -s + 0)
    expect(effectColumn(design, 'A')).toEqual(product)
  })

  it('has columns that are balanced, at right angles, and equal to their aliases', () => {
    const designs = [
      factorialDesign(5),
      factorialDesign(5, { generators: ['E=ABCD'] }),
      factorialDesign(8, { generators: ['E=BCD', 'F=ACD', 'G=ABC', 'H=-ABD'] }),
    ]
    for (const design of designs) {
      const columns = design.aliasSets.map((s) => effectColumn(design, s.effect))
      columns.forEach((one, i) => {
        expect(one.reduce((a, b) => a + b, 0)).toBe(0)
        columns.slice(i + 1).forEach((two) => {
          expect(one.reduce((sum, s, r) => sum + s * two[r]!, 0)).toBe(0)
        })
        for (const alias of design.aliasSets[i]!.aliases) {
          const sign = alias.startsWith('-') ? -1 : 1
          expect(effectColumn(design, alias.replace('-', '')).map((s) => sign * s)).toEqual(one)
        }
      })
    }
  })

  it('turns effects over when the responses do, and leaves the mean out of a shift', () => {
    const y = fc.array(fc.integer({ min: -100, max: 100 }), { minLength: 8, maxLength: 8 })
    fc.assert(
      fc.property(y, fc.integer({ min: -99, max: 99 }), (responses, c) => {
        const design = factorialDesign(3)
        const plain = factorialEffects(design, responses)
        const turned = factorialEffects(
          design,
          responses.map((v) => c - 2 * v),
        )
        plain.effects.forEach((e, i) => {
          expect(turned.effects[i]!.estimate).toBeCloseTo(-2 * e.estimate, 9)
        })
        // Responses come back from mean and effects.
        design.runs.forEach((_, r) => {
          const back = plain.effects.reduce(
            (sum, e) => sum + (e.estimate / 2) * effectColumn(design, e.effect)[r]!,
            plain.mean,
          )
          expect(back).toBeCloseTo(responses[r]!, 9)
        })
      }),
    )
  })

  it.each([
    [4, ['D=ABD'], 'D is not a basic factor'],
    [4, ['D=AAB'], 'A stands twice'],
    [4, ['C=AB'], 'must set factor D'],
    [4, ['ABCD'], 'not of the form'],
    [4, ['D=ABZ'], 'Z is not a basic factor'],
  ])('refuses %i factors with %j: %s', (factors, generators, message) => {
    expect(() => factorialDesign(factors, { generators })).toThrow(message)
  })

  it('refuses one factor, too many, a missing run and an uneven one', () => {
    expect(() => factorialDesign(1)).toThrow(
      expect.objectContaining({ code: 'stats.out_of_range' }),
    )
    expect(() => factorialDesign(11)).toThrow(
      expect.objectContaining({ code: 'stats.out_of_range' }),
    )
    expect(() => factorialEffects(factorialDesign(2), [1, 2, 3])).toThrow('4 runs but 3 responses')
    expect(() => factorialEffects(factorialDesign(2), [[1, 2], [1, 2], [1], [1, 2]])).toThrow(
      'Run 3 has 1',
    )
    expect(() => factorialEffects(factorialDesign(2), [1, 2, Number.NaN, 4])).toThrow(
      expect.objectContaining({ details: { index: 2, value: Number.NaN } }),
    )
  })
})

describe('EF7 run order', () => {
  it('holds every run once in each replicate, and depends on the seed alone', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 64 }),
        fc.nat(1e9),
        fc.integer({ min: 1, max: 4 }),
        (runs, seed, replicates) => {
          const order = runOrder(runs, seed, replicates)
          expect(order).toEqual(runOrder(runs, seed, replicates))
          for (let r = 0; r < replicates; r++) {
            const block = order.slice(r * runs, (r + 1) * runs).sort((a, b) => a - b)
            expect(block).toEqual(Array.from({ length: runs }, (_, i) => i))
          }
        },
      ),
    )
  })

  it('puts every run in every place about equally often', () => {
    const places = new Array<number>(6).fill(0)
    for (let seed = 0; seed < 6000; seed++) places[runOrder(6, seed).indexOf(2)]!++
    for (const count of places) expect(Math.abs(count - 1000)).toBeLessThan(150)
  })
})

describe('EF8 Lenth', () => {
  it('gives PSE 2.625, ME 6.748 and SME 13.699 for the filtration rate, as printed', () => {
    const { s0, pse, df, marginOfError, simultaneousMargin } = lenth(
      Object.values(FILTRATION.effects),
    )
    expect(s0).toBe(3.9375)
    expect(pse).toBe(2.625)
    expect(df).toBe(5)
    expect(marginOfError.toFixed(3)).toBe('6.748')
    expect(simultaneousMargin.toFixed(3)).toBe('13.699')
    const active = Object.entries(FILTRATION.effects).filter(([, e]) => Math.abs(e) > marginOfError)
    expect(active.map(([name]) => name)).toEqual(['A', 'C', 'AC', 'D', 'AD'])
  })

  it('follows the definition for seven effects (Lenth 1989, Technometrics 31:469; recomputed)', () => {
    const { pse, marginOfError, simultaneousMargin } = lenth([1.2, -0.4, 8.3, 0.3, -0.7, 0.1, 0.5])
    expect(pse).toBeCloseTo(0.675, 12)
    expect(marginOfError).toBeCloseTo(2.54078307367, 9)
    expect(simultaneousMargin).toBeCloseTo(6.08060730191, 8)
  })

  it('follows scale, ignores sign and order, and is 0 where most effects are', () => {
    const effects = fc.array(fc.integer({ min: -100, max: 100 }), { minLength: 3, maxLength: 31 })
    fc.assert(
      fc.property(effects, (e) => {
        const plain = lenth(e)
        const other = lenth([...e].reverse().map((x) => -3 * x))
        expect(other.pse).toBeCloseTo(3 * plain.pse, 9)
        expect(plain.simultaneousMargin).toBeGreaterThanOrEqual(plain.marginOfError)
      }),
    )
    expect(lenth([0, 0, 0, 7])).toMatchObject({ pse: 0, marginOfError: 0 })
  })

  it('sets the sizes against rising half-normal scores', () => {
    const scores = halfNormalScores(Object.values(FILTRATION.effects))
    expect(scores.at(-1)).toMatchObject({ index: 0, size: 21.625 })
    scores.slice(1).forEach((s, i) => {
      expect(s.score).toBeGreaterThan(scores[i]!.score)
      expect(s.size).toBeGreaterThanOrEqual(scores[i]!.size)
    })
  })
})

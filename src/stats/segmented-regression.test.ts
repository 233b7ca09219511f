import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { nileFlow } from '../../tests/reference/nile.ts'
import {
  driversKilledOrSeriouslyInjured,
  vanDriversKilled,
} from '../../tests/reference/seatbelts.ts'
import { HANDWASHING_FROM, VIENNA_MONTHS } from '../../tests/reference/vienna-maternity.ts'
import { durbinWatson } from './durbin-watson.ts'
import { linearModel } from './linear-model.ts'
import { segmentedRegression } from './segmented-regression.ts'

/** Row 170 counted from 1: February 1983. */
const LAW = 169
const drivers = driversKilledOrSeriouslyInjured.map(Math.log)
const estimates = (m: { coefficients: readonly { estimate: number }[] }) =>
  m.coefficients.map((c) => c.estimate)
const errors = (m: { coefficients: readonly { standardError: number }[] }) =>
  m.coefficients.map((c) => c.standardError)

function near(got: readonly number[], want: readonly number[], relative = 1e-7): void {
  expect(got.length).toBe(want.length)
  got.forEach((x, i) => {
    expect(Math.abs(x - want[i]!)).toBeLessThan(relative * Math.abs(want[i]!))
  })
}

/** Data of Harvey & Durbin (1986), J R Stat Soc A 149:187; figures recomputed with statsmodels. */
describe('EF2 segmented regression of the seat belt law', () => {
  const model = segmentedRegression(drivers, [LAW])

  it('finds the coefficients and their ordinary errors', () => {
    expect(model.coefficients.map((c) => c.name)).toEqual(['constant', 'time', 'level1', 'slope1'])
    near(
      estimates(model),
      [7.513373712498897, -0.0008939710969728888, -0.3261575013806612, 0.013715517864764055],
    )
    near(
      errors(model),
      [0.02179085917352346, 0.00022234413055328742, 0.060966236694502615, 0.0044382617152230255],
    )
    expect(model.durbinWatson).toBeCloseTo(0.7968915138014011, 10)
    expect(model.rSquared).toBeCloseTo(0.33320319638, 10)
    expect(model.sigma).toBeCloseTo(0.141012463641, 10)
    expect(model.df).toBe(188)
    near(
      [model.coefficients[2]!.lower, model.coefficients[2]!.upper],
      [-0.446423322003, -0.205891680759],
    )
    near([model.coefficients[3]!.p], [0.00230330857801])
  })

  it.each([
    {
      lag: 0,
      smallSample: false,
      want: [0.0223794546614, 0.000216208048699, 0.0409524481216, 0.00324581202921],
    },
    {
      lag: 1,
      smallSample: true,
      want: [0.0291790852916, 0.000278109345114, 0.0479614946378, 0.00400146281989],
    },
    {
      lag: 3,
      smallSample: false,
      want: [
        0.035276877051105215, 0.00032895834084958035, 0.052172562485303636, 0.00440803947541718,
      ],
    },
    {
      lag: 4,
      smallSample: true,
      want: [0.0371593157178, 0.000342230378917, 0.0514957948263, 0.00439316168199],
    },
    {
      lag: 12,
      smallSample: false,
      want: [0.0409527397044, 0.000337073176562, 0.0424278589217, 0.00345071310785],
    },
  ])('finds the EF1 Newey–West errors of lag $lag', ({ lag, smallSample, want }) => {
    near(errors(segmentedRegression(drivers, [LAW], { lag, smallSample })), want)
  })

  it('says what would have gone on, and the effect at any later month', () => {
    const effectAt = (i: number) => model.fitted[i]! - model.counterfactual[i]!
    near([169, 180, 191].map(effectAt), [-0.326157501381, -0.175286804868, -0.0244161083559])
    near(
      [169, 180, 191].map((i) => model.counterfactual[i]!),
      [7.36139862601, 7.35156494395, 7.34173126188],
    )
    expect(effectAt(168)).toBe(0)
  })

  it('takes a season as harmonics', () => {
    const season = segmentedRegression(drivers, [LAW], { period: 12, harmonics: 2, lag: 4 })
    near(
      estimates(season),
      [
        7.52296839312, -0.0010109874978, -0.240190690811, 0.00718850028192, -0.0714952697566,
        0.111110447755, -0.0360884504639, 0.0604325034982,
      ],
    )
    near(
      errors(season).slice(0, 4),
      [0.0270217853567, 0.000219016015624, 0.0243419919995, 0.00162315612367],
    )
  })

  it('takes months as extra columns', () => {
    const extra = Object.fromEntries(
      Array.from({ length: 11 }, (_, m) => [
        `month${m + 2}`,
        drivers.map((_, i) => (i % 12 === m + 1 ? 1 : 0)),
      ]),
    )
    const season = segmentedRegression(drivers, [LAW], { extra })
    near(
      estimates(season).slice(0, 5),
      [7.531310654, -0.00102060168315, -0.235948402631, 0.00665223394306, -0.112061046523],
    )
    near(
      errors(season).slice(0, 4),
      [0.0247419886956, 0.000137551600824, 0.0380984376831, 0.00277770051663],
    )
  })

  it('finds no clear step for van drivers, whom the law did not cover', () => {
    const vans = segmentedRegression(vanDriversKilled.map(Math.log), [LAW])
    near(estimates(vans), [2.50362183215, -0.00378325564616, -0.498337184749, 0.0231502905728])
    expect(vans.durbinWatson).toBeCloseTo(1.90449363795, 9)
  })
})

describe('EF2 segmented regression of other published series', () => {
  it('finds the fall of the Nile in 1899 (Cobb 1978, Biometrika 65:243; recomputed)', () => {
    const nile = segmentedRegression(nileFlow, [28], { lag: 3 })
    near(estimates(nile), [1080.93650794, 1.15955117679, -289.102685366, -0.469088767634])
    near(errors(nile), [33.630529885, 2.51326184202, 62.4166852445, 2.64786652725])
    expect(nile.durbinWatson).toBeCloseTo(1.68784576458, 9)
  })

  it('finds the fall of deaths in Vienna after chlorine (Semmelweis 1861; recomputed)', () => {
    const shares = VIENNA_MONTHS.map((m) => m.deaths / m.births)
    const at = VIENNA_MONTHS.findIndex((m) => m.at >= HANDWASHING_FROM)
    const vienna = segmentedRegression(shares, [at], { lag: 6 })
    near(
      estimates(vienna),
      [0.108689985282, -9.45455239751e-5, -0.0786545328129, -6.37470499206e-5],
    )
    near(errors(vienna), [0.0316090287587, 0.000585001597946, 0.021448048455, 0.000863008895075])
  })

  it('recovers two breaks of a series without noise', () => {
    const y = Array.from(
      { length: 30 },
      (_, i) =>
        5 + 0.5 * (i + 1) + (i >= 10 ? 4 - 0.2 * (i - 10) : 0) + (i >= 20 ? -3 + (i - 20) : 0),
    )
    const { effects, durbinWatson: dw } = segmentedRegression(y, [10, 20])
    expect(effects[0]!.level).toBeCloseTo(4, 9)
    expect(effects[0]!.slope).toBeCloseTo(-0.2, 9)
    expect(effects[1]!.level).toBeCloseTo(-3, 9)
    expect(effects[1]!.slope).toBeCloseTo(1, 9)
    expect(dw).toBeNull()
  })

  it('follows shift and scale of the response', () => {
    const series = fc.array(fc.integer({ min: -500, max: 500 }), { minLength: 12, maxLength: 40 })
    fc.assert(
      fc.property(series, fc.integer({ min: -99, max: 99 }), (y, c) => {
        const at = y.length >> 1
        const plain = segmentedRegression(y, [at], { lag: 2 })
        const moved = segmentedRegression(
          y.map((v) => 3 * v + c),
          [at],
          { lag: 2 },
        )
        expect(moved.effects[0]!.level).toBeCloseTo(3 * plain.effects[0]!.level, 6)
        expect(moved.coefficients[0]!.estimate).toBeCloseTo(
          3 * plain.coefficients[0]!.estimate + c,
          6,
        )
        expect(moved.coefficients[2]!.standardError).toBeCloseTo(
          3 * plain.coefficients[2]!.standardError,
          6,
        )
      }),
    )
  })

  it.each([
    [[1], 'stats.bad_break'],
    [[9], 'stats.bad_break'],
    [[4, 5], 'stats.bad_break'],
    [[6, 4], 'stats.bad_break'],
    [[2.5], 'stats.bad_break'],
    [[Number.NaN], 'stats.bad_break'],
  ])('refuses breaks at %j of ten points', (breaks, code) => {
    expect(() => segmentedRegression([1, 3, 2, 5, 4, 6, 8, 7, 9, 1], breaks)).toThrow(
      expect.objectContaining({ code }),
    )
  })
})

describe('EF1 linear models', () => {
  it('names the column that adds nothing', () => {
    const x = [1, 2, 3, 4, 5]
    expect(() =>
      linearModel({ constant: [1, 1, 1, 1, 1], x, twice: x.map((v) => 2 * v) }, [1, 3, 2, 5, 4]),
    ).toThrow(
      expect.objectContaining({
        code: 'stats.dependent_column',
        details: { column: 'twice', index: 2 },
      }),
    )
  })

  it('keeps its digits for a badly scaled polynomial (NIST StRD, Wampler1: every coefficient is 1)', () => {
    // Wampler1: y = 1 + x + x² + … + x⁵ for x = 0 … 20, certified coefficients all exactly 1.
    const x = Array.from({ length: 21 }, (_, i) => i)
    const columns = Object.fromEntries(
      [0, 1, 2, 3, 4, 5].map((k) => [`x${k}`, x.map((v) => v ** k)]),
    )
    const y = x.map((v) => 1 + v + v ** 2 + v ** 3 + v ** 4 + v ** 5)
    for (const c of linearModel(columns, y).coefficients)
      expect(Math.abs(c.estimate - 1)).toBeLessThan(1e-8)
  })

  it('leaves residuals that no column can explain further', () => {
    const y = fc.array(fc.integer({ min: -100, max: 100 }), { minLength: 6, maxLength: 30 })
    fc.assert(
      fc.property(y, (response) => {
        const columns = {
          constant: response.map(() => 1),
          x: response.map((_, i) => i),
          square: response.map((_, i) => i * i),
        }
        const { residuals, fitted } = linearModel(columns, response)
        for (const column of Object.values(columns)) {
          expect(residuals.reduce((sum, e, i) => sum + e * column[i]!, 0)).toBeCloseTo(0, 6)
        }
        residuals.forEach((e, i) => {
          expect(e + fitted[i]!).toBeCloseTo(response[i]!, 10)
        })
      }),
    )
  })

  it('gives the Durbin–Watson statistic of residuals worked by hand', () => {
    // Durbin & Watson (1950), Biometrika 37:409, the definition.
    expect(durbinWatson([1.2, -0.5, 0.3, 0.8, -1.1, 0.4, -0.6, 0.9, -0.2, -0.7])).toBeCloseTo(
      2.61384335155,
      11,
    )
    expect(durbinWatson([1e99, -1e99, 1e99])).toBeCloseTo(8 / 3, 12)
    expect(() => durbinWatson([0, 0])).toThrow(expect.objectContaining({ code: 'stats.constant' }))
  })

  it('refuses as many columns as values, and says which value is not a number', () => {
    expect(() => linearModel({ a: [1, 1] }, [2])).toThrow(
      expect.objectContaining({ code: 'stats.too_few_points' }),
    )
    expect(() => linearModel({ a: [1, 1, 1] }, [2, 3, Infinity])).toThrow(
      expect.objectContaining({ details: { index: 2, value: Infinity } }),
    )
    expect(() => linearModel({ a: [1, 1] }, [2, 3, 4])).toThrow(
      expect.objectContaining({ code: 'stats.length_mismatch' }),
    )
  })
})

import { describe, expect, it } from 'vitest'
import { leastSquares } from '../stats/special/least-squares.ts'
import { createRandom } from '../stats/special/random.ts'
import { studentTQuantile } from '../stats/special/student-t.ts'
import { stepBetween } from './step-model.ts'
import { whiten } from './step-whiten.ts'

const random = createRandom(20260302)
const noise = Array.from({ length: 24 }, () => random.normal())
const ones = noise.map(() => 1)
const plainModel = { trend: false, season: [], chance: null }
const step = (from: number) => Float64Array.from(noise, (_, i) => Number(i >= from))

describe('whiten', () => {
  it.each([
    [0, 1],
    [0.4, 1],
    [0.7, 0.5],
    [0.9, 0.8],
  ])('agrees with the covariance matrix written out: r %s, share %s', (r, share) => {
    // Independent route: Cholesky of R = share r^|i−j| + (1 − share) I, then ordinary least squares.
    const n = noise.length
    const covariance = (i: number, j: number) =>
      share * r ** Math.abs(i - j) + (i === j ? 1 - share : 0)
    const lower = Array.from({ length: n }, () => new Float64Array(n))
    for (let i = 0; i < n; i++)
      for (let j = 0; j <= i; j++) {
        let sum = covariance(i, j)
        for (let k = 0; k < j; k++) sum -= lower[i]![k]! * lower[j]![k]!
        lower[i]![j] = i === j ? Math.sqrt(sum) : sum / lower[j]![j]!
      }
    const solve = (column: ArrayLike<number>) => {
      const out = new Float64Array(n)
      for (let i = 0; i < n; i++) {
        let sum = column[i]!
        for (let k = 0; k < i; k++) sum -= lower[i]![k]! * out[k]!
        out[i] = sum / lower[i]![i]!
      }
      return out
    }
    const columns = [step(15), Float64Array.from(ones)]
    const dense = leastSquares(columns.map(solve), solve(noise))
    const found = whiten([...columns, Float64Array.from(noise)], r, share)!
    expect(found.estimate).toBeCloseTo(dense.coefficients[0]!, 10)
    expect(found.variance).toBeCloseTo(dense.inverse[0]![0]!, 10)
    expect(found.rest).toBeCloseTo(
      dense.residuals.reduce((sum, e) => sum + e * e, 0),
      9,
    )
    const [a, b, d] = [dense.inverse[0]![0]!, dense.inverse[0]![1]!, dense.inverse[1]![1]!]
    const logDet =
      2 * lower.reduce((sum, row, i) => sum + Math.log(row[i]!), 0) - Math.log(a * d - b * b)
    expect(found.logDet).toBeCloseTo(logDet, 9)
  })

  it('says when a column depends on the others', () => {
    const column = step(15)
    expect(whiten([column, column, Float64Array.from(noise)], 0.3, 1)).toBeNull()
  })
})

describe('stepBetween', () => {
  it('is Student’s interval if each point stands by itself', () => {
    const found = stepBetween(noise, ones, 15, plainModel)!
    const mean = (v: readonly number[]) => v.reduce((sum, x) => sum + x, 0) / v.length
    const [a, b] = [noise.slice(0, 15), noise.slice(15)]
    const squares = [a, b].flatMap((v) => v.map((x) => (x - mean(v)) ** 2))
    const s2 = squares.reduce((sum, x) => sum + x, 0) / 22
    const half = -studentTQuantile(0.025, 22) * Math.sqrt(s2 * (1 / 15 + 1 / 9))
    expect(found.plain).toBeCloseTo(mean(b) - mean(a), 10)
    expect(found.plainHalf).toBeCloseTo(half, 8)
    expect(found.endsIfAlone().upper).toBeCloseTo(found.plain + half, 6)
    expect(found.endsIfAlone().lower).toBeCloseTo(found.plain - half, 6)
  })

  it('moves with the step and keeps its width; the side turns with the sign', () => {
    const moved = noise.map((v, i) => v + (i >= 15 ? 3 : 0))
    const a = stepBetween(noise, ones, 15, plainModel)!
    const b = stepBetween(moved, ones, 15, plainModel)!
    expect(b.ends().lower - a.ends().lower).toBeCloseTo(3, 6)
    expect(b.ends().upper - a.ends().upper).toBeCloseTo(3, 6)
    const turned = stepBetween(
      moved.map((v) => -v),
      ones,
      15,
      plainModel,
    )!
    expect(turned.above).toBeCloseTo(1 - b.above, 8)
  })

  it('widens for swells, and hardly for points that stand by themselves', () => {
    const long = Array.from({ length: 60 }, () => random.normal())
    let level = 0
    const swell = long.map((v) => {
      level = 0.8 * level + v
      return level
    })
    const judged = (y: readonly number[]) => {
      const found = stepBetween(
        y,
        y.map(() => 1),
        36,
        plainModel,
      )!
      const { lower, upper } = found.ends()
      return { alike: found.alike, width: (upper - lower) / 2 / found.plainHalf }
    }
    expect(judged(swell).alike).toBeGreaterThan(0.5)
    expect(judged(swell).width).toBeGreaterThan(1.7)
    expect(judged(long).alike).toBeLessThan(0.2)
    expect(judged(long).width).toBeLessThan(1.2)
  })

  it('knows a spread that chance alone explains from one that it does not', () => {
    const chance = { variance: 1, likely: 0.5 }
    const even = stepBetween(noise, ones, 15, { ...plainModel, chance })!
    const wild = stepBetween(
      noise.map((v) => 3 * v),
      ones,
      15,
      { ...plainModel, chance },
    )!
    expect(even.onlyChance).toBeGreaterThan(0.5)
    expect(wild.onlyChance).toBeLessThan(0.01)
  })

  it('answers nothing without points on both sides, without enough of them, or without spread', () => {
    expect(stepBetween(noise, ones, 0, plainModel)).toBeNull()
    expect(stepBetween([1, 2, 3], [1, 1, 1], 1, plainModel)).toBeNull()
    expect(stepBetween(ones, ones, 15, plainModel)).toBeNull()
  })
})

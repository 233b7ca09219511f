import { autocorrelation } from '../stats/autocorrelation.ts'
import { linearModel } from '../stats/linear-model.ts'
import { segmentedRegression } from '../stats/segmented-regression.ts'
import { studentTQuantile } from '../stats/special/student-t.ts'

/** An estimate with its 95 % interval. */
export interface Estimate {
  readonly value: number
  readonly low: number
  readonly high: number
}

/** What the line before would have gone on to at one point. */
interface Carried extends Estimate {
  /** Zero-based index of the point. */
  readonly index: number
}

/** A segmented regression with one break, and what can be read from it. */
export interface EffectFit {
  /** Change of level at the first point after the break. */
  readonly step: Estimate
  /** Change of slope per point. */
  readonly slope: Estimate
  /** Mean distance, over the first points after the break, from the line before carried on. */
  readonly early: Estimate
  /** How many points that mean is over. */
  readonly earlyPoints: number
  /** Standard error of that mean distance. */
  readonly earlyError: number
  /** Degrees of freedom behind every interval. */
  readonly degreesOfFreedom: number
  /** Slope before the break per point. */
  readonly before: Estimate
  /** One entry a point. */
  readonly fitted: readonly number[]
  /** Values minus fitted, one entry a point. */
  readonly residuals: readonly number[]
  readonly carried: readonly Carried[]
  /** Of the ordinary fit; `null` where it is perfect. */
  readonly durbinWatson: number | null
  /** How alike neighbours are: first autocorrelation of the residuals, 0 to 0.95. */
  readonly likeness: number
  /** Lags of the Newey–West errors. */
  readonly lag: number
}

/** Terms of the model besides the season: level and slope, each before and after. */
const LINE_TERMS = 4
/** A line carried on for longer is a guess about another time. */
const EARLY_POINTS = 12
/** More carried points than this look no different. */
const MOST_CARRIED = 25

/**
 * A line before and a line after one break, with intervals that allow for neighbours being alike.
 *
 * Neighbours' likeness r is the first autocorrelation of the ordinary residuals, plus
 * `(k + 3 r) / n` for the k terms fitted and half its standard error. Values and columns are then
 * replaced by their differences `x_t − r x_{t−1}` (the first by `x √(1 − r²)`) and fitted again. The
 * error is the larger of Newey and West's (small-sample form, lag `floor(4 (n / 100)^(2/9))`) and the
 * ordinary one; Student's t has the degrees of freedom of `n (1 − r) / (1 + r)` points. Newey and
 * West's error by itself is too small for the short series that teams have.
 *
 * @param values In time order, at least 4 more than the terms.
 * @param at     Zero-based index of the first point after the break, at least 2 from either end.
 * @param season Further columns, such as sine and cosine of the month; each of the values' length.
 * @throws AppError what `segmentedRegression` throws.
 *
 * @see Wagner et al. (2002), J Clin Pharm Ther 27:299; Prais & Winsten (1954), Cowles Commission 383;
 *   Newey & West (1994), Rev Econ Stud 61:631, for the lag; Marriott & Pope (1954), Biometrika 41:390.
 */
export function effectFit(
  values: readonly number[],
  at: number,
  season: Readonly<Record<string, readonly number[]>> = {},
): EffectFit {
  const n = values.length
  const lag = Math.max(1, Math.floor(4 * (n / 100) ** (2 / 9)))
  const ordinary = segmentedRegression(values, [at], { extra: season })
  const terms = LINE_TERMS + Object.keys(season).length
  const likeness = ordinary.durbinWatson === null ? 0 : likenessOf(ordinary.residuals, terms)
  const df = Math.max(1, (n * (1 - likeness)) / (1 + likeness) - terms)
  const t = studentTQuantile(0.975, df)
  const differenced = (column: readonly number[]) =>
    column.map((x, i) =>
      i === 0 ? x * Math.sqrt(1 - likeness ** 2) : x - likeness * column[i - 1]!,
    )
  const response = differenced(values)

  /** The model with its time counted from `origin` and its later slope from `pivot`. */
  const read = (origin: number, pivot: number): ReadonlyMap<string, Estimate> => {
    const columns: Record<string, readonly number[]> = {
      constant: values.map(() => 1),
      time: values.map((_, i) => i - origin),
      step: values.map((_, i) => (i >= at ? 1 : 0)),
      slope: values.map((_, i) => (i >= at ? i - pivot : 0)),
    }
    for (const [name, column] of Object.entries(season))
      columns[name] = column.map((x) => x - column[origin]!)
    const ready = Object.fromEntries(
      Object.entries(columns).map(([name, column]) => [name, differenced(column)]),
    )
    const plain = linearModel(ready, response).coefficients
    const robust = linearModel(ready, response, { lag, smallSample: true }).coefficients
    return new Map(
      plain.map(({ name, estimate, standardError }, i) => {
        const reach = t * Math.max(standardError, robust[i]!.standardError)
        return [name, { value: estimate, low: estimate - reach, high: estimate + reach }]
      }),
    )
  }

  const earlyPoints = Math.min(EARLY_POINTS, n - at)
  const main = read(at, at)
  const value = (name: string) => main.get(name)!.value
  const early = read(at, at + (earlyPoints - 1) / 2).get('step')!
  const fitted = values.map((_, i) => {
    let sum = value('constant') + value('time') * (i - at)
    if (i >= at) sum += value('step') + value('slope') * (i - at)
    for (const [name, column] of Object.entries(season))
      sum += value(name) * (column[i]! - column[at]!)
    return sum
  })
  const stride = Math.max(1, Math.ceil((n - at) / MOST_CARRIED))
  const indices = [...values.keys()].filter(
    (i) => i >= at && ((i - at) % stride === 0 || i === n - 1),
  )
  return {
    step: main.get('step')!,
    slope: main.get('slope')!,
    early,
    earlyPoints,
    earlyError: (early.high - early.low) / 2 / t,
    degreesOfFreedom: df,
    before: main.get('time')!,
    fitted,
    residuals: values.map((x, i) => x - fitted[i]!),
    carried: indices.map((index) => ({ index, ...read(index, at).get('constant')! })),
    durbinWatson: ordinary.durbinWatson,
    likeness,
    lag,
  }
}

function likenessOf(residuals: readonly number[], terms: number): number {
  const n = residuals.length
  const r = autocorrelation(residuals).values[0]!
  const corrected = r + (terms + 3 * r) / n
  const unsure = Math.sqrt(Math.max(0, 1 - corrected ** 2) / n)
  return Math.min(0.95, Math.max(0, corrected + unsure / 2))
}

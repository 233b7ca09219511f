/** A least-squares fit of the last column on the others, under one covariance of neighbours. */
export interface Whitened {
  /** Coefficient of the first column. */
  readonly estimate: number
  /** Its variance over that of one point. */
  readonly variance: number
  /** Weighted sum of squared residuals. */
  readonly rest: number
  /** `log |R| + log |X′R⁻¹X|`. */
  readonly logDet: number
}

/**
 * Generalized least squares where a share of each point's variance is alike from point to point
 * (first-order autocorrelation `r`) and the rest stands by itself: `R = share · r^|i−j| + (1 − share) I`.
 * The one-step predictions of that process make the columns independent in one pass.
 *
 * @param columns Predictors, the one of interest first, then the response; all as long, in time order.
 * @param r       0 to below 1.
 * @param share   0 to 1.
 * @returns `null` where a predictor depends on the others.
 *
 * @see Harvey (1989), Forecasting, Structural Time Series Models and the Kalman Filter, 3.4 (prediction
 *   error decomposition).
 */
export function whiten(
  columns: readonly Float64Array[],
  r: number,
  share: number,
): Whitened | null {
  const m = columns.length
  const k = m - 1
  const n = columns[0]!.length
  const predicted = new Float64Array(m)
  const errors = new Float64Array(m)
  const cross = Array.from({ length: m }, () => new Float64Array(m))
  let level = share
  let logDet = 0
  for (let t = 0; t < n; t++) {
    const variance = level + 1 - share
    const gain = (r * level) / variance
    logDet += Math.log(variance)
    for (let c = 0; c < m; c++) {
      const error = columns[c]![t]! - predicted[c]!
      errors[c] = error
      predicted[c] = r * predicted[c]! + gain * error
    }
    for (let a = 0; a < m; a++) {
      const row = cross[a]!
      const scaled = errors[a]! / variance
      for (let b = 0; b <= a; b++) row[b] = row[b]! + scaled * errors[b]!
    }
    level = r * r * level + (1 - r * r) * share - gain * gain * variance
  }

  // Cholesky; with the response last, the last pivot is the residual sum of squares.
  const root = cross.map((row) => Float64Array.from(row))
  let rest = 0
  for (let j = 0; j < m; j++) {
    for (let i = j; i < m; i++) {
      let sum = cross[i]![j]!
      for (let q = 0; q < j; q++) sum -= root[i]![q]! * root[j]![q]!
      if (i > j) root[i]![j] = sum / root[j]![j]!
      else if (j === k) rest = Math.max(0, sum)
      else {
        if (sum <= 1e-12 * cross[j]![j]!) return null
        root[j]![j] = Math.sqrt(sum)
        logDet += Math.log(sum)
      }
    }
  }
  const coefficients = new Float64Array(k)
  for (let j = k - 1; j >= 0; j--) {
    let sum = root[k]![j]!
    for (let i = j + 1; i < k; i++) sum -= root[i]![j]! * coefficients[i]!
    coefficients[j] = sum / root[j]![j]!
  }
  // First row of (X′R⁻¹X)⁻¹: the squared length of the first column of L⁻¹.
  const inverse = new Float64Array(k)
  let variance = 0
  for (let j = 0; j < k; j++) {
    let sum = j === 0 ? 1 : 0
    for (let q = 0; q < j; q++) sum -= root[j]![q]! * inverse[q]!
    inverse[j] = sum / root[j]![j]!
    variance += inverse[j]! ** 2
  }
  return { estimate: coefficients[0]!, variance, rest, logDet }
}

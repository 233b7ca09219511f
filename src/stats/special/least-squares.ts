/** A least-squares fit by Householder reflections. */
export interface LeastSquares {
  readonly coefficients: Float64Array
  readonly residuals: Float64Array
  /** Inverse of X'X, row by row; the covariance of the coefficients over the error variance. */
  readonly inverse: readonly Float64Array[]
  /** First column that depends on those before it, or `null` where the design has full rank. */
  readonly dependentColumn: number | null
}

/**
 * Least squares `min |y - X b|` by Householder QR, with columns scaled to unit length first.
 *
 * @param columns Columns of X, each of length n; at most n of them.
 * @param y       Response, length n.
 * @see Golub & Van Loan (2013), Matrix Computations, 4th ed., section 5.2.
 * @example
 * leastSquares([[1, 1]], [3, 3]).dependentColumn // => null
 */
export function leastSquares(
  columns: readonly ArrayLike<number>[],
  y: ArrayLike<number>,
): LeastSquares {
  const n = y.length
  const k = columns.length
  const scales = columns.map((c) => {
    let largest = 0
    for (let i = 0; i < n; i++) largest = Math.max(largest, Math.abs(c[i]!))
    if (largest === 0) return 1
    let sum = 0
    for (let i = 0; i < n; i++) sum += (c[i]! / largest) ** 2
    return largest * Math.sqrt(sum)
  })
  const q = columns.map((c, j) => Float64Array.from(c, (v) => v / scales[j]!))
  const r = columns.map(() => new Float64Array(k))
  const target = Float64Array.from(y)
  let dependentColumn: number | null = null

  for (let j = 0; j < k; j++) {
    const v = q[j]!
    let norm = 0
    for (let i = j; i < n; i++) norm += v[i]! * v[i]!
    norm = Math.sqrt(norm)
    // Columns have unit length, so what is left of a dependent one is rounding error.
    if (norm < 1e-11) {
      dependentColumn = j
      break
    }
    const head = v[j]! > 0 ? -norm : norm
    v[j] = v[j]! - head
    const scale = -v[j]! * head
    r[j]![j] = head
    for (let m = j + 1; m <= k; m++) {
      const column = m === k ? target : q[m]!
      let dot = 0
      for (let i = j; i < n; i++) dot += v[i]! * column[i]!
      dot /= scale
      for (let i = j; i < n; i++) column[i] = column[i]! - dot * v[i]!
      if (m < k) r[j]![m] = column[j]!
    }
  }
  const empty = new Float64Array(0)
  if (dependentColumn !== null)
    return { coefficients: empty, residuals: empty, inverse: [], dependentColumn }

  // R^-1 column by column; then b = R^-1 Q'y and (X'X)^-1 = R^-1 R^-T, both unscaled.
  const inverseR = columns.map(() => new Float64Array(k))
  for (let j = 0; j < k; j++) {
    inverseR[j]![j] = 1 / r[j]![j]!
    for (let i = j - 1; i >= 0; i--) {
      let sum = 0
      for (let m = i + 1; m <= j; m++) sum += r[i]![m]! * inverseR[m]![j]!
      inverseR[i]![j] = -sum / r[i]![i]!
    }
  }
  const coefficients = new Float64Array(k)
  for (let i = k - 1; i >= 0; i--) {
    let sum = target[i]!
    for (let m = i + 1; m < k; m++) sum -= r[i]![m]! * coefficients[m]!
    coefficients[i] = sum / r[i]![i]!
  }
  for (let i = 0; i < k; i++) coefficients[i] = coefficients[i]! / scales[i]!
  const inverse = columns.map((_, i) =>
    Float64Array.from({ length: k }, (_, j) => {
      let sum = 0
      for (let m = Math.max(i, j); m < k; m++) sum += inverseR[i]![m]! * inverseR[j]![m]!
      return sum / scales[i]! / scales[j]!
    }),
  )
  // Residuals from the reflected tail, turned back: exact zeros stay near zero.
  const residuals = Float64Array.from(target)
  for (let i = 0; i < k; i++) residuals[i] = 0
  for (let j = k - 1; j >= 0; j--) {
    const v = q[j]!
    const scale = -v[j]! * r[j]![j]!
    let dot = 0
    for (let i = j; i < n; i++) dot += v[i]! * residuals[i]!
    dot /= scale
    for (let i = j; i < n; i++) residuals[i] = residuals[i]! - dot * v[i]!
  }
  return { coefficients, residuals, inverse, dependentColumn }
}

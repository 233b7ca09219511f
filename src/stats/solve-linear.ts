/**
 * Solve A x = b by Gaussian elimination with partial pivoting.
 *
 * @param matrix n × n, row after row; overwritten.
 * @param right  Length n; overwritten.
 * @returns x; entries are not finite where A is singular.
 *
 * @example
 * Array.from(solveLinear(Float64Array.of(2, 0, 0, 4), Float64Array.of(2, 2))) // => [1, 0.5]
 */
export function solveLinear(matrix: Float64Array, right: Float64Array): Float64Array {
  const n = right.length
  for (let k = 0; k < n; k++) {
    let pivot = k
    for (let i = k + 1; i < n; i++) {
      if (Math.abs(matrix[i * n + k]!) > Math.abs(matrix[pivot * n + k]!)) pivot = i
    }
    if (pivot !== k) {
      for (let j = k; j < n; j++) {
        const held = matrix[k * n + j]!
        matrix[k * n + j] = matrix[pivot * n + j]!
        matrix[pivot * n + j] = held
      }
      const held = right[k]!
      right[k] = right[pivot]!
      right[pivot] = held
    }
    const top = matrix[k * n + k]!
    for (let i = k + 1; i < n; i++) {
      const factor = matrix[i * n + k]! / top
      if (factor === 0) continue
      for (let j = k + 1; j < n; j++) matrix[i * n + j]! -= factor * matrix[k * n + j]!
      right[i]! -= factor * right[k]!
    }
  }
  const x = new Float64Array(n)
  for (let i = n - 1; i >= 0; i--) {
    let sum = right[i]!
    for (let j = i + 1; j < n; j++) sum -= matrix[i * n + j]! * x[j]!
    x[i] = sum / matrix[i * n + i]!
  }
  return x
}

/**
 * Thirteen trials of BCG vaccine against tuberculosis, cases and people without it among vaccinated
 * and not: Colditz et al. (1994), JAMA 271:698, as reprinted by Berkey et al. (1995), Stat Med 14:395
 * (typed from memory; the sums below are those that are published).
 */
export const BCG_TRIALS: readonly (readonly [number, number, number, number])[] = [
  [4, 119, 11, 128],
  [6, 300, 29, 274],
  [3, 228, 11, 209],
  [62, 13536, 248, 12619],
  [33, 5036, 47, 5761],
  [180, 1361, 372, 1079],
  [8, 2537, 10, 619],
  [505, 87886, 499, 87892],
  [29, 7470, 45, 7232],
  [17, 1699, 65, 1600],
  [186, 50448, 141, 27197],
  [5, 2493, 3, 2338],
  [27, 16886, 29, 17825],
]

/** Log risk ratio of a trial with its standard error. */
export function logRiskRatio([a, b, c, d]: readonly [number, number, number, number]) {
  return {
    estimate: Math.log(a / (a + b) / (c / (c + d))),
    standardError: Math.sqrt(1 / a - 1 / (a + b) + 1 / c - 1 / (c + d)),
  }
}

/**
 * Nine laboratories' means of one key comparison with their variances: Kacker (2004), Metrologia
 * 41:132 (typed from memory).
 */
export const LABORATORIES = {
  means: [61.0, 61.4, 62.21, 62.3, 62.34, 62.6, 62.7, 62.84, 65.9],
  variances: [0.2025, 1.21, 0.09, 0.2025, 0.3844, 0.5625, 0.0676, 0.0225, 1.8225],
}

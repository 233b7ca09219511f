import { AppError } from '../errors.ts'
import { riskAdjustedScores } from './risk-adjusted-cusum.ts'
import { requireNumber, requireNumbers, requireWork } from './special/check.ts'
import { createRandom } from './special/random.ts'

/** Simulated waits for a signal. */
export interface SimulatedRunLength {
  /** Mean number of cases to a signal. */
  readonly mean: number
  /** Monte Carlo standard error of the mean. */
  readonly standardError: number
  /** Share of runs that had no signal within `most` cases and were counted as `most`; above 0 the mean is too short. */
  readonly cut: number
  readonly runs: number
}

/**
 * How long a risk-adjusted CUSUM runs before it signals, by seeded simulation.
 *
 * Each case draws its risk from those given; the odds of its event are multiplied by `trueOddsRatio`:
 * 1 shows how often the monitor cries wolf, the ratio to be detected how soon it sees the real thing.
 *
 * @param risks   Risks of past cases, strictly between 0 and 1, at least 1: the mix to expect.
 * @param options `oddsRatio` of the monitor, default 2; `limit`, default 4.5; `trueOddsRatio`, default 1;
 *                `runs`, default 1,000; `most` cases in a run, default 100,000; `seed`, default 1.
 * @throws AppError `stats.too_few_points`, `stats.not_finite`, `stats.out_of_range`, `stats.no_difference`,
 *   `stats.too_many_points`.
 *
 * @see Steiner, Cook, Farewell & Treasure (2000), Biostatistics 1:441, section 4.
 *
 * @example
 * riskAdjustedRunLength([0.5], { limit: 0.1, trueOddsRatio: 1e9, runs: 50 }).mean // => 1
 */
export function riskAdjustedRunLength(
  risks: readonly number[],
  options: {
    readonly oddsRatio?: number
    readonly limit?: number
    readonly trueOddsRatio?: number
    readonly runs?: number
    readonly most?: number
    readonly seed?: number
  } = {},
): SimulatedRunLength {
  const {
    oddsRatio = 2,
    limit = 4.5,
    trueOddsRatio = 1,
    runs = 1000,
    most = 100_000,
    seed = 1,
  } = options
  requireNumbers('The risks', risks, 'positive', 1)
  risks.forEach((risk, i) => {
    if (risk < 1) return
    throw new AppError(
      'stats.out_of_range',
      `The risks, value ${i + 1}, is ${risk}, but must be below 1.`,
      'Correct the risk.',
      { index: i, value: risk },
    )
  })
  requireNumber('The limit', limit, 'positive')
  requireNumber('The true odds ratio', trueOddsRatio, 'positive')
  requireNumber('The number of runs', runs - 1, 'positive')
  requireNumber('The number of runs', runs, 'a whole count')
  requireNumber('The most cases of a run', most, 'positive')
  requireNumber('The most cases of a run', most, 'a whole count')
  requireNumber('The seed', seed, 'a seed')
  requireWork(runs * most, 'Ask for fewer or shorter runs.')
  const table = risks.map((risk) => ({
    ...riskAdjustedScores(risk, oddsRatio),
    chance: (trueOddsRatio * risk) / (1 - risk + trueOddsRatio * risk),
  }))
  const random = createRandom(seed)
  const reach = limit * (1 - 1e-12)
  let sum = 0
  let squares = 0
  let cut = 0
  for (let run = 0; run < runs; run++) {
    let x = 0
    let cases = 0
    while (x < reach && cases < most) {
      const one = table[random.integer(table.length)]!
      x = Math.max(0, x + (random.uniform() < one.chance ? one.event : one.noEvent))
      cases++
    }
    if (x < reach) cut++
    sum += cases
    squares += cases * cases
  }
  const mean = sum / runs
  const variance = Math.max(0, (squares - runs * mean * mean) / (runs - 1))
  return { mean, standardError: Math.sqrt(variance / runs), cut: cut / runs, runs }
}

import { requireNumber, requireWork } from './special/check.ts'
import { createRandom, randomOrder } from './special/random.ts'

/**
 * A random order of runs, the same for the same seed.
 *
 * @param runs       How many runs the design has, whole, at least 1.
 * @param seed       Whole, 0 or more.
 * @param replicates How often each run is done, whole; default 1. Each replicate is a block of its own.
 * @returns Zero-based run numbers in the order to do them; every replicate holds each run once.
 * @throws AppError `stats.not_finite`, `stats.out_of_range`, `stats.too_many_points`.
 *
 * @see Montgomery (2013), Design and Analysis of Experiments, section 1.3, on randomisation and blocking.
 *
 * @example
 * runOrder(1, 42) // => [0]
 */
export function runOrder(runs: number, seed: number, replicates = 1): number[] {
  requireNumber('The number of runs', runs, 'a whole count')
  requireNumber('The number of runs', runs, 'positive')
  requireNumber('The number of replicates', replicates, 'a whole count')
  requireWork(100 * runs * replicates, 'Lay the design out in parts.')
  requireNumber('The seed', seed, 'a seed')
  const random = createRandom(seed)
  return Array.from({ length: replicates }, () => randomOrder(runs, random)).flat()
}

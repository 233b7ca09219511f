import type { Random } from '../../src/stats/special/random.ts'

export type Input = number | readonly Input[]

/** One function compared with the reference: how to draw inputs, what ours answers, how close it must be. */
export interface Case {
  /** Also the name of the reference in reference.py. */
  readonly name: string
  /** What the other side is. */
  readonly against: string
  /** Worst error allowed: closed forms 1e-10, iterated ones 1e-6; 0 for whole numbers. */
  readonly tolerance: number
  /** Errors are relative to the larger of |reference| and this. Default 1e-300. */
  readonly floor?: number
  readonly draw: (random: Draw) => Input[]
  // biome-ignore lint/suspicious/noExplicitAny: each case knows the shape of what it drew.
  readonly ours: (...input: any[]) => number | readonly number[]
}

/** Random inputs of the shapes the cases need. */
export interface Draw extends Random {
  between(low: number, high: number): number
  /** Evenly on the log scale. */
  spread(low: number, high: number): number
  whole(low: number, high: number): number
  list(n: number, each: () => number): number[]
  level(): number
}

export function drawFrom(random: Random): Draw {
  const between = (low: number, high: number) => low + (high - low) * random.uniform()
  const whole = (low: number, high: number) => low + random.integer(high - low + 1)
  return {
    ...random,
    between,
    spread: (low, high) => Math.exp(between(Math.log(low), Math.log(high))),
    whole,
    list: (n, each) => Array.from({ length: n }, each),
    level: () => [0.8, 0.9, 0.95, 0.99, 0.998][whole(0, 4)]!,
  }
}

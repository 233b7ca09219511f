import { AppError } from '../errors.ts'
import type { AnalyzeOptions } from './types.ts'

type NumberOption = 'per' | 'lambda' | 'L' | 'k' | 'h' | 'target' | 'sigma'

/** What each numeric option may be, in words and as a check. */
const ALLOWED: Readonly<Record<NumberOption, { words: string; holds: (x: number) => boolean }>> = {
  per: { words: 'above zero, such as 1000', holds: (x) => x > 0 },
  lambda: { words: 'above 0 and at most 1, such as 0.2', holds: (x) => x > 0 && x <= 1 },
  L: { words: 'above zero, such as 3', holds: (x) => x > 0 },
  k: { words: 'zero or more, such as 0.5', holds: (x) => x >= 0 },
  h: { words: 'above zero, such as 5', holds: (x) => x > 0 },
  target: { words: 'a number in the unit of the chart', holds: () => true },
  sigma: { words: 'above zero, in the unit of the chart', holds: (x) => x > 0 },
}

/**
 * Refuse options outside what they may be.
 *
 * @param options As for `analyze`.
 * @throws AppError `stats.bad_option`, naming the option and its range.
 *
 * @example
 * checkOptions({ lambda: 0.2 }) // => undefined
 */
export function checkOptions(options: AnalyzeOptions): void {
  for (const name of Object.keys(ALLOWED) as NumberOption[]) {
    const value = options[name]
    if (value === undefined) continue
    const { words, holds } = ALLOWED[name]
    if (Number.isFinite(value) && holds(value)) continue
    throw new AppError(
      'stats.bad_option',
      `The option ${name} cannot be ${value}.`,
      `It must be ${words}.`,
      { option: name, value },
    )
  }
}

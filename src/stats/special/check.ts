import { AppError } from '../../errors.ts'

/** What a single argument has to be; the words appear in the message. */
export type Requirement =
  | 'positive'
  | 'not negative'
  | 'a share'
  | 'a whole count'
  | 'a seed'
  | 'finite'

/** Beyond this, sums and squares of what is given could overflow into infinities and NaN. */
const LARGEST = 1e100
/** Beyond this the exact tails take seconds. */
const LARGEST_COUNT = 1e9

const TESTS: Readonly<Record<Requirement, (x: number) => boolean>> = {
  positive: (x) => x >= 1 / LARGEST,
  'not negative': (x) => x >= 0,
  'a share': (x) => x >= 0 && x <= 1,
  'a whole count': (x) => Number.isInteger(x) && x >= 0 && x <= LARGEST_COUNT,
  'a seed': (x) => Number.isSafeInteger(x) && x >= 0,
  finite: () => true,
}
const MEANING: Readonly<Record<Requirement, string>> = {
  positive: 'must be above 0',
  'not negative': 'must not be below 0',
  'a share': 'must lie from 0 to 1',
  'a whole count': 'must be a whole number, 0 to 1,000,000,000',
  'a seed': 'must be a whole number, 0 or more',
  finite: 'must be a number',
}

/**
 * Refuse an argument that is not what the computation needs.
 *
 * @param name  What the argument is, in words; it opens the message.
 * @param index Position in a list, where it came from one.
 * @throws AppError `stats.not_finite`, `stats.out_of_range`.
 * @example
 * requireNumber('The count', 3, 'a whole count') // => undefined
 */
export function requireNumber(
  name: string,
  value: number,
  what: Requirement,
  index?: number,
): void {
  if (Math.abs(value) <= LARGEST && TESTS[what](value)) return
  const details = index === undefined ? { value } : { index, value }
  const where = index === undefined ? name : `${name}, value ${index + 1},`
  if (!Number.isFinite(value)) {
    throw new AppError('stats.not_finite', `${where} is ${value}.`, `It ${MEANING[what]}.`, details)
  }
  if (Math.abs(value) > LARGEST) {
    throw new AppError(
      'stats.out_of_range',
      `${where} is ${value}, beyond ${LARGEST} in size.`,
      'Give it in a larger unit.',
      details,
    )
  }
  throw new AppError(
    'stats.out_of_range',
    `${where} is ${value}, but ${MEANING[what]}.`,
    'Correct the value.',
    details,
  )
}

/**
 * Refuse a list that is too short or holds a value that is not what the computation needs.
 *
 * @param least Fewest values the computation can use.
 * @throws AppError `stats.too_few_points`, `stats.not_finite`, `stats.out_of_range`; the last two name the position.
 * @example
 * requireNumbers('The times', [1, 2], 'positive', 2) // => undefined
 */
export function requireNumbers(
  name: string,
  values: ArrayLike<number>,
  what: Requirement,
  least: number,
): void {
  if (values.length < least) {
    throw new AppError(
      'stats.too_few_points',
      `${name}: ${values.length} given, at least ${least} needed.`,
      'Collect more, or say that it cannot be computed yet.',
      { given: values.length, needed: least },
    )
  }
  const passes = TESTS[what]
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!
    if (!(value <= LARGEST && value >= -LARGEST && passes(value)))
      requireNumber(name, value, what, i)
  }
}

/**
 * Refuse a stretch that does not lie within a column.
 *
 * @param n Length of the column.
 * @throws AppError `stats.bad_index`.
 * @example
 * requireSpan(10, 0, 10) // => undefined
 */
export function requireSpan(n: number, start: number, end: number): void {
  if (Number.isInteger(start) && Number.isInteger(end) && 0 <= start && start <= end && end <= n) {
    return
  }
  throw new AppError(
    'stats.bad_index',
    `The stretch from ${start} to ${end} is not one of a column of ${n} values.`,
    'Give the first position and one past the last, both whole numbers.',
    { start, end, n },
  )
}

/**
 * Refuse two lists of different lengths.
 *
 * @throws AppError `stats.length_mismatch`.
 * @example
 * requireSameLength('First', [1], 'second', [2]) // => undefined
 */
export function requireSameLength(
  first: string,
  a: ArrayLike<unknown>,
  second: string,
  b: ArrayLike<unknown>,
): void {
  if (a.length === b.length) return
  throw new AppError(
    'stats.length_mismatch',
    `${first} has ${a.length} values but ${second} has ${b.length}.`,
    'Give both the same number of values, in the same order.',
    { first: a.length, second: b.length },
  )
}

/**
 * Refuse a confidence level that is not strictly between 0 and 1.
 *
 * @throws AppError `stats.not_finite`, `stats.out_of_range`.
 * @example
 * requireLevel(0.95) // => undefined
 */
export function requireLevel(level: number): void {
  if (level >= 1 / LARGEST && level < 1) return
  throw new AppError(
    Number.isFinite(level) ? 'stats.out_of_range' : 'stats.not_finite',
    `The level is ${level}, but must lie between 0 and 1.`,
    'Write 95 % as 0.95.',
    { level },
  )
}

/**
 * Refuse a numerator that is not a whole count, or is more than its denominator.
 *
 * @throws AppError `stats.not_finite`, `stats.out_of_range`, `stats.numerator_over_denominator`.
 * @example
 * requireFraction(1, 4) // => undefined
 */
export function requireFraction(numerator: number, denominator: number, index?: number): void {
  requireNumber('The numerator', numerator, 'a whole count', index)
  requireNumber('The denominator', denominator, 'a whole count', index)
  if (numerator > denominator) {
    throw new AppError(
      'stats.numerator_over_denominator',
      `${index === undefined ? '' : `Value ${index + 1}: `}${numerator} of ${denominator} is more than all of them.`,
      'Check whether numerator and denominator are swapped.',
      index === undefined ? { numerator, denominator } : { index, numerator, denominator },
    )
  }
  if (denominator === 0) {
    throw new AppError(
      'stats.out_of_range',
      `${index === undefined ? '' : `Value ${index + 1}: `}the denominator is 0, so there is no share.`,
      'Leave this value out, or wait until something has been counted.',
      index === undefined ? { denominator } : { index, denominator },
    )
  }
}

/**
 * Refuse a computation that would take minutes.
 *
 * @param steps Elementary steps it would take; some 1e9 take a few seconds.
 * @param hint  What to do instead.
 * @throws AppError `stats.too_many_points`.
 * @example
 * requireWork(1e6, 'Ask for less.') // => undefined
 */
export function requireWork(steps: number, hint: string): void {
  if (steps <= 2e9) return
  throw new AppError(
    'stats.too_many_points',
    `This would take about ${steps.toExponential(0)} steps, which is too long to wait for.`,
    hint,
    { steps },
  )
}

import { formatDuration, parseDuration } from '../domain/duration.ts'
import type { Expectation } from '../domain/workshop/moves.ts'
import { AppError } from '../errors.ts'

/** A prediction as typed. */
export interface Typed {
  readonly low: string
  readonly expected: string
  readonly high: string
}
export type Part = keyof Typed

export type Read =
  | { readonly is: 'right'; readonly value: Expectation }
  | { readonly is: 'wrong'; readonly part: Part; readonly message: string }
  /** A number without a colon that may be a stopwatch's: it is asked about, never changed. */
  | {
      readonly is: 'unclear'
      readonly part: Part
      readonly seconds: number
      readonly perhaps: number
    }

const BLANK: Typed = { low: '', expected: '', high: '' }
const NAMES: Readonly<Record<Part, string>> = {
  low: 'the lowest',
  expected: 'the expected value',
  high: 'the highest',
}

const partsOf = (predicts: 'range' | 'single'): Part[] =>
  predicts === 'single' ? ['expected'] : ['low', 'expected', 'high']

/** Seconds from what was typed for the time. */
export function readTime(typed: Typed, predicts: 'range' | 'single'): Read {
  const values: Partial<Record<Part, number>> = {}
  for (const part of partsOf(predicts)) {
    if (typed[part].trim() === '')
      return { is: 'wrong', part, message: `Fill in ${NAMES[part]}, such as 0:45.` }
    try {
      const { seconds, perhaps } = parseDuration(typed[part])
      if (perhaps !== null) return { is: 'unclear', part, seconds, perhaps }
      if (seconds === 0) return { is: 'wrong', part, message: 'A time is more than 0 seconds.' }
      values[part] = seconds
    } catch (error) {
      if (!(error instanceof AppError)) throw error
      return { is: 'wrong', part, message: `${error.message} ${error.hint}` }
    }
  }
  return ordered(values)
}

/** Share right from items of the checklist as typed. */
export function readItems(typed: Typed, predicts: 'range' | 'single', items: number): Read {
  const values: Partial<Record<Part, number>> = {}
  for (const part of partsOf(predicts)) {
    const text = typed[part].trim()
    if (text === '')
      return { is: 'wrong', part, message: `Fill in ${NAMES[part]}: 0 to ${items} items.` }
    const n = Number(text)
    if (!/^\d+$/.test(text) || n > items)
      return {
        is: 'wrong',
        part,
        message: `"${text}" is not a number of items from 0 to ${items}.`,
      }
    values[part] = n / items
  }
  return ordered(values)
}

function ordered({ low, expected = 0, high }: Partial<Record<Part, number>>): Read {
  const value = { low: low ?? expected, expected, high: high ?? expected }
  if (value.low > expected)
    return { is: 'wrong', part: 'low', message: 'The lowest is above the expected value.' }
  if (value.high < expected)
    return { is: 'wrong', part: 'high', message: 'The highest is below the expected value.' }
  return { is: 'right', value }
}

/** A time as it stands in its field. */
export const timeTyped = (value: Expectation | null): Typed =>
  value === null
    ? BLANK
    : {
        low: formatDuration(value.low),
        expected: formatDuration(value.expected),
        high: formatDuration(value.high),
      }

export function itemsTyped(value: Expectation | null, items: number): Typed {
  const n = (share: number) => String(Math.round(share * items))
  return value === null
    ? BLANK
    : { low: n(value.low), expected: n(value.expected), high: n(value.high) }
}

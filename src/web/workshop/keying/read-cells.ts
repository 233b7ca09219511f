import { formatDuration, parseDuration } from '../../../domain/duration.ts'
import type { DecisionKind } from '../../../domain/record.ts'
import type { Expectation } from '../../../domain/workshop/moves.ts'
import { AppError } from '../../../errors.ts'

/** What a cell of the sheet comes to. */
export type CellReading<T> =
  | { readonly kind: 'blank' }
  | { readonly kind: 'value'; readonly value: T }
  | { readonly kind: 'problem'; readonly message: string }
  /** A stopwatch read without its colon, or seconds: each choice is the cell's text for one of them. */
  | {
      readonly kind: 'question'
      readonly message: string
      readonly asClock: string
      readonly asSeconds: string
    }

const BLANK = { kind: 'blank' } as const
const value = <T>(read: T): CellReading<T> => ({ kind: 'value', value: read })
const problem = (message: string) => ({ kind: 'problem', message }) as const

/** Entries of a cell, between spaces or semicolons; a number keeps its unit. */
const entriesOf = (text: string): string[] =>
  text
    .trim()
    .replace(/(\d)\s+(s|sec|secs|seconds|m|min|mins|minutes)\b/gi, '$1$2')
    .split(/[\s;]+/)
    .filter((entry) => entry !== '')

/** Seconds of each entry; asks where one could be minutes and seconds without a colon. */
function readSeconds(entries: readonly string[], after = ''): CellReading<readonly number[]> {
  const seconds: number[] = []
  const clock: string[] = []
  const plain: string[] = []
  const unclear: string[] = []
  for (const entry of entries) {
    try {
      const reading = parseDuration(entry)
      const { perhaps } = reading
      if (perhaps !== null) unclear.push(entry)
      seconds.push(reading.seconds)
      clock.push(perhaps === null ? entry : formatDuration(perhaps))
      plain.push(perhaps === null ? entry : `${entry}s`)
    } catch (error) {
      if (!(error instanceof AppError)) throw error
      return problem(`${error.message} ${error.hint}`)
    }
  }
  if (unclear.length === 0) return value(seconds)
  const asClock = clock.join(' ') + after
  return {
    kind: 'question',
    message: `${unclear.join(' and ')}: minutes and seconds, or seconds? Press m for ${clock.filter((c, i) => c !== entries[i]).join(' and ')}, s for seconds.`,
    asClock,
    asSeconds: plain.join(' ') + after,
  }
}

/** Low, expected and high in rising order; one number stands for exactly that. */
function expectationOf(numbers: readonly number[], what: string): CellReading<Expectation> {
  const [low, expected = low, high = low] = numbers
  if ((numbers.length !== 1 && numbers.length !== 3) || low === undefined)
    return problem(`Write low, expected and high, such as ${what}; or one number alone.`)
  if (low > expected! || expected! > high!)
    return problem(`Write low, expected and high in rising order, such as ${what}.`)
  return value({ low, expected: expected!, high: high! })
}

/** The predicted time: `1:00 1:15 1:30`, or one time alone. */
export function readTimeSaid(text: string): CellReading<Expectation> {
  const entries = entriesOf(text)
  if (entries.length === 0) return BLANK
  const read = readSeconds(entries)
  return read.kind === 'value' ? expectationOf(read.value, '1:00 1:15 1:30') : read
}

/** The predicted quality in items right, `10 11 12` or `all`, as shares. */
export function readQualitySaid(text: string, items: number): CellReading<Expectation> {
  const entries = entriesOf(text.toLowerCase())
  if (entries.length === 0) return BLANK
  const counts = entries.map((entry) => (entry === 'all' ? items : Number(entry)))
  const wrong = entries.find((_, i) => !isCount(counts[i]!, items))
  if (wrong !== undefined) return problem(`“${wrong}” is not a number of items from 0 to ${items}.`)
  const read = expectationOf(counts, `${items - 2} ${items - 1} ${items}`)
  if (read.kind !== 'value') return read
  const share = (count: number) => count / items
  const { low, expected, high } = read.value
  return value({ low: share(low), expected: share(expected), high: share(high) })
}

const isCount = (n: number, most: number) => Number.isInteger(n) && n >= 0 && n <= most

export interface Measured {
  /** One time, or two of two timers. */
  readonly seconds: readonly number[]
  /** Which of two is kept, and why, where they disagree. */
  readonly keep: { readonly index: 0 | 1; readonly why: string } | null
}

/**
 * The measured time: `1:31`, `1:31 1:32` of two timers, or, where those disagree,
 * `1:31 1:38 keep 1:31 second timer started late`.
 *
 * @param within Seconds that timers may differ by.
 */
export function readMeasured(text: string, within: number): CellReading<Measured> {
  const [, times = '', chosen, why = ''] = /^(.*?)(?:\s+keep\s+(\S+)\s*(.*))?$/i.exec(text.trim())!
  const entries = entriesOf(times)
  if (entries.length === 0) return BLANK
  const read = readSeconds(entries, text.trim().slice(times.length))
  if (read.kind !== 'value') return read
  const seconds = read.value
  if (seconds.length > 2) return problem('Write one time, or two of two timers.')
  if (seconds.some((s) => s <= 0 || s > 3600))
    return problem('A time is more than 0 s and at most an hour.')
  const [a, b] = seconds as [number, number | undefined]
  if (b === undefined || Math.abs(a - b) <= within + 0.005) return value({ seconds, keep: null })
  if (chosen === undefined || why.trim() === '')
    return problem(
      `The two timers differ by ${formatDuration(Math.abs(a - b))}. Write which to keep and why, such as: ${times.trim()} keep ${entries[0]} second timer started late`,
    )
  const kept = readSeconds([chosen])
  const index = kept.kind === 'value' ? seconds.indexOf(kept.value[0]!) : entries.indexOf(chosen)
  if (index === -1) return problem(`“${chosen}” is neither of the two times.`)
  return value({ seconds, keep: { index: index as 0 | 1, why: why.trim() } })
}

/** The inspection of a sheet: an item each, or only how many were right. */
export type Found =
  | { readonly marks: readonly (0 | 1)[] }
  | { readonly marks: null; readonly right: number }

/**
 * The inspection: how many items were right, then the numbers of those that were not: `12`, `all`
 * or `10 3 7`. The count alone says which items only where all or none were right; a sheet that has
 * no more is keyed as `10 ?` or `10 of 12`.
 *
 * @param items Items of the checklist.
 */
export function readRight(text: string, items: number): CellReading<Found> {
  const bare = /^(\d+)\s*(?:\?|(?:of|\/)\s*(\d+))$/i.exec(text.trim())
  if (bare !== null) return readBareCount(Number(bare[1]), bare[2], items)
  const [first, ...rest] = entriesOf(text.toLowerCase().replace(/[,]/g, ' '))
  if (first === undefined) return BLANK
  const count = first === 'all' ? items : Number(first)
  if (!isCount(count, items))
    return problem(`“${first}” is not a number of items from 0 to ${items}.`)
  const wrong = rest.map(Number)
  const odd = rest.find((_, i) => !isCount(wrong[i]!, items) || wrong[i] === 0)
  if (odd !== undefined) return problem(`“${odd}” is not the number of an item, 1 to ${items}.`)
  if (new Set(wrong).size < wrong.length) return problem('An item is named twice.')
  const missing = items - count
  if (count === 0 && wrong.length === 0) return value(allAlike(0, items))
  if (wrong.length !== missing) {
    if (wrong.length === 0)
      return problem(
        `Write which ${missing === 1 ? 'item was' : `${missing} items were`} not right after the count, such as ${count} ${Array.from({ length: missing }, (_, i) => i + 1).join(' ')}. If the sheet does not say which, write ${count} ?`,
      )
    return problem(
      `${count} of ${items} right leaves ${missing} not right; ${wrong.length} ${wrong.length === 1 ? 'is' : 'are'} named.`,
    )
  }
  return value({ marks: Array.from({ length: items }, (_, i) => (wrong.includes(i + 1) ? 0 : 1)) })
}

const allAlike = (mark: 0 | 1, items: number): Found => ({
  marks: Array.from({ length: items }, () => mark),
})

function readBareCount(right: number, of: string | undefined, items: number): CellReading<Found> {
  if (of !== undefined && Number(of) !== items)
    return problem(
      `The checklist has ${items} items, not ${of}. Write how many of ${items} were right.`,
    )
  if (!isCount(right, items))
    return problem(`“${right}” is not a number of items from 0 to ${items}.`)
  if (right === 0 || right === items) return value(allAlike(right === 0 ? 0 : 1, items))
  return value({ marks: null, right })
}

/** One key each. */
export const DECISION_KEYS: Readonly<Record<string, DecisionKind>> = {
  a: 'adopt',
  d: 'adapt',
  x: 'abandon',
}

export function readDecision(text: string): CellReading<DecisionKind> {
  const typed = text.trim().toLowerCase()
  if (typed === '') return BLANK
  const found = DECISION_KEYS[typed] ?? Object.values(DECISION_KEYS).find((kind) => kind === typed)
  return found === undefined
    ? problem('Press a for adopt, d for adapt or x for abandon.')
    : value(found)
}

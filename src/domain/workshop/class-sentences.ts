import { learningCurveTime } from '../../stats/learning-curve.ts'
import { formatDuration } from '../duration.ts'
import { NUMBER_WORDS } from '../number-words.ts'
import {
  changeInto,
  type ErrorFinding,
  errorIn,
  heldIn,
  qualityIn,
  timedRounds,
} from './class-findings.ts'
import { FEWEST_ROUNDS, learningOf, spreadOf } from './wrap-up-learning.ts'
import { tradesOf } from './wrap-up-quality.ts'
import type { RoundRow } from './wrap-up-rounds.ts'
import { factor, listText, percent } from './wrap-up-words.ts'

const word = (n: number) => (n === 0 ? 'none' : (NUMBER_WORDS[n - 1] ?? String(n)))
const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)
/** More names than these are counted, not listed. */
const MOST_NAMES = 3
const named = (tables: readonly string[]) =>
  tables.length > MOST_NAMES ? `${word(tables.length)} tables` : listText(tables)

/** Nothing has run in the round. */
const nothing = (round: number) =>
  round === 0 ? 'The first round has not begun.' : `No table has a time in round ${round} yet.`

/**
 * What a round came to: predictions, times, and what the quicker tables gave up. For reading from
 * afar, so at most three sentences.
 *
 * @param rows  Rounds of the class as its viewer sees them.
 * @param round In the room, from 1; 0 before the first.
 *
 * @example
 * compareSentences([], 1) // => ['No table has a time in round 1 yet.']
 */
export function compareSentences(rows: readonly RoundRow[], round: number): string[] {
  if (!timedRounds(rows).includes(round)) return [nothing(round)]
  return [
    heldSentence(rows, round),
    changeSentence(rows, round),
    tradeSentence(rows, round),
  ].filter((sentence) => sentence !== null)
}

function heldSentence(rows: readonly RoundRow[], round: number): string | null {
  const found = heldIn(rows, round)
  if (found === null) {
    const error = errorIn(rows, round)
    return error === null ? 'No prediction of time to hold these times against.' : offText(error)
  }
  const { held, of } = found
  if (of === 1) return `The one predicted range ${held === 1 ? 'held' : 'did not hold'}.`
  if (held === of) return `All ${word(of)} predicted ranges held.`
  return `${capital(word(held))} of ${word(of)} predicted ranges held.`
}

function changeSentence(rows: readonly RoundRow[], round: number): string | null {
  const found = changeInto(rows, round)
  if (found === null) return null
  const { tables, quicker, slower, middle } = found
  const before = `round ${round - 1}`
  const size = percent(Math.abs(middle - 1))
  if (tables === 1) {
    if (quicker + slower === 0) return `The time is the same as in ${before}.`
    return `The time ${quicker === 1 ? 'fell' : 'rose'} by ${size} since ${before}.`
  }
  const who =
    quicker === tables
      ? `All ${word(tables)} tables were quicker than in ${before}`
      : slower === tables
        ? `All ${word(tables)} tables were slower than in ${before}`
        : `${capital(word(quicker))} of ${word(tables)} tables ${quicker === 1 ? 'was' : 'were'} quicker than in ${before}`
  if (Math.round(Math.abs(middle - 1) * 100) === 0)
    return `${who}; the middle table took as long as before.`
  return `${who}; the middle table by ${size}${middle > 1 && slower < tables ? ' slower' : ''}.`
}

function tradeSentence(rows: readonly RoundRow[], round: number): string | null {
  const own = tradesOf(rows).filter((trade) => trade.toRound === round)
  if (own.length === 0) return null
  const tables = own.filter(({ kind }) => kind === 'quality-for-speed').map(({ table }) => table)
  if (tables.length === 0) return null
  return `Quicker, but with fewer items right than before: ${named(tables)}.`
}

/**
 * The class's learning curve for the room screen, or why there is none.
 *
 * @example
 * curveSentences([]) // => ['No curve yet: it takes three timed rounds of a table.']
 */
export function curveSentences(rows: readonly RoundRow[]): string[] {
  const { typical, curves } = learningOf(rows)
  if (typical === null) {
    const done = timedRounds(rows).length
    const have = done === 0 ? '' : ` ${capital(word(done))} so far.`
    return [
      done >= FEWEST_ROUNDS
        ? 'No curve yet: it takes three timed rounds of one table, and no table has them.'
        : `No curve yet: it takes three timed rounds of a table.${have}`,
    ]
  }
  const { estimate, lower, upper } = typical.progressRatio
  const whose = curves === 1 ? 'The one table with enough rounds' : 'The typical table'
  const range = `95 % interval ${percent(lower)} to ${percent(upper)}`
  const sentences = [
    `${whose}: twice as many rounds take the time to ${percent(estimate)} of what it was (${range}).`,
  ]
  if (lower <= 1 && upper >= 1)
    sentences.push('With so few rounds, no change at all would fit as well.')
  else if (lower > 1) sentences.push('Times grow from round to round.')
  else {
    const next = Math.max(...rows.map((row) => (row.seconds === null ? 0 : row.turn))) + 1
    const seconds = Math.round(learningCurveTime(typical, next))
    sentences.push(`The same curve would give ${formatDuration(seconds)} at go ${next}.`)
  }
  return sentences
}

/**
 * How far the tables lie apart, for the room screen.
 *
 * @example
 * spreadSentences([]) // => ['It takes two tables with a time to see a spread.']
 */
export function spreadSentences(rows: readonly RoundRow[]): string[] {
  const { rounds, closer } = spreadOf(rows)
  const last = rounds.at(-1)
  if (last === undefined) return ['It takes two tables with a time to see a spread.']
  const ratio = (value: number) => `${factor(value)} times as long as the quickest`
  if (closer === null)
    return [`Round ${last.round}: the slowest table took ${ratio(last.slowest / last.fastest)}.`]
  return [
    `The slowest table took ${ratio(closer.first.ratio)} in round ${closer.first.round}, ${factor(closer.last.ratio)} times in round ${closer.last.round}.`,
    'The ends of a few tables move by chance too.',
  ]
}

const offText = ({ round, tables, middle }: ErrorFinding) =>
  tables === 1
    ? `The expected time of round ${round} was ${percent(middle)} off.`
    : `Half of the expected times of round ${round} were within ${percent(middle)} of what came.`

/**
 * How far off predictions were, for the room screen.
 *
 * @example
 * errorSentences([]) // => ['No prediction has a time beside it yet.']
 */
export function errorSentences(rows: readonly RoundRow[]): string[] {
  const found = timedRounds(rows).flatMap((round) => errorIn(rows, round) ?? [])
  const [first, last] = [found[0], found.at(-1)]
  if (first === undefined || last === undefined) return ['No prediction has a time beside it yet.']
  const side = sideText(last)
  if (first === last) return side === null ? [offText(last)] : [offText(last), side]
  const both =
    first.tables === 1 && last.tables === 1
      ? `Expected times were ${percent(first.middle)} off in round ${first.round} and ${percent(last.middle)} in round ${last.round}.`
      : `Half of the expected times were within ${percent(first.middle)} of what came in round ${first.round}, within ${percent(last.middle)} in round ${last.round}.`
  return side === null ? [both] : [both, side]
}

/** Said only where nearly all were off to one side. */
function sideText({ round, tables, longer, shorter }: ErrorFinding): string | null {
  if (tables < 3) return null
  if (longer === tables) return `In round ${round} every table took longer than it expected.`
  if (shorter === tables) return `In round ${round} every table was quicker than it expected.`
  return null
}

/**
 * Time against quality in one round, for the room screen.
 *
 * @param items Items of the checklist.
 *
 * @example
 * qualitySentences([], 1, 12) // => ['No table was timed and inspected in round 1 yet.']
 */
export function qualitySentences(
  rows: readonly RoundRow[],
  round: number,
  items: number,
): string[] {
  const found = qualityIn(rows, round, items)
  if (found === null)
    return [
      round === 0
        ? 'The first round has not begun.'
        : `No table was timed and inspected in round ${round} yet.`,
    ]
  const { best, quickerWithout, tables } = found
  if (best === null)
    return [
      tables === 1
        ? `The one table inspected in round ${round} did not have every item right.`
        : `None of the ${word(tables)} tables inspected in round ${round} had every item right.`,
    ]
  const sentences = [
    `Quickest with every item right: ${best.table}, ${formatDuration(best.seconds)}.`,
  ]
  if (quickerWithout.length > 0)
    sentences.push(`Quicker, but not with every item right: ${named(quickerWithout)}.`)
  return sentences
}

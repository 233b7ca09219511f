import { FEWEST_ROUNDS, type Learning, type Spread } from './wrap-up-learning.ts'
import { clock, counted, factor, percent, type WrapUpPart } from './wrap-up-words.ts'

/** The learning curve in sentences. @param oneTable Whether it is of one table alone. */
export function learningText(learning: Learning, oneTable: boolean): WrapUpPart {
  const part = { key: 'learning', title: 'Learning curve' } as const
  const { typical, curves, tables } = learning
  if (typical === null) {
    const most = Math.max(0, ...tables.map((t) => t.n))
    return {
      ...part,
      sentences: [
        `No learning curve is fitted: it takes ${FEWEST_ROUNDS} timed rounds of a table, and ${oneTable ? 'this table has' : 'no table has more than'} ${most === 0 ? 'none' : most}.`,
      ],
      limits: [],
    }
  }
  const { estimate, lower, upper } = typical.progressRatio
  const whose =
    curves === 1
      ? oneTable
        ? 'this table'
        : 'the one table with enough rounds'
      : 'a typical table'
  const sentences = [
    `For ${whose}, twice as many rounds took the time to ${percent(estimate)} of what it was (progress ratio; 95 % interval ${percent(lower)} to ${percent(upper)}${curves > 1 ? `, from the curves of ${curves} tables` : ''}), starting from ${clock(typical.first)} in the first round.`,
  ]
  if (upper >= 1 && lower <= 1)
    sentences.push(
      'The interval includes 100 %, so times that do not change at all would also fit.',
    )
  else if (lower > 1) sentences.push('Times became longer from round to round.')
  const limits = [
    'The curve is fitted to few rounds and describes them; it does not say how far times can still fall.',
  ]
  const without = tables.length - curves
  if (!oneTable && without > 0)
    limits.push(
      `${counted(without, 'table')} with fewer than ${FEWEST_ROUNDS} timed rounds ${without === 1 ? 'is' : 'are'} not in it.`,
    )
  return { ...part, sentences, limits }
}

/** The spread between tables in sentences. */
export function spreadText({ rounds, closer }: Spread): WrapUpPart {
  const part = { key: 'spread', title: 'Spread between tables' } as const
  const last = rounds.at(-1)
  if (last === undefined)
    return {
      ...part,
      sentences: ['No round has times of two tables or more, so there is nothing to compare.'],
      limits: [],
    }
  const sentences = [
    `In round ${last.round} the times of ${counted(last.n, 'table')} lay between ${clock(last.fastest)} and ${clock(last.slowest)}; the middle one was ${clock(last.median)}.`,
  ]
  if (closer !== null)
    sentences.push(
      `The slowest of the ${closer.tables} tables that did both took ${factor(closer.first.ratio)} times as long as the fastest in round ${closer.first.round}, and ${factor(closer.last.ratio)} times in round ${closer.last.round}.`,
    )
  const limits = [
    'The fastest and the slowest of a few tables move by chance from round to round; this ranks nobody.',
  ]
  return { ...part, sentences, limits }
}

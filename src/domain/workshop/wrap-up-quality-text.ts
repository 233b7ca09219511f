import type { DecisionKind } from '../record.ts'
import type { DecisionYield } from './wrap-up-decisions.ts'
import type { CorrectResult, Trade } from './wrap-up-quality.ts'
import { clock, counted, factor, listText, type WrapUpPart } from './wrap-up-words.ts'

/** Time to a correct result in sentences. @param oneTable Whether it is of one table alone. */
export function correctText(results: readonly CorrectResult[], oneTable: boolean): WrapUpPart {
  const part = { key: 'correct', title: 'Time to a correct result' } as const
  const reached = results.filter((r) => r.first !== null)
  const never = results.filter((r) => r.first === null).map((r) => r.table)
  const sentences = reached.map((r) => correctSentence(r, oneTable))
  if (never.length > 0)
    sentences.push(
      oneTable
        ? 'No round had every item of the checklist right.'
        : `No round with every item right: ${listText(never)}.`,
    )
  if (results.length === 0) sentences.push('No round has begun.')
  return {
    ...part,
    sentences,
    limits:
      reached.length === 0
        ? []
        : ['It counts the clock only, not the time for planning and inspecting between rounds.'],
  }
}

function correctSentence({ table, first, fastest }: CorrectResult, oneTable: boolean): string {
  const { round, seconds } = first!
  const who = oneTable ? 'Everything' : `${table}: everything`
  const after =
    seconds === null
      ? 'an earlier round has no time, so the total is not known'
      : round === 1
        ? `after ${clock(seconds)} on the clock`
        : `after ${clock(seconds)} on the clock in all`
  const best =
    fastest === null || fastest.round === round
      ? ''
      : ` Its fastest round with everything right was round ${fastest.round}, ${clock(fastest.seconds)}.`
  return `${who} was right first in round ${round}, ${after}.${best}`
}

/** Who traded quality for speed, in sentences. */
export function tradesText(trades: readonly Trade[], oneTable: boolean): WrapUpPart {
  const part = { key: 'trades', title: 'Time against quality' } as const
  if (trades.length === 0)
    return {
      ...part,
      sentences: [
        'No two rounds in a row have both a time and an inspection, so the two cannot be set against each other.',
      ],
      limits: [],
    }
  const of = (kind: Trade['kind']) => trades.filter((t) => t.kind === kind)
  const sentences = TRADED.flatMap(([kind, words]) => {
    const own = of(kind)
    return [...new Set(own.map((t) => t.table))].map((table) => {
      const steps = own.filter((t) => t.table === table).map(stepText)
      return `${oneTable ? 'The table' : table} traded ${words} ${listText(steps)}.`
    })
  })
  if (sentences.length === 0)
    sentences.push(
      'No step from one round to the next traded quality for speed, or speed for quality.',
    )
  const gained = of('both-better').length + of('no-worse').length
  const lost = of('both-worse').length + of('no-better').length
  sentences.push(
    `Of ${counted(trades.length, 'step')} from one round to the next, ${gained} gained in one without losing in the other, and ${lost} lost in one without gaining in the other.`,
  )
  return {
    ...part,
    sentences,
    limits: ['One item more or less can be chance; look for what repeats.'],
  }
}

const TRADED = [
  ['quality-for-speed', 'quality for speed'],
  ['speed-for-quality', 'speed for quality'],
] as const

function stepText({ fromRound, toRound, seconds, before, after }: Trade): string {
  const time = `${clock(Math.abs(seconds))} ${seconds < 0 ? 'faster' : 'slower'}`
  const same = before.inspected === after.inspected
  const was = same ? before.right : `${before.right} of ${before.inspected}`
  return `from round ${fromRound} to ${toRound} (${time}, ${after.right} of ${after.inspected} right instead of ${was})`
}

const AFTER: Readonly<Record<DecisionKind, string>> = {
  adopt: 'adopt (the same again)',
  adapt: 'adapt (something changed)',
  abandon: 'abandon (something else)',
}

/** What decisions bought, in sentences. */
export function decisionsText(yields: readonly DecisionYield[]): WrapUpPart {
  const part = { key: 'decisions', title: 'What the decisions bought' } as const
  if (yields.length === 0)
    return {
      ...part,
      sentences: [
        'No timed round follows a decision yet, so nothing can be said of what they bought.',
      ],
      limits: [],
    }
  const limits = [
    'Practice alone makes rounds faster, so a ratio below 1 is not what the decision did; only a difference between the kinds could hint at that.',
    'Tables chose their decisions by how the round went, and rounds of one table are alike: these figures compare, they prove nothing.',
  ]
  return { ...part, sentences: yields.map(yieldSentence), limits }
}

function yieldSentence(y: DecisionYield): string {
  const { kind, n, ratios, typical, interval, fewerRight, asManyRight, moreRight } = y
  const inspected = fewerRight + asManyRight + moreRight
  const quality =
    inspected === 0
      ? ''
      : ` Items right: more in ${moreRight}, as many in ${asManyRight}, fewer in ${fewerRight} of ${inspected}.`
  const head = `After ${AFTER[kind]} the next round took`
  if (n === 1)
    return `${head} ${factor(ratios[0]!)} times the time of the one before (1 round).${quality}`
  const spread =
    interval === null
      ? `${factor(ratios[0]!)} and ${factor(ratios.at(-1)!)}`
      : `95 % interval ${factor(interval.lower)} to ${factor(interval.upper)}`
  return `${head} ${factor(typical!)} times the time of the one before, typically (${n} rounds; ${spread}).${quality}`
}

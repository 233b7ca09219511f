import { isUnbounded } from '../../src/domain/change-text.ts'
import { type Finding, studyOf } from '../../src/domain/finding.ts'
import { findingText } from '../../src/domain/finding-text.ts'
import type { DataKind } from '../../src/domain/record.ts'
import { createRandom } from '../../src/stats/special/random.ts'
import { cycle } from '../support/records.ts'
import { LENGTHS, type Situation, story } from './stories.ts'

/** What many stories of one kind and situation came to. */
export interface Tally {
  readonly stories: number
  /** Claims of a change where there was none, or the wrong way. */
  readonly falseClaims: number
  readonly claims: number
  /** Findings that print an interval with two ends. */
  readonly printed: number
  /** Of those: the condition that the finding names beside it does not hold in the story. */
  readonly conditionBroken: number
  /** The rest, and those among them whose interval holds the true change. */
  readonly intervals: number
  readonly covered: number
  /** Of all that are printed, whatever they take for granted. */
  readonly coveredOfAll: number
  /** Findings whose printed interval alone leaves out "no change". */
  readonly tempting: number
  /** Findings that say there is too little to tell. */
  readonly tooLittle: number
  /** Findings that name the assumption that fails and claim nothing. */
  readonly refused: number
}

/**
 * Invents stories from one seed, of every length and both sizes in turn, and reads what the page says.
 *
 * @param lengths Points before and during the test.
 */
export function tallyOf(
  kind: DataKind,
  situation: Situation,
  stories: number,
  seed: number,
  lengths: readonly (readonly [number, number])[] = LENGTHS,
): Tally {
  const random = createRandom(seed)
  const tally = {
    stories,
    falseClaims: 0,
    claims: 0,
    printed: 0,
    conditionBroken: 0,
    intervals: 0,
    covered: 0,
    coveredOfAll: 0,
    tempting: 0,
    tooLittle: 0,
    refused: 0,
  }
  for (let i = 0; i < stories; i++) {
    const length = lengths[i % lengths.length]!
    const size = Math.floor(i / lengths.length) % 2 === 0 ? 'small' : 'large'
    const told = story(kind, situation, length, size, random)
    const { measure, observations, from } = told
    const test = cycle({ lockedAt: `${from}T08:00:00.000Z`, ranFrom: from, ranTo: null })
    const watched = { ...measure, role: 'balancing' as const }
    const data = { measure: watched, observations, phases: [], annotations: [] }
    const finding = studyOf({ cycle: test, predictions: [] }, [data], []).findings[0]!
    const change = finding.change!
    // What counts is what is read: the headline.
    const text = findingText(finding)
    const claimed = /(better|worse) than before\.$/.exec(text.headline)?.[1] ?? null
    if (claimed !== null) {
      tally.claims++
      const right = situation.shift === 0 ? null : situation.shift > 0 ? 'better' : 'worse'
      if (claimed !== right) tally.falseClaims++
    }
    if (/too little to tell/.test(text.headline)) tally.tooLittle++
    if (/no change can be claimed/.test(text.headline)) tally.refused++
    const { interval } = change
    if (interval === null || isUnbounded(change.kind, interval)) continue
    tally.printed++
    const none = change.kind === 'ratio' ? 1 : 0
    if (interval.lower > none || interval.upper < none) tally.tempting++
    const truth = (change.seasonRemoved ? told.seasonless : told.stretches)[change.kind]
    const holds = interval.lower <= truth && truth <= interval.upper
    if (holds) tally.coveredOfAll++
    if (conditionBroken(finding, situation)) {
      tally.conditionBroken++
      continue
    }
    tally.intervals++
    if (holds) tally.covered++
  }
  return tally
}

/** Whether the finding says beside its interval what it takes for granted, and the story breaks it. */
function conditionBroken({ change, limits }: Finding, { r1 = 0, season = 0 }: Situation): boolean {
  const says = (kind: string) => limits.some((limit) => limit.kind === kind)
  return (
    (change!.ifAlone && says('likeness-unchecked') && r1 > 0) ||
    (says('season-unchecked') && season > 0)
  )
}

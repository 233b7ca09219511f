import { intervalScore } from '../stats/interval-score.ts'
import type { Signal } from '../stats/types.ts'
import { type Change, changeBetween, type Placing, placeValue } from './change.ts'
import { isUnbounded } from './change-text.ts'
import { stageOf } from './cycle.ts'
import {
  baselineBefore,
  errorOf,
  observationsOfTest,
  type PredictionOutcome,
  type Summary,
  summarize,
  type Verdict,
  verdictOf,
} from './outcome.ts'
import type {
  Annotation,
  Cycle,
  Decision,
  Measure,
  Observation,
  Phase,
  Prediction,
} from './record.ts'
import { signalsSince, type TestSignal } from './signals-since.ts'
import { seasonOf, studyPoints } from './study-points.ts'

/** What a test is compared with. */
export interface Comparator {
  /** `baseline`: the phase that ran when the test began; `test`: the test it builds on. */
  readonly kind: 'baseline' | 'test'
  readonly frozen: boolean
  /** Number of the test built on. */
  readonly number: number | null
  readonly summary: Summary
}

/** A reason to be careful with a finding. */
export type Limit =
  | { readonly kind: 'dated-before-lock'; readonly n: number; readonly of: number }
  | { readonly kind: 'few'; readonly n: number }
  | { readonly kind: 'no-comparator' }
  | { readonly kind: 'other-test-only'; readonly number: number }
  | { readonly kind: 'tests-between'; readonly numbers: readonly number[] }
  | { readonly kind: 'alike'; readonly r: number }
  | { readonly kind: 'likeness-unchecked'; readonly n: number }
  | { readonly kind: 'season-removed' }
  | { readonly kind: 'season-unchecked' }
  | { readonly kind: 'event'; readonly at: string; readonly text: string }

/** What a test found about one measure, as figures; page, report and API make their words from it. */
export interface Finding {
  readonly measure: Measure
  /** `null`: a balancing measure that nobody predicted. */
  readonly prediction: Prediction | null
  readonly outcome: Summary
  readonly verdict: Verdict | null
  readonly error: PredictionOutcome['error']
  /** Of the predicted range at its stated confidence, in the chart's unit; lower is better. */
  readonly score: number | null
  readonly comparator: Comparator | null
  readonly change: Change | null
  /** The change the team predicted, as `change.kind` tells it; `null` without a value to set it against. */
  readonly predictedChange: PredictedChange | null
  /** A single value against the range of those before. */
  readonly placing: Placing | null
  /** On the measure's chart since the test began. */
  readonly signals: readonly Signal[]
  /** Whether the claim points the better way; `null` without a claim or a better way. */
  readonly better: boolean | null
  /** A balancing measure that signals, or came out, the worse way. */
  readonly harm: boolean
  readonly limits: readonly Limit[]
}

/** A predicted range as a change from the comparator. */
interface PredictedChange {
  readonly low: number
  readonly expected: number | null
  readonly high: number
}

/** A test of the same project that ran in some of the same days. */
interface Overlap {
  readonly number: number
  readonly title: string
  readonly cycleId: string
}

/** Everything the figures say about one test of change. */
export interface Study {
  /** Harm first, then in the order of the predictions. */
  readonly findings: readonly Finding[]
  /** Signals on measures that have no finding of their own. */
  readonly elsewhere: readonly TestSignal[]
  readonly overlaps: readonly Overlap[]
  /** Where it was tried; `''` where the plan does not say. */
  readonly where: string
}

/** Below this many observations a finding says that it rests on few (common practice). */
const FEW = 8

interface MeasureRecord {
  readonly measure: Measure
  readonly observations: readonly Observation[]
  readonly phases: readonly Phase[]
  readonly annotations?: readonly Annotation[]
}

interface TestRecord {
  readonly cycle: Cycle
  readonly predictions: readonly Prediction[]
  readonly decision: Decision | null
}

/**
 * What the data say about a test: every prediction and every balancing measure held against what was
 * observed, compared with before, with the limits of it (METHODS 5).
 *
 * @param siblings Every test of the project: the one built on and those that overlap are among them.
 */
export function studyOf(
  test: { readonly cycle: Cycle; readonly predictions: readonly Prediction[] },
  measures: readonly MeasureRecord[],
  siblings: readonly TestRecord[],
): Study {
  const { cycle, predictions } = test
  const signals = signalsSince(cycle, measures)
  const predicted = predictions.flatMap((prediction) => {
    const data = measures.find(({ measure }) => measure.id === prediction.measureId)
    return data === undefined ? [] : [findingOf(cycle, prediction, data, siblings, signals)]
  })
  const watched = measures
    .filter(
      ({ measure }) =>
        measure.role === 'balancing' && !predictions.some((p) => p.measureId === measure.id),
    )
    .map((data) => findingOf(cycle, null, data, siblings, signals))
    .filter(({ outcome, signals: own }) => outcome.n > 0 || own.length > 0)
  const findings = [...predicted, ...watched].sort((a, b) => Number(b.harm) - Number(a.harm))
  return {
    findings,
    elsewhere: signals.filter((s) => !findings.some((f) => f.measure.id === s.measure.id)),
    overlaps: overlapsOf(cycle, siblings),
    where: cycle.where.trim(),
  }
}

function findingOf(
  cycle: Cycle,
  prediction: Prediction | null,
  data: MeasureRecord,
  siblings: readonly TestRecord[],
  allSignals: readonly TestSignal[],
): Finding {
  const { measure, observations } = data
  const own = observationsOfTest(cycle, observations)
  const outcome = summarize(measure, own)
  const { comparator, rows } = comparatorOf(cycle, data, siblings)
  const test = studyPoints(measure, own)
  const before = studyPoints(measure, rows)
  const change =
    comparator === null || test.length === 0 ? null : changeBetween(measure, before, test)
  const single = measure.dataKind === 'single' && comparator?.kind === 'baseline'
  const signals = allSignals.filter((s) => s.measure.id === measure.id).map(({ signal }) => signal)
  const verdict = prediction === null ? null : verdictOf(prediction, measure.better, outcome.value)
  const claim = change?.claim ?? null
  const better = claim === null || measure.better === null ? null : claim === measure.better
  const harm =
    measure.role === 'balancing' &&
    (better === false || verdict === 'worse' || signals.some((s) => s.better === false))

  const limits: Limit[] = []
  const day = (cycle.lockedAt ?? '').slice(0, 10)
  const early = own.filter((o) => o.at.slice(0, 10) < day).length
  if (prediction !== null && early > 0)
    limits.push({ kind: 'dated-before-lock', n: early, of: own.length })
  // Where the sentences say already that the points are few, the limits need not.
  const told = change?.doubt === 'few-points'
  if (outcome.n > 0 && outcome.n < FEW && !told) limits.push({ kind: 'few', n: outcome.n })
  if (outcome.n > 0 && comparator === null) limits.push({ kind: 'no-comparator' })
  if (comparator?.kind === 'test')
    limits.push({ kind: 'other-test-only', number: comparator.number ?? 0 })
  const since = comparator?.kind === 'baseline' ? (comparator.summary.to ?? null) : null
  const numbers = siblings
    .filter(
      (s) =>
        since !== null &&
        s.cycle.lockedAt !== null &&
        (s.cycle.ranFrom ?? '') > since &&
        (s.cycle.ranFrom ?? '') < (cycle.ranFrom ?? ''),
    )
    .map((s) => s.cycle.number)
  if (change !== null && numbers.length > 0) limits.push({ kind: 'tests-between', numbers })
  if (change !== null) {
    if (change.alike !== null) limits.push({ kind: 'alike', r: change.alike })
    const printed = change.interval !== null && !isUnbounded(change.kind, change.interval)
    if (printed && change.ifAlone)
      limits.push({ kind: 'likeness-unchecked', n: before.length + test.length })
    const season = seasonOf([...before, ...test])
    const short = season === null ? spansMonths(before, test) : before.length < 2 * season.period
    if (change.seasonRemoved) limits.push({ kind: 'season-removed' })
    else if (short && (printed || !told)) limits.push({ kind: 'season-unchecked' })
  }
  for (const { at, text } of data.annotations ?? [])
    if (within(at, cycle)) limits.push({ kind: 'event', at, text })
  return {
    measure,
    prediction,
    outcome,
    verdict,
    error: prediction === null ? null : errorOf(measure, prediction, outcome.value),
    score: scoreOf(prediction, outcome.value),
    comparator,
    change,
    predictedChange: predictedChange(prediction, comparator, change),
    placing: single ? placeValue(before, test) : null,
    signals,
    better,
    harm,
    limits,
  }
}

/**
 * The latest baseline frozen before the test began; without one the phase that ran then; without data
 * there the test built on.
 */
function comparatorOf(
  cycle: Cycle,
  { measure, observations, phases }: MeasureRecord,
  siblings: readonly TestRecord[],
): { comparator: Comparator | null; rows: readonly Observation[] } {
  const began = cycle.ranFrom ?? ''
  const frozen = phases
    .filter((p) => p.frozenThrough !== null && p.frozenThrough < began)
    .sort((a, b) => ((a.startsAt ?? '') < (b.startsAt ?? '') ? -1 : 1))
    .at(-1)
  const kept = frozen === undefined ? phases : [frozen]
  const baseline = baselineBefore(cycle, observations, kept)
  const summary = summarize(measure, baseline)
  if (summary.n > 0)
    return {
      comparator: { kind: 'baseline', frozen: frozen !== undefined, number: null, summary },
      rows: baseline,
    }
  const previous = siblings.find((s) => s.cycle.id === cycle.buildsOnId)
  if (previous === undefined || stageOf(previous.cycle, previous.decision) === 'plan')
    return { comparator: null, rows: [] }
  const rows = observationsOfTest(previous.cycle, observations)
  const earlier = summarize(measure, rows)
  if (earlier.n === 0) return { comparator: null, rows: [] }
  const { number } = previous.cycle
  return { comparator: { kind: 'test', frozen: false, number, summary: earlier }, rows }
}

function scoreOf(prediction: Prediction | null, value: number | null): number | null {
  if (prediction === null || value === null) return null
  const { low, high, confidence } = prediction
  if (low === null || high === null || low > high || confidence <= 0 || confidence >= 1) return null
  return intervalScore(low, high, value, confidence)
}

function predictedChange(
  prediction: Prediction | null,
  comparator: Comparator | null,
  change: Change | null,
): PredictedChange | null {
  const before = comparator?.summary.value ?? null
  if (prediction === null || before === null || change === null) return null
  const { low, expected, high } = prediction
  if (low === null || high === null) return null
  if (change.kind === 'difference')
    return {
      low: low - before,
      expected: expected === null ? null : expected - before,
      high: high - before,
    }
  if (before <= 0 || low < 0) return null
  return {
    low: low / before,
    expected: expected === null ? null : expected / before,
    high: high / before,
  }
}

function overlapsOf(cycle: Cycle, siblings: readonly TestRecord[]): Overlap[] {
  const { ranFrom, ranTo } = cycle
  if (ranFrom === null) return []
  return siblings
    .filter((s) => {
      const from = s.cycle.ranFrom
      if (s.cycle.id === cycle.id || s.cycle.lockedAt === null || from === null) return false
      return (
        (ranTo === null || from <= ranTo) && (s.cycle.ranTo === null || s.cycle.ranTo >= ranFrom)
      )
    })
    .map((s) => ({ number: s.cycle.number, title: s.cycle.title, cycleId: s.cycle.id }))
}

function within(at: string, { ranFrom, ranTo }: Cycle): boolean {
  return ranFrom !== null && at >= ranFrom && (ranTo === null || at <= ranTo)
}

/** Whether a comparison reaches over enough of the year that the season could make it. */
function spansMonths(before: readonly { at: string }[], test: readonly { at: string }[]): boolean {
  const from = Date.parse(before[0]?.at.slice(0, 10) ?? '')
  const to = Date.parse(test.at(-1)?.at.slice(0, 10) ?? '')
  return to - from > 60 * 86_400_000
}

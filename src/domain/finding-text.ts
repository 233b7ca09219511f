import { changeRange, changeSize, isUnbounded } from './change-text.ts'
import type { Comparator, Finding, Limit, Study } from './finding.ts'
import type { Summary, Verdict } from './outcome.ts'
import type { Measure } from './record.ts'
import { formatNumber, formatValue } from './value-text.ts'

/** A finding in sentences made from its figures: the same ones on the page, on paper and in the API. */
export interface FindingText {
  /** One line: measure and what it came to. */
  readonly headline: string
  /** Outcome and prediction; the change; what may be said of it. */
  readonly sentences: readonly string[]
  /** Reasons to be careful with it, most important first. */
  readonly limits: readonly string[]
}

/** @returns The finding as text. */
export function findingText(f: Finding): FindingText {
  const { measure, prediction, outcome } = f
  const said = prediction === null ? null : saidText(f)
  if (outcome.value === null)
    return {
      headline: `${measure.name}: nothing observed yet.`,
      sentences: said === null ? [] : [`The team said ${said}.`],
      limits: [],
    }
  const what = whatText(measure, outcome)
  const sentences = [said === null ? `${what}.` : `${what}; the team said ${said}${missText(f)}.`]
  const change = changeSentence(f)
  if (change !== null) sentences.push(change)
  const claim = claimSentence(f)
  if (claim !== null) sentences.push(claim)
  return {
    headline: `${measure.name}: ${headlineOf(f)}`,
    sentences,
    limits: f.limits.map((limit) => limitText(limit, f.change?.claim != null)),
  }
}

/** What holds for every finding of a test: where it was tried, and what else went on in those days. */
export function studyLimits(study: Pick<Study, 'overlaps' | 'where'>): string[] {
  const { overlaps, where } = study
  const limits: string[] = []
  if (overlaps.length > 0) {
    const names = overlaps.map((o) => `test ${o.number} (${o.title.trim() || 'no title'})`)
    limits.push(
      `${capital(listText(names))} ran in some of the same days: the figures cannot tell their effects apart.`,
    )
  }
  limits.push(
    where === ''
      ? 'It was tried in one place and under the conditions of these days only.'
      : `It was tried here only: ${where.replace(/\.$/, '')}. Elsewhere, or on other days, it may come out otherwise.`,
  )
  return limits
}

const VERDICT: Readonly<Record<Verdict, string>> = {
  inside: 'came out as predicted',
  better: 'came out better than predicted',
  worse: 'came out worse than predicted',
  above: 'came out above the predicted range',
  below: 'came out below the predicted range',
}

function headlineOf({ verdict, change, better, comparator }: Finding): string {
  const told =
    change === null || comparator === null
      ? 'nothing to compare with'
      : change.claim === null
        ? change.doubt === 'drift'
          ? 'no change can be claimed'
          : 'too little to tell whether it changed'
        : better === null
          ? `${change.claim === 'up' ? 'higher' : 'lower'} than before`
          : better
            ? 'better than before'
            : 'worse than before'
  return verdict === null ? `${told}.` : `${VERDICT[verdict]}; ${told}.`
}

function saidText({ measure, prediction }: Finding): string {
  const { low, high, confidence } = prediction!
  return `${formatValue(measure, low)} to ${formatValue(measure, high)} (${Math.round(confidence * 100)} % sure)`
}

/** How far off the expected value was, once the outcome lies outside the range. */
function missText({ measure, error, verdict }: Finding): string {
  if (error === null || verdict === null || verdict === 'inside') return ''
  const size = changeSize(error.kind, error.value, measure)
  if (size === 'no different') return ''
  return `, and it was ${size} ${size.endsWith('times as high') ? 'as' : 'than'} expected`
}

function whatText(measure: Measure, s: Summary): string {
  const value = formatValue(measure, s.value)
  const label = measure.unitLabel.trim()
  if (measure.dataKind === 'classified')
    return `${formatNumber(s.numerator ?? 0)} of ${formatNumber(s.denominator ?? 0)}${label === '' ? '' : ` ${label}`} (${value})`
  if (measure.dataKind === 'rates')
    return `${formatNumber(s.numerator ?? 0)} in ${formatNumber(s.denominator ?? 0)}${label === '' ? '' : ` ${label}`}, that is ${value}${measure.per === 1 ? '' : ` per ${formatNumber(measure.per)}`}`
  const unit = label === '' || measure.valueFormat === 'duration' ? '' : ` ${label}`
  return s.n === 1 ? `It was ${value}${unit}` : `The mean of ${count(s.n)} was ${value}${unit}`
}

function changeSentence({ measure, comparator, change }: Finding): string | null {
  if (comparator === null) return null
  const before = `${beforeText(comparator)} it was ${formatValue(measure, comparator.summary.value)} (${count(comparator.summary.n)}, ${days(comparator.summary)})`
  if (change === null || change.estimate === null) return `${before}.`
  const size = changeSize(change.kind, change.estimate, measure)
  const several = change.points.test > 1
  const logs = change.method === 'welch-log' || change.method === 'permutation-log'
  const gaps = change.method === 'gap-root'
  const typical = several && (logs || gaps)
  const season = change.seasonRemoved ? ', with the season taken out,' : ''
  const now = `In the test ${typical ? `a typical ${gaps ? 'gap' : 'value'}` : 'it'}${season} was ${size}`
  const { interval } = change
  if (interval === null || isUnbounded(change.kind, interval)) return `${before}. ${now}.`
  const alone = change.ifAlone ? ', if each point stands by itself' : ''
  return `${before}. ${now} (95 % interval: ${changeRange(change.kind, interval, measure)}${alone}).`
}

function beforeText({ kind, frozen, number }: Comparator): string {
  if (kind === 'test') return `In test ${number}`
  return frozen ? 'In the frozen baseline' : 'Before the test'
}

function claimSentence(f: Finding): string | null {
  const { measure, change, better, placing } = f
  if (placing !== null) {
    const range = `${formatValue(measure, placing.lower)} to ${formatValue(measure, placing.upper)}`
    return placing.where === 'inside'
      ? `One more value without any change is expected from ${range}: this one fits, so it shows no change.`
      : `One more value without any change is expected from ${range}: this one lies ${placing.where} that. One value alone cannot show that the change lasts.`
  }
  if (change === null) return null
  if (change.claim !== null) {
    const way = better === null ? 'a change' : better ? 'an improvement' : 'a change for the worse'
    return `This is ${way}: neither chance nor a steady drift through these days explains it. The figures do not say what caused it.`
  }
  const { test, before } = change.points
  switch (change.doubt) {
    case 'few-points':
      return `${capital(pointsText(test))} in the test and ${before} before are too few to tell a change from chance.`
    case 'chance':
      return excludesExpected(f)
        ? 'There may be no change at all; a change as large as the team expected does not fit these figures.'
        : 'There may be no change at all: too little to tell.'
    case 'drift':
      return 'The measure was already moving before the test. What the test added cannot be told apart from that, so no change is claimed.'
    case 'neighbours':
      return `It looks like a change, but neighbouring points may be alike, and then chance alone can do this. ${capital(pointsText(test + before))} cannot rule that out: too little to tell.`
    case 'course':
      return 'A slow drift that began before the test would look the same: too little to tell.'
    default:
      return 'The points are all alike, so nothing shows how far chance alone moves them: too little to tell.'
  }
}

function excludesExpected({ change, predictedChange, measure }: Finding): boolean {
  const expected = predictedChange?.expected ?? null
  if (change === null || change.interval === null || expected === null) return false
  const { lower, upper } = change.interval
  // Only where the team expected the better way: missing a feared change is no miss.
  const up = expected > (change.kind === 'ratio' ? 1 : 0)
  if (measure.better !== (up ? 'up' : 'down')) return false
  return up ? upper < expected : lower > expected
}

function limitText(limit: Limit, claimed: boolean): string {
  switch (limit.kind) {
    case 'dated-before-lock':
      return `${limit.n === limit.of ? 'All' : `${limit.n} of`} ${limit.of} observations are dated before the prediction was locked, so it may rest on hindsight.`
    case 'few':
      if (claimed) return `It rests on ${limit.n} observations in the test: see whether it lasts.`
      return limit.n === 1
        ? 'This is a single observation: it can differ from the next one by chance alone.'
        : `These are only ${limit.n} observations: a difference this page shows can be chance alone.`
    case 'no-comparator':
      return 'There are no data from before the test, so nothing says whether anything changed.'
    case 'other-test-only':
      return `There are no data from before the tests, so it is compared with test ${limit.number} only.`
    case 'tests-between':
      return `${capital(listText(limit.numbers.map((n) => `test ${n}`)))} ran between that baseline and this test: the change is of all of them together.`
    case 'alike':
      return `Neighbouring points are alike (correlation ${formatNumber(limit.r, 1)}), so each says less than it seems. The interval is wider for that.`
    case 'likeness-unchecked':
      return `${capital(pointsText(limit.n))} cannot show whether neighbours are alike. If they are, the interval is too narrow${claimed ? '; the finding allows for that' : ''}.`
    case 'season-removed':
      return 'The measure has a season. It is taken out before the comparison.'
    case 'season-unchecked':
      return 'The data before the test are too short to show a season: the time of year, or the day of the week, could look like this too.'
    case 'event':
      return `On ${limit.at} something else is noted: ${limit.text.replace(/\.$/, '')}.`
  }
}

const count = (n: number) => (n === 1 ? '1 observation' : `${formatNumber(n)} observations`)
const pointsText = (n: number) => (n === 1 ? 'one point' : `${n} points`)
const days = (s: Summary) => (s.from === s.to ? `${s.from}` : `${s.from} to ${s.to}`)
const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)
const listText = (parts: readonly string[]) =>
  parts.length < 2 ? parts.join('') : `${parts.slice(0, -1).join(', ')} and ${parts.at(-1)}`

import type { ChangeStart } from './change-start.ts'
import { formatDuration } from './duration.ts'
import { type EffectClaim, type EffectFinding, LEAST_POINTS, type Shift } from './effect.ts'
import type { FindingText } from './finding-text.ts'
import type { Measure } from './record.ts'
import { compareMoments } from './series.ts'
import { formatNumber, formatValue } from './value-text.ts'

type Interval = { readonly low: number; readonly high: number }
type Fitted = Extract<EffectFinding, { kind: 'fitted' }>

/** From here on the page says that neighbours are alike. */
const ALIKE = 0.3
/** Below this many points on one side the page says that they are few (common practice). */
const FEW = 12

/** @returns What a measure did from a date on, in sentences with ISO dates. */
export function effectText(finding: EffectFinding): FindingText {
  const { measure, shift, before, after } = finding
  const only = (headline: string, sentence: string): FindingText => ({
    headline: `${measure.name}: ${headline}`,
    sentences: [sentence],
    limits: [],
  })
  switch (finding.kind) {
    case 'unsuitable':
      return only(
        'no line is drawn.',
        'Gaps between rare events do not follow a line. The chart of the measure shows whether they grow longer.',
      )
    case 'too-few':
      return only(
        'too little to tell.',
        `There ${before.n === 1 ? 'is' : 'are'} ${points(before.n)} before ${named(shift)} and ${after.n} from then on. A line needs at least ${LEAST_POINTS} on either side, so nothing is claimed.`,
      )
    case 'constant':
      return only('nothing moves.', `All ${points(before.n + after.n)} have the same value.`)
    case 'fitted':
      return {
        headline: `${measure.name}: ${HEADLINES[finding.claim]}`,
        sentences: fittedSentences(finding),
        limits: limitsOf(finding),
      }
  }
}

const HEADLINES: Readonly<Record<EffectClaim, string>> = {
  better: 'better than its earlier line carried on.',
  worse: 'worse than its earlier line carried on.',
  higher: 'higher than its earlier line carried on.',
  lower: 'lower than its earlier line carried on.',
  none: 'not clear of its earlier line carried on.',
  withheld: 'the points are too much alike to tell.',
}

function fittedSentences(finding: Fitted): string[] {
  const { measure, shift, lines, claim, before, after, start } = finding
  const { early, earlyPoints, earlyCarried, turn } = lines
  const sentences: string[] = []
  if (claim === 'withheld')
    sentences.push(
      'Each point resembles the one before it so much that no interval can be trusted. Nothing is claimed.',
    )
  else {
    const over = `Over the first ${points(earlyPoints)} from ${named(shift)} on`
    const line = `the line before carried on stands at ${formatValue(measure, earlyCarried)}`
    const span = `The data fit anything from ${reach(measure, early)} (95 % interval).`
    sentences.push(
      claim === 'none'
        ? `${over}, ${line}; the points do not stand clear of it. ${span}`
        : `${over}, ${line}; the points lie about ${distance(measure, early.value)}${claim === 'better' || claim === 'worse' ? `, the ${claim} direction` : ''}. ${span}`,
    )
    if (turn !== null)
      sentences.push(
        turn === 'up'
          ? 'After that the line climbs more, or falls less, than before.'
          : 'After that the line falls more, or climbs less, than before.',
      )
  }
  sentences.push(
    `The points have a mean of ${formatValue(measure, before.mean)} before (${before.n}) and ${formatValue(measure, after.mean)} from then on (${after.n}).`,
  )
  if (start !== null) sentences.push(startSentence(start))
  return sentences
}

/** When a single step most likely began, against what is on record. */
function startSentence(start: ChangeStart): string {
  if (start.unclear) return 'The data do not say when a single step would have begun.'
  const when = `If there was one single step, it most likely began at ${start.at}; the data leave open any time after ${start.after} and up to ${start.through}.`
  const [first, ...more] = start.within
  if (first !== undefined) {
    const names = [first, ...more].map(named)
    return `${when} ${capital(list(names))} ${names.length === 1 ? 'falls' : 'fall'} within that time.`
  }
  if (start.nearest === null) return when
  return `${when} Nothing on record falls within that time; the nearest is ${named(start.nearest)}.`
}

function limitsOf(finding: Fitted): string[] {
  const { measure, lines, likeness, before, after, others, season, seasonUnseen } = finding
  const limits: string[] = []
  if (others.length > 0)
    limits.push(
      `${capital(list(others.map(named)))} ${others.length === 1 ? 'lies' : 'lie'} so near that it cannot be told which of them it was.`,
    )
  const { shift, start } = finding
  if (start !== null && !start.unclear && !start.within.some(({ at }) => at === shift.at))
    limits.push(
      `A single step would have begun ${compareMoments(shift.at, start.after) <= 0 ? 'later' : 'earlier'} than ${shift.name}, so that date may be the wrong one to look from.`,
    )
  limits.push(
    'There is no comparison group: anything else that began at about the same time would look the same.',
  )
  if (lines.trendBefore !== null)
    limits.push(
      `The two means alone mislead: the measure was already ${lines.trendBefore} before ${shiftName(finding)}.`,
    )
  if (Math.min(before.n, after.n) < FEW)
    limits.push(
      `${capital(points(Math.min(before.n, after.n)))} on one side are few: a line through them can turn with the next one.`,
    )
  if (seasonUnseen)
    limits.push('The points are too few to see a season, so a season can look like an effect.')
  else if (season !== null)
    limits.push(
      `The ${season === 7 ? 'day of the week' : 'time of year'} is allowed for, as a wave that repeats.`,
    )
  if (likeness > ALIKE)
    limits.push('Each point resembles the one before it; the interval is wider for that.')
  if (measure.dataKind === 'classified' || measure.dataKind === 'rates')
    limits.push('Every point counts the same here, however large its denominator is.')
  return limits
}

const shiftName = ({ shift }: Fitted) => shift.name
export const list = (names: readonly string[]) =>
  names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)!}`
export const named = ({ name, at }: Shift) => `${name} (${at})`
export const points = (n: number) => (n === 1 ? '1 point' : `${formatNumber(n)} points`)
export const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)

/** A difference without its sign or unit. */
export function size(measure: Measure, value: number): string {
  const plain = Math.abs(value)
  if (measure.dataKind === 'classified') return formatNumber(plain * 100)
  if (measure.valueFormat === 'duration') return formatDuration(Math.round(plain * 10) / 10)
  return formatNumber(plain)
}

const unitOf = (measure: Measure) => (measure.dataKind === 'classified' ? ' percentage points' : '')
const side = (value: number) => (value < 0 ? 'lower' : 'higher')

export const distance = (measure: Measure, value: number) =>
  `${size(measure, value)}${unitOf(measure)} ${side(value)}`

/** Both ends of an interval; what they share is said once. */
export function reach(measure: Measure, { low, high }: Interval): string {
  if (low < 0 !== high < 0) return `${distance(measure, low)} to ${distance(measure, high)}`
  const [near, far] = low < 0 ? [high, low] : [low, high]
  return `${size(measure, near)} to ${distance(measure, far)}`
}

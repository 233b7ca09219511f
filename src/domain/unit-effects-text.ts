import { type EffectFinding, LEAST_POINTS } from './effect.ts'
import { capital, distance, list, named, points, reach, size } from './effect-text.ts'
import type { FindingText } from './finding-text.ts'
import { NUMBER_WORDS } from './number-words.ts'
import type { UnitEffect, UnitsFinding, UnitsTogether } from './unit-effects.ts'
import type { StartSource } from './unit-starts.ts'
import { formatNumber, formatValue } from './value-text.ts'

/** Below this many units a difference between them is easily missed (Higgins & Thompson 2002). */
const FEW_UNITS = 10

/** One unit in words, as its row in a list says it. */
export interface UnitWords {
  readonly unit: string
  /** From when, and why then. */
  readonly start: string
  /** What it did, with its interval; or why that cannot be told. */
  readonly change: string
}

const SOURCES: Readonly<Record<StartSource, string>> = {
  'own-test': 'its own first test',
  chosen: 'the date chosen for it',
  'project-test': 'the first test of the project; it has none of its own',
}

/** @returns A unit in words, with ISO dates. */
export function unitWords({ unit, start, finding, measure }: UnitEffect): UnitWords {
  return {
    unit: unit.name,
    start:
      start === null
        ? 'No test has been locked and started, so there is no date to look from.'
        : `From ${named(start.shift)}, ${SOURCES[start.source]}.`,
    change: finding === null ? '' : changeWords(finding, measure),
  }
}

function changeWords(finding: EffectFinding, measure: UnitEffect['measure']): string {
  const { before, after } = finding
  switch (finding.kind) {
    case 'unsuitable':
      return 'No line is drawn through gaps between rare events.'
    case 'too-few':
      return `Too little to tell: ${points(before.n)} before and ${after.n} from then on; ${LEAST_POINTS} on either side are needed.`
    case 'constant':
      return 'Nothing moves: all points have the same value.'
    case 'fitted': {
      if (finding.claim === 'withheld')
        return 'Too little to tell: each point resembles the one before it too much.'
      const { early } = finding.lines
      if (finding.claim === 'none')
        return `Not clear of its earlier line: ${reach(measure, early)}.`
      const [near, far] = early.low < 0 ? [early.high, early.low] : [early.low, early.high]
      const way =
        finding.claim === 'better' || finding.claim === 'worse'
          ? `, the ${finding.claim} direction`
          : ''
      return `${capital(distance(measure, early.value))} (${size(measure, near)} to ${size(measure, far)})${way}.`
    }
  }
}

/** @returns What the units show side by side and together, in sentences with ISO dates. */
export function unitsText(finding: UnitsFinding): FindingText {
  const { measure, units, together, stepped } = finding
  if (together === null) {
    const able = units.filter(
      ({ change, start }) => change !== null && start?.source !== 'project-test',
    )
    return {
      headline: `${measure.name}: too little to compare the units.`,
      sentences: [
        `${able.length === 0 ? 'No unit' : `Only ${able[0]!.unit.name}`} has a start of its own and enough points to say what it did, so the units are not compared.`,
      ],
      limits: borrowed(units),
    }
  }
  const sentences = [differSentence(together), overallSentence(finding, together)]
  const starts = stepSentence(units, stepped)
  if (starts !== null) sentences.push(starts)
  return {
    headline: `${measure.name}: ${headlineOf(together)}`,
    sentences,
    limits: limitsOf(finding, together),
  }
}

function headlineOf({ differ, claim, n }: UnitsTogether): string {
  if (differ) return 'the units differ by more than chance.'
  if (claim === 'none') return `not clear over the ${unitCount(n)} together.`
  return `${claim} over the ${unitCount(n)} together.`
}

/** Whether the units differ, with the figures and how much they can tell. */
function differSentence({ differ, q, p, iSquared, n }: UnitsTogether): string {
  const figures = `(Q ${formatNumber(q)} on ${n - 1} ${n === 2 ? 'degree' : 'degrees'} of freedom, p ${chance(p)}, I² ${formatNumber(Math.round(iSquared * 100))} %)`
  if (differ)
    return `The changes differ from unit to unit by more than chance alone would give ${figures}. Read each unit by itself before the figure over all.`
  const few =
    n < FEW_UNITS ? ` With ${unitCount(n)}, a real difference between them is easily missed.` : ''
  return `The changes differ from unit to unit no more than chance alone can give ${figures}.${few}`
}

/** The change over all units, told for a unit at their average level. */
function overallSentence({ measure, scale }: UnitsFinding, together: UnitsTogether): string {
  const { change, base, distance: by, claim, n } = together
  const way = claim === 'better' || claim === 'worse' ? `, the ${claim} direction` : ''
  const asRatio = scale === 'log'
  const amount = asRatio ? ratioText(change.value) : distance(measure, by.value)
  const span = asRatio ? ratioReach(change) : reach(measure, by)
  const fit = `the data fit anything from ${span} (95 % interval).`
  const two = n === 2 ? ' Two units say little about a third.' : ''
  const line = 'the line before carried on'
  const than = `${amount.endsWith('as high') ? 'as' : 'than'} ${line}`
  // A share moves by more or fewer points the nearer it is to one half, so its level is said.
  const [over, clear, unclear] =
    scale === 'logit'
      ? [
          `Over the ${unitCount(n)} together, where ${line} stands at ${formatValue(measure, base)}`,
          amount,
          'it',
        ]
      : [`Over the ${unitCount(n)} together`, `${amount} ${than}`, line]
  return claim === 'none'
    ? `${over}, the points do not stand clear of ${unclear}; ${fit}${two}`
    : `${over}, the points lie about ${clear}${way}; ${fit}${two}`
}

/** What starts at different times add. */
function stepSentence(
  units: readonly UnitEffect[],
  stepped: UnitsFinding['stepped'],
): string | null {
  if (stepped === 'each-moved') {
    const dates = units.flatMap(({ weight, start }) =>
      weight === null || start === null ? [] : [start.shift.at.slice(0, 10)],
    )
    return `The units started at different times (${list([...new Set(dates)])}), and each moved the same way after its own start. That is stronger evidence than one date: anything else would have had to reach each unit just when it started.`
  }
  if (stepped === 'not-each')
    return 'The units started at different times, but not every one moved the same way after its own start, so the different dates prove little.'
  return null
}

function limitsOf({ units, stepped }: UnitsFinding, together: UnitsTogether): string[] {
  const limits = borrowed(units)
  if (stepped === 'same-time')
    limits.push(
      'The units started at about the same time, so anything else that began then would show in all of them.',
    )
  const left = units.filter((unit) => unit.change === null)
  if (left.length > 0)
    limits.push(
      `${list(left.map(({ unit }) => unit.name))} ${left.length === 1 ? 'tells' : 'tell'} too little and ${left.length === 1 ? 'is' : 'are'} not in the figure over all.`,
    )
  limits.push(
    together.iSquared > 0
      ? 'The figure over all is an average of units that may differ; another unit may do otherwise.'
      : 'The figure over all is for units like these; another unit may do otherwise.',
    'There is no comparison group: what reached every unit after its start would look the same.',
  )
  return limits
}

/** Units whose date is not their own. */
function borrowed(units: readonly UnitEffect[]): string[] {
  const names = units
    .filter(({ start }) => start?.source === 'project-test')
    .map(({ unit }) => unit.name)
  if (names.length === 0) return []
  const one = names.length === 1
  return [
    `${list(names)} ${one ? 'has' : 'have'} no test of ${one ? 'its' : 'their'} own and ${one ? 'is' : 'are'} not in a figure over all. If nothing changed there, ${one ? 'its row shows' : 'their rows show'} what happened without the change; if it did, choose from when below.`,
  ]
}

const unitCount = (n: number) => `${NUMBER_WORDS[n - 1] ?? formatNumber(n)} units`

const chance = (p: number) => (p < 0.001 ? 'below 0.001' : formatNumber(p, p < 0.1 ? 3 : 2))

/** A ratio to the line before as people say it. */
function ratioText(ratio: number): string {
  if (ratio >= 2) return `${formatNumber(ratio, ratio < 10 ? 1 : 0)} times as high`
  return `${percentOf(ratio)} ${ratio < 1 ? 'lower' : 'higher'}`
}

function percentOf(ratio: number): string {
  const percent = Math.abs(ratio - 1) * 100
  return `${formatNumber(percent, percent < 10 ? 1 : 0)} %`
}

function ratioReach({ low, high }: { readonly low: number; readonly high: number }): string {
  if (low < 1 === high < 1 && high < 2 && low < 2) {
    const [near, far] = high < 1 ? [high, low] : [low, high]
    return `${percentOf(near)} to ${ratioText(far)}`
  }
  return `${ratioText(low)} to ${ratioText(high)}`
}

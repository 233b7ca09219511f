import { AppError } from '../errors.ts'
import type { RuleSetId } from './types.ts'

/**
 * A rule as data. Everything that needs a rule (the pass over a chart, the Markov chain of its
 * error rate, the words of a signal) is built from this, so they cannot disagree.
 *
 * - `window`: at least `need` of `of` points in a row on the same side, further out than `beyond`
 *   sigma (3 means the limit itself).
 * - `side`: `length` points in a row on one side of the centre line; points on it are passed over.
 * - `inside`: `length` points in a row within 1 sigma.
 * - `outside`: `length` points in a row further out than 1 sigma, with points on both sides.
 * - `trend`: `length` points in a row rising, or falling; an equal neighbour is passed over
 *   (`ties: 'skip'`) or ends the trend (`ties: 'break'`).
 * - `alternate`: `length` points in a row going up and down in turn.
 */
export type PointRule =
  | {
      readonly slug: string
      readonly shape: 'window'
      readonly need: number
      readonly of: number
      readonly beyond: 1 | 2 | 3
    }
  | {
      readonly slug: string
      readonly shape: 'side' | 'inside' | 'outside' | 'alternate'
      readonly length: number
    }
  | {
      readonly slug: string
      readonly shape: 'trend'
      readonly length: number
      readonly ties: 'skip' | 'break'
    }

/** Rules that look at a whole phase at once, against an exact distribution. */
type PhaseRule = 'runs-too-few' | 'runs-too-many' | 'longest-run' | 'crossings-too-few'

/** One published bundle of rules. */
export interface RuleSet {
  readonly id: RuleSetId
  /** Name for people. */
  readonly name: string
  readonly source: string
  readonly pointRules: readonly PointRule[]
  readonly phaseRules: readonly PhaseRule[]
  /** Whether some rule needs a sigma or a limit, which a run chart has not. */
  readonly needsLimits: boolean
}

const beyondLimits = { slug: 'beyond-limits', shape: 'window', need: 1, of: 1, beyond: 3 } as const
const twoOfThree = { slug: 'two-of-three', shape: 'window', need: 2, of: 3, beyond: 2 } as const
const fourOfFive = { slug: 'four-of-five', shape: 'window', need: 4, of: 5, beyond: 1 } as const
const shift = (length: number) => ({ slug: 'shift', shape: 'side', length }) as const
const trend = (length: number, ties: 'skip' | 'break') =>
  ({ slug: 'trend', shape: 'trend', length, ties }) as const
const nearCenter = { slug: 'near-center', shape: 'inside', length: 15 } as const

/** The published bundles, by name. SPEC.md numbers their rules. */
export const RULE_SETS: Readonly<Record<RuleSetId, RuleSet>> = {
  'run-classic': {
    id: 'run-classic',
    name: 'run chart rules, classic',
    source: 'Perla, Provost & Murray 2011, BMJ Qual Saf 20:46; Swed & Eisenhart 1943',
    pointRules: [shift(6), trend(5, 'skip')],
    phaseRules: ['runs-too-few', 'runs-too-many'],
    needsLimits: false,
  },
  'run-length-adjusted': {
    id: 'run-length-adjusted',
    name: 'run chart rules, adjusted to the number of points',
    source: 'Anhøj & Olesen 2014, PLoS ONE 9:e113825',
    pointRules: [],
    phaseRules: ['longest-run', 'crossings-too-few'],
    needsLimits: false,
  },
  'shewhart-healthcare': {
    id: 'shewhart-healthcare',
    name: 'Shewhart rules for health care',
    source: 'Provost & Murray 2011, The Health Care Data Guide', // written down from memory
    pointRules: [beyondLimits, shift(8), trend(6, 'skip'), twoOfThree, nearCenter],
    phaseRules: [],
    needsLimits: true,
  },
  'zone-tests': {
    id: 'zone-tests',
    name: 'zone tests',
    source: 'Western Electric 1956, Statistical Quality Control Handbook',
    pointRules: [beyondLimits, twoOfThree, fourOfFive, shift(8)],
    phaseRules: [],
    needsLimits: true,
  },
  'eight-tests': {
    id: 'eight-tests',
    name: 'the eight tests',
    source: 'Nelson 1984, J Qual Technol 16:237',
    pointRules: [
      beyondLimits,
      shift(9),
      trend(6, 'break'),
      { slug: 'alternating', shape: 'alternate', length: 14 },
      twoOfThree,
      fourOfFive,
      nearCenter,
      { slug: 'none-near-center', shape: 'outside', length: 8 },
    ],
    phaseRules: [],
    needsLimits: true,
  },
  none: {
    id: 'none',
    name: 'no rules',
    source: '',
    pointRules: [],
    phaseRules: [],
    needsLimits: false,
  },
}

/**
 * The rule set of a name.
 *
 * @param id One of the names in `RuleSetId`.
 * @returns The bundle.
 * @throws AppError `stats.unknown_rule_set`.
 *
 * @example
 * ruleSetOf('zone-tests').pointRules.map((rule) => rule.slug) // => ['beyond-limits', 'two-of-three', 'four-of-five', 'shift']
 */
export function ruleSetOf(id: string): RuleSet {
  const found = Object.hasOwn(RULE_SETS, id) ? RULE_SETS[id as RuleSetId] : undefined
  if (found !== undefined) return found
  throw new AppError(
    'stats.unknown_rule_set',
    `There is no rule set called ${id}.`,
    `Use one of: ${Object.keys(RULE_SETS).join(', ')}.`,
    { ruleSet: id },
  )
}

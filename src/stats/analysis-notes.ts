import type { ChartChoice } from './choose-chart.ts'
import type { Columns } from './columns.ts'
import { LIMITS_ONLY, type PhaseDraft } from './draft-phase.ts'
import { standardised } from './fit-counts.ts'
import { FEWEST_FOR_FULL_LIMITS, FEWEST_FOR_LIMITS } from './fit-phase.ts'
import { dispersionOf } from './laney.ts'
import { FEWEST_USEFUL } from './phase-signals.ts'
import type { RuleSet } from './rules.ts'
import type { ChartKind, Note } from './types.ts'

/** A dispersion this unlikely by chance is worth a note. */
const UNLIKELY = 0.01

/** What the notes are written from. */
export interface NoteFacts {
  readonly at: readonly string[]
  readonly kind: ChartKind
  readonly guess: ChartChoice | null
  readonly columns: Columns
  readonly drafts: readonly PhaseDraft[]
  /** Those of them that have too few points to show anything. */
  readonly empty: readonly PhaseDraft[]
  /** Useful points of each phase, where a run chart rule set counted them. */
  readonly useful: readonly (number | null)[]
  readonly ahead: readonly string[]
  readonly ruleSet: RuleSet
}

/**
 * What the reader of a chart should know: fallbacks, small counts, dispersion, gaps.
 *
 * @param facts The analysis so far.
 * @returns Notes in the order in which they matter.
 */
export function analysisNotes(facts: NoteFacts): Note[] {
  const { at, kind, guess, columns, drafts, empty, useful, ahead, ruleSet } = facts
  const notes: Note[] = []
  if (guess !== null) notes.push({ code: 'kind-chosen', text: guess.reason })
  for (const [k, draft] of drafts.entries()) {
    const which = drafts.length === 1 ? '' : ` in the phase from ${at[draft.span.start]}`
    const shown = empty.includes(draft) ? 'left empty' : 'shown as a run chart about the median'
    notes.push(...limitNotes(kind, draft, which, shown))
    notes.push(...dispersionNotes(kind, columns, draft, which))
    const count = useful[k] ?? null
    if (count !== null && count < FEWEST_USEFUL) {
      notes.push({
        code: 'too-few-for-rules',
        text: `Run chart rules need ${FEWEST_USEFUL} points off the median; there ${isAre(count)} ${count}${which}, so no signals are looked for.`,
      })
    }
  }
  const watched = drafts.some((draft) => draft.fit.without === null)
  if (LIMITS_ONLY.has(kind) && ruleSet.id !== 'none' && watched) {
    notes.push({
      code: 'limits-only',
      text: 'Only the limits are watched on this chart: runs and zones would give false signals on points like these.',
    })
  }
  if (columns.zeroDenominators > 0) {
    const one = columns.zeroDenominators === 1
    notes.push({
      code: 'zero-denominator',
      text: `${columns.zeroDenominators} ${one ? 'point has' : 'points have'} a denominator of zero and ${one ? 'is' : 'are'} shown as a gap.`,
    })
  }
  for (const start of ahead) {
    notes.push({
      code: 'phase-ahead',
      text: `The phase that starts at ${start} has no points yet, so it is not drawn.`,
    })
  }
  return notes
}

function limitNotes(kind: ChartKind, { fit }: PhaseDraft, which: string, shown: string): Note[] {
  const notes: Note[] = []
  if (fit.without === 'too-few') {
    notes.push({
      code: 'too-few-for-limits',
      text: `Limits are not drawn with fewer than ${FEWEST_FOR_LIMITS} points; there ${isAre(fit.n)} ${fit.n}${which}, ${shown}.`,
    })
  } else if (fit.without === 'no-spread') {
    notes.push({
      code: 'no-spread',
      text: `The spread cannot be worked out${which}, because no two points that count are neighbours (or no subgroup has two values), so it is ${shown}.`,
    })
  } else if (!fit.median && fit.n < FEWEST_FOR_FULL_LIMITS && fit.known !== true) {
    notes.push({
      code: 'trial-limits',
      text: `The limits${which} rest on ${fit.n} points, fewer than ${FEWEST_FOR_FULL_LIMITS}, so treat them as trial limits.`,
    })
  }
  if (fit.exact && kind !== 'g') {
    notes.push({
      code: 'exact-limits',
      text: `Counts${which} are small (fewer than 5 expected), so exact probability limits replace the 3-sigma ones.`,
    })
  }
  return notes
}

/** Over- and under-dispersion of a P, U or C chart, with the chart that allows for it. */
function dispersionNotes(
  kind: ChartKind,
  columns: Columns,
  { fit, span }: PhaseDraft,
  which: string,
): Note[] {
  if (fit.median || (kind !== 'p' && kind !== 'u' && kind !== 'c')) return []
  // The centre per unit of area: what is drawn may be per 1,000.
  let top = 0
  let bottom = 0
  for (let i = span.start; i < span.baseEnd; i++) {
    if (columns.counts[i] === 0) continue
    top += columns.numerators === null ? columns.values[i]! : columns.numerators[i]!
    bottom += columns.denominators?.[i] ?? 1
  }
  const z = standardised(columns, span, top / bottom, kind === 'p')
  const counts = columns.counts.subarray(span.start, span.end)
  const { sigmaZ, pOver, pUnder } = dispersionOf(z, counts, 0, span.baseEnd - span.start)
  const offer =
    kind === 'c' ? 'an individuals chart allows' : `a ${kind.toUpperCase()}′ chart allows`
  if (pOver < UNLIKELY && sigmaZ > 1) {
    return [
      {
        code: 'over-dispersion',
        text: `Neighbouring points${which} differ ${sigmaZ.toFixed(1)} times as much as chance alone would make them, so these limits may be too narrow; ${offer} for that.`,
      },
    ]
  }
  if (pUnder < UNLIKELY && sigmaZ < 1) {
    return [
      {
        code: 'under-dispersion',
        text: `Neighbouring points${which} differ only ${sigmaZ.toFixed(1)} times as much as chance alone would make them, so these limits may be too wide; check how the counts are made, and ${offer} for that.`,
      },
    ]
  }
  return []
}

function isAre(n: number): string {
  return n === 1 ? 'is' : 'are'
}

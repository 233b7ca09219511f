import { AppError } from '../errors.ts'
import { guessChart } from './choose-chart.ts'
import { type Columns, columnsOf } from './columns.ts'
import {
  type ChartLines,
  emptyLines,
  FEWEST_FOR_FULL_LIMITS,
  FEWEST_FOR_LIMITS,
  fitPhase,
  type PhaseFit,
} from './fit-phase.ts'
import { checkedLabelOrder } from './labels.ts'
import { FEWEST_USEFUL, type PhaseSignals, phaseSignals } from './phase-signals.ts'
import { type PhaseSpan, phaseSpans } from './phases.ts'
import { type RuleSet, ruleSetOf } from './rules.ts'
import { zonesOf } from './scan-points.ts'
import { signalText } from './signal-text.ts'
import {
  type Analysis,
  type AnalysisPhase,
  type AnalysisPoint,
  type AnalyzeOptions,
  CHART_KINDS,
  type ChartKind,
  type Note,
  type RuleSetId,
  type Series,
  type Signal,
} from './types.ts'
import { zoneOf } from './zones.ts'

/** More points than this are for typed arrays, not for one object each. */
const MOST_POINTS = 1_000_000

/**
 * Draw up a chart: centre lines and limits for each phase, and the signals, each in one plain
 * sentence.
 *
 * Rules of building: with fewer than 12 points that count a phase has no limits and is shown as a
 * run chart about its median; with fewer than 20 they are trial limits; run chart rules need 10
 * points off the median. The rules are listed in SPEC.md.
 *
 * @param series  Columns of equal length 1 to 1,000,000, in time order. Missing is `null`.
 * @param options Kind of chart, rule set, phases, better direction; all may be left out.
 * @returns Plain data that survives `JSON.stringify`; `null` where there is no value or no limit.
 * @throws AppError `stats.empty`, `stats.too_many_points`, `stats.length_mismatch`,
 *   `stats.missing_column`, `stats.not_finite`, `stats.negative_count`,
 *   `stats.negative_denominator`, `stats.negative_time`, `stats.not_whole`,
 *   `stats.numerator_over_denominator`, `stats.unsorted`, `stats.duplicate_label`,
 *   `stats.bad_index`, `stats.bad_phase`, `stats.phases_unsorted`, `stats.unknown_kind`,
 *   `stats.unknown_rule_set`, `stats.rule_set_needs_limits`, `stats.bad_option`.
 * @see NIST/SEMATECH e-Handbook of Statistical Methods, section 6.3.
 *
 * @example
 * analyze({ at: ['1', '2', '3'], values: [4, 6, 5] }).points.map((p) => p.center) // => [5, 5, 5]
 */
export function analyze(series: Series, options: AnalyzeOptions = {}): Analysis {
  const requestedKind = options.kind ?? 'auto'
  const per = checkedPer(options.per)
  const notes: Note[] = []
  const kind = chosenKind(series, requestedKind, per, notes)
  const n = series.at.length
  if (n > MOST_POINTS) {
    throw new AppError(
      'stats.too_many_points',
      `There are ${n} points; one chart takes up to ${MOST_POINTS}.`,
      'Use scanPoints on typed arrays, or summarise by week or month first.',
      { n, most: MOST_POINTS },
    )
  }
  const columns = columnsOf(series, kind, per)
  const order = checkedLabelOrder(series.at)
  const { spans, ahead } = phaseSpans(series.at, options.phases ?? [], order)
  const ruleSet = chosenRules(kind, options.ruleSet)

  const lines = emptyLines(n)
  const drafts = spans.map((span) => draftPhase(kind, columns, span, lines, ruleSet, options))
  const better = options.better ?? null
  const signals: Signal[] = []
  const signalsAt: (number[] | undefined)[] = []
  for (const draft of drafts) {
    for (const raw of draft.found.signals) {
      const points = raw.members.map((member) => draft.positions[member]!)
      for (const point of points) {
        const here = signalsAt[point]
        if (here === undefined) signalsAt[point] = [signals.length]
        else here.push(signals.length)
      }
      const { rule, direction } = raw
      signals.push({
        rule,
        points,
        direction,
        better: direction === null || better === null ? null : direction === better,
        text: signalText({
          ...raw,
          first: series.at[points[0]!]!,
          last: series.at[points.at(-1)!]!,
          count: points.length,
          better,
          median: draft.fit.median,
        }),
      })
    }
  }

  const reasons = new Map((series.leftOut ?? []).map(({ index, reason }) => [index, reason]))
  const points: AnalysisPoint[] = []
  for (const [phase, { span }] of drafts.entries()) {
    for (let i = span.start; i < span.end; i++) {
      points.push({
        at: series.at[i]!,
        value: orNull(columns.values[i]!),
        numerator: orNull(columns.numerators?.[i]),
        denominator: orNull(columns.denominators?.[i]),
        center: orNull(lines.center[i]),
        lower: orNull(lines.lower[i]),
        upper: orNull(lines.upper[i]),
        phase,
        leftOut: reasons.get(i) ?? null,
        signals: signalsAt[i] ?? [],
      })
    }
  }

  const fellBack = kind !== 'run' && drafts.every((draft) => draft.fit.without !== null)
  for (const draft of drafts) notes.push(...phaseNotes(draft, series.at, drafts.length))
  if (columns.zeroDenominators > 0) {
    notes.push({
      code: 'zero-denominator',
      text: `${many(columns.zeroDenominators, 'point has', 'points have')} a denominator of zero and ${columns.zeroDenominators === 1 ? 'is' : 'are'} shown as a gap.`,
    })
  }
  for (const at of ahead) {
    notes.push({
      code: 'phase-ahead',
      text: `The phase that starts at ${at} has no points yet, so it is not drawn.`,
    })
  }
  return {
    kind: fellBack ? 'run' : kind,
    requestedKind,
    ruleSet: fellBack ? (drafts[0]?.ruleSet.id ?? ruleSet.id) : ruleSet.id,
    phases: drafts.map((draft) => phaseOf(draft, series.at)),
    points,
    signals,
    notes,
  }
}

interface PhaseDraft {
  readonly span: PhaseSpan
  readonly fit: PhaseFit
  readonly ruleSet: RuleSet
  readonly found: PhaseSignals
  /** Positions of the points scanned. */
  readonly positions: Int32Array
}

function draftPhase(
  kind: ChartKind,
  columns: Columns,
  span: PhaseSpan,
  lines: ChartLines,
  asked: RuleSet,
  options: AnalyzeOptions,
): PhaseDraft {
  const fit = fitPhase(kind, columns, span, lines, options)
  // Without limits only a run chart's rules can be looked for.
  const ruleSet =
    fit.without !== null && asked.needsLimits ? ruleSetOf('run-length-adjusted') : asked
  let used = 0
  for (let i = span.start; i < span.end; i++) used += columns.counts[i]!
  const positions = new Int32Array(used)
  for (let i = span.start, k = 0; i < span.end; i++) if (columns.counts[i] === 1) positions[k++] = i
  const values = new Float64Array(used)
  for (let k = 0; k < used; k++) values[k] = columns.values[positions[k]!]!
  return { span, fit, ruleSet, positions, found: phaseSignals(values, zones(), ruleSet) }

  function zones(): Uint8Array {
    const bordersAt = (i: number) => ({
      center: lines.center[i]!,
      sigma: lines.sigma[i]!,
      lower: lines.lower[i]!,
      upper: lines.upper[i]!,
    })
    if (used === 0) return new Uint8Array(0)
    if (fit.median || !Number.isNaN(fit.sigma)) return zonesOf(values, bordersAt(positions[0]!))
    const result = new Uint8Array(used)
    for (let k = 0; k < used; k++) result[k] = zoneOf(values[k]!, bordersAt(positions[k]!))
    return result
  }
}

function phaseOf(draft: PhaseDraft, at: readonly string[]): AnalysisPhase {
  const { span, fit } = draft
  let limits: AnalysisPhase['limits'] = 'full'
  if (fit.median) limits = 'none'
  else if (fit.n < FEWEST_FOR_FULL_LIMITS) limits = 'trial'
  else if (fit.exact) limits = 'exact'
  return {
    from: at[span.start]!,
    to: at[span.end - 1]!,
    n: fit.n,
    center: orNull(fit.center),
    sigma: orNull(fit.sigma),
    limits,
    frozenThrough: span.frozenThrough,
    reason: span.reason,
  }
}

function phaseNotes(draft: PhaseDraft, at: readonly string[], phases: number): Note[] {
  const { fit, span, found, ruleSet } = draft
  const which = phases === 1 ? '' : ` in the phase from ${at[span.start]}`
  const notes: Note[] = []
  if (fit.without === 'too-few') {
    notes.push({
      code: 'too-few-for-limits',
      text: `Limits are not drawn with fewer than ${FEWEST_FOR_LIMITS} points; there ${fit.n === 1 ? 'is' : 'are'} ${fit.n}${which}, shown as a run chart about the median.`,
    })
  } else if (fit.without === 'no-spread') {
    notes.push({
      code: 'no-neighbours',
      text: `Limits need neighbouring points, and every point${which} stands between gaps, so it is shown as a run chart about the median.`,
    })
  } else if (!fit.median && fit.n < FEWEST_FOR_FULL_LIMITS) {
    notes.push({
      code: 'trial-limits',
      text: `The limits${which} rest on ${fit.n} points, fewer than ${FEWEST_FOR_FULL_LIMITS}, so treat them as trial limits.`,
    })
  }
  if (fit.exact) {
    notes.push({
      code: 'exact-limits',
      text: `Counts${which} are small (fewer than 5 expected), so exact probability limits replace the 3-sigma ones.`,
    })
  }
  if (found.useful !== null && found.useful < FEWEST_USEFUL && ruleSet.id !== 'none') {
    notes.push({
      code: 'too-few-for-rules',
      text: `Run chart rules need ${FEWEST_USEFUL} points off the median; there ${found.useful === 1 ? 'is' : 'are'} ${found.useful}${which}, so no signals are looked for.`,
    })
  }
  return notes
}

function chosenKind(
  series: Series,
  requested: ChartKind | 'auto',
  per: number,
  notes: Note[],
): ChartKind {
  if (requested === 'auto') {
    const { kind, reason } = guessChart(series, per)
    notes.push({ code: 'kind-chosen', text: reason })
    return kind
  }
  if (CHART_KINDS.includes(requested)) return requested
  throw new AppError(
    'stats.unknown_kind',
    `There is no chart called ${String(requested)}.`,
    `Use auto, or one of: ${CHART_KINDS.join(', ')}.`,
    { kind: requested },
  )
}

function chosenRules(kind: ChartKind, asked: RuleSetId | undefined): RuleSet {
  const ruleSet = ruleSetOf(
    asked ?? (kind === 'run' ? 'run-length-adjusted' : 'shewhart-healthcare'),
  )
  if (kind === 'run' && ruleSet.needsLimits) {
    throw new AppError(
      'stats.rule_set_needs_limits',
      `The rules ${ruleSet.id} need limits, and a run chart has none.`,
      'Use run-classic or run-length-adjusted, or choose a chart with limits.',
      { kind, ruleSet: ruleSet.id },
    )
  }
  return ruleSet
}

function checkedPer(per: number | undefined): number {
  if (per === undefined) return 1
  if (Number.isFinite(per) && per > 0) return per
  throw new AppError(
    'stats.bad_option',
    `Rates cannot be shown per ${per} units.`,
    'Give a number above zero, such as 1000.',
    { option: 'per', value: per },
  )
}

function orNull(value: number | undefined): number | null {
  return value === undefined || Number.isNaN(value) ? null : value
}

function many(n: number, one: string, more: string): string {
  return `${n} ${n === 1 ? one : more}`
}

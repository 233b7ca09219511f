import { AppError } from '../errors.ts'
import { analysisNotes } from './analysis-notes.ts'
import { checkOptions } from './analyze-options.ts'
import { type ChartLines, emptyLines } from './chart-lines.ts'
import { guessChart } from './choose-chart.ts'
import { type Columns, columnsOf } from './columns.ts'
import { draftPhase, type PhaseDraft } from './draft-phase.ts'
import { FEWEST_FOR_FULL_LIMITS } from './fit-phase.ts'
import { checkedLabelOrder } from './labels.ts'
import { phaseSignals } from './phase-signals.ts'
import { phaseSpans } from './phases.ts'
import { type RuleSet, ruleSetOf } from './rules.ts'
import { signalText } from './signal-text.ts'
import {
  type Analysis,
  type AnalysisPhase,
  type AnalysisPoint,
  type AnalyzeOptions,
  CHART_KINDS,
  type ChartKind,
  type Companion,
  type RuleSetId,
  type Series,
  type Signal,
} from './types.ts'

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
  checkOptions(options)
  const per = options.per ?? 1
  const requestedKind = options.kind ?? 'auto'
  const guess = requestedKind === 'auto' ? guessChart(series, per) : null
  const kind = guess === null ? knownKind(requestedKind) : guess.kind
  const n = series.at.length
  if (n > MOST_POINTS) {
    throw new AppError(
      'stats.too_many_points',
      `There are ${n} points; one chart takes up to ${MOST_POINTS}.`,
      'Use zonesOf and scanPoints on typed arrays, or summarise by week or month first.',
      { n, most: MOST_POINTS },
    )
  }
  const columns = columnsOf(series, kind, per)
  const order = checkedLabelOrder(series.at)
  const { spans, ahead } = phaseSpans(series.at, options.phases ?? [], order)
  const ruleSet = chosenRules(kind, options.ruleSet)

  const lines = emptyLines(columns.values.slice())
  const better = options.better ?? null
  const signals: Signal[] = []
  const signalsAt: (number[] | undefined)[] = []
  const useful: (number | null)[] = []
  const drafts = spans.map((span) => draftPhase(kind, columns, span, lines, ruleSet, options))
  // Values and the statistic made of them cannot share an axis: where other phases show the
  // statistic, one too short for it stays empty.
  const empty = (draft: PhaseDraft) =>
    OF_MANY_POINTS.has(kind) &&
    draft.fit.without !== null &&
    drafts.some(({ fit }) => fit.without === null)
  for (const draft of drafts) {
    if (empty(draft)) {
      lines.plotted.fill(Number.NaN, draft.span.start, draft.span.end)
      lines.center.fill(Number.NaN, draft.span.start, draft.span.end)
      useful.push(null)
      continue
    }
    const found = phaseSignals(draft.values, draft.zones, draft.ruleSet)
    useful.push(found.useful)
    for (const raw of found.signals) {
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
      const point: AnalysisPoint = {
        at: series.at[i]!,
        value: orNull(lines.plotted[i]),
        numerator: orNull(columns.numerators?.[i]),
        denominator: orNull(columns.denominators?.[i]),
        center: orNull(lines.center[i]),
        lower: orNull(lines.lower[i]),
        upper: orNull(lines.upper[i]),
        phase,
        leftOut: reasons.get(i) ?? null,
        signals: signalsAt[i] ?? [],
      }
      points.push({ ...point, ...extras(kind, columns, lines, i) })
    }
  }

  const fellBack = kind !== 'run' && drafts.every((draft) => draft.fit.without !== null)
  const companion = companionOf(kind, lines)
  return {
    kind: fellBack ? 'run' : kind,
    requestedKind,
    ruleSet: fellBack ? (drafts[0]?.ruleSet.id ?? ruleSet.id) : ruleSet.id,
    phases: drafts.map((draft) => {
      const phase = phaseOf(draft, series.at)
      return empty(draft) ? { ...phase, center: null, sigma: null } : phase
    }),
    points,
    signals,
    notes: analysisNotes({
      at: series.at,
      kind,
      guess,
      columns,
      drafts,
      useful,
      ahead,
      ruleSet,
      empty: drafts.filter(empty),
    }),
    ...(companion === null ? {} : { companion }),
  }
}

/** Charts whose points are made of several observations each, on a scale of their own. */
const OF_MANY_POINTS: ReadonlySet<ChartKind> = new Set(['moving-range', 'ewma', 'cusum'])

/** What only some charts tell about a point. */
function extras(
  kind: ChartKind,
  { values, subgroups }: Columns,
  { high, low }: ChartLines,
  i: number,
): Pick<AnalysisPoint, 'observed' | 'size' | 'sums'> {
  switch (kind) {
    case 'xbar-s':
    case 'xbar-r':
      return { size: subgroups?.[i]?.length ?? 0 }
    case 'moving-range':
    case 'ewma':
      return { observed: orNull(values[i]) }
    case 'cusum':
      return {
        observed: orNull(values[i]),
        sums: Number.isNaN(high[i]!) ? null : { high: high[i]!, low: low[i]! },
      }
    default:
      return {}
  }
}

function companionOf(kind: ChartKind, { spread }: ChartLines): Companion | null {
  const spreadKind = COMPANIONS[kind]
  if (spreadKind === undefined) return null
  return {
    kind: spreadKind,
    points: Array.from(spread.value, (value, i) => {
      const [lower, upper] = [spread.lower[i]!, spread.upper[i]!]
      const tolerance = 1e-9 * (upper - lower)
      return {
        value: orNull(value),
        center: orNull(spread.center[i]),
        lower: orNull(lower),
        upper: orNull(upper),
        beyond: value > upper + tolerance || value < lower - tolerance,
      }
    }),
  }
}

const COMPANIONS: Readonly<Partial<Record<ChartKind, Companion['kind']>>> = {
  individuals: 'moving-range',
  'xbar-s': 's',
  'xbar-r': 'r',
}

function phaseOf(draft: PhaseDraft, at: readonly string[]): AnalysisPhase {
  const { span, fit } = draft
  let limits: AnalysisPhase['limits'] = 'full'
  if (fit.median) limits = 'none'
  else if (fit.n < FEWEST_FOR_FULL_LIMITS && fit.known !== true) limits = 'trial'
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

function knownKind(kind: ChartKind | 'auto'): ChartKind {
  for (const known of CHART_KINDS) if (known === kind) return known
  throw new AppError(
    'stats.unknown_kind',
    `There is no chart called ${String(kind)}.`,
    `Use auto, or one of: ${CHART_KINDS.join(', ')}.`,
    { kind },
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

/** NaN as null; and a minus zero as zero, which JSON would make of it anyway. */
function orNull(value: number | undefined): number | null {
  return value === undefined || Number.isNaN(value) ? null : value + 0
}

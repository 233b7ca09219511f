/**
 * The vocabulary of the statistics engine: what goes in to `analyze` and what comes out.
 * Plain data only; everything here survives `JSON.stringify` unchanged.
 */

/** Every chart the engine draws limits for. Names are stable: they appear in files and in `--json`. */
export const CHART_KINDS = [
  'run',
  'individuals',
  'moving-range',
  'xbar-s',
  'xbar-r',
  'p',
  'p-prime',
  'c',
  'u',
  'u-prime',
  'g',
  't',
  'ewma',
  'cusum',
] as const
export type ChartKind = (typeof CHART_KINDS)[number]

/** Published bundles of rules, listed in SPEC.md. `none` draws the chart without looking for signals. */
export type RuleSetId =
  | 'run-classic'
  | 'run-length-adjusted'
  | 'shewhart-healthcare'
  | 'zone-tests'
  | 'eight-tests'
  | 'none'

/** Which way is improvement. `null`: neither (a context measure). */
export type Better = 'up' | 'down' | null

/**
 * One measure over time, as columns of equal length n, in time order.
 *
 * `at` holds strictly increasing labels: ISO 8601 dates or date-times, or row numbers as text.
 * Give `values` for single values, counts of equal chance (C), cases or times between events;
 * `numerators` with `denominators` for proportions and rates; `subgroups` for subgrouped values.
 * A `null` value or denominator, or a denominator of zero, is a gap.
 */
export interface Series {
  readonly at: readonly string[]
  readonly values?: readonly (number | null)[]
  readonly numerators?: readonly (number | null)[]
  readonly denominators?: readonly (number | null)[]
  readonly subgroups?: readonly (readonly number[] | null)[]
  /** Points kept on the chart but left out of centre, limits and rules, each with its reason. */
  readonly leftOut?: readonly { readonly index: number; readonly reason: string }[]
}

/** A phase starts at the first point whose label is at or after `at`; the first phase may be left out. */
export interface PhaseStart {
  readonly at: string
  /** Centre and limits are computed from the points up to this label and carried forward. */
  readonly frozenThrough?: string | null
  readonly reason?: string
}

export interface AnalyzeOptions {
  /** `auto` chooses from the columns given and says why in `notes`. Default `auto`. */
  readonly kind?: ChartKind | 'auto'
  /** Default: `run-length-adjusted` for a run chart, else `shewhart-healthcare`. */
  readonly ruleSet?: RuleSetId
  readonly phases?: readonly PhaseStart[]
  readonly better?: Better
  /** Rates are shown per this many units of area (1,000 line-days). Default 1. */
  readonly per?: number
  /**
   * P, U and C charts whose expected count is below 5: `exact` (default) draws binomial or Poisson
   * probability limits, `sigma` keeps the 3-sigma ones.
   */
  readonly smallCounts?: 'exact' | 'sigma'
  /** G chart: `probability` (default) draws the 0.00135 and 0.99865 quantiles, `sigma` mean ± 3 sigma. */
  readonly rareLimits?: 'probability' | 'sigma'
  /** EWMA: weight of the newest point, above 0 to 1. Default 0.2. */
  readonly lambda?: number
  /** EWMA: width of the limits in sigmas of the average, above 0. Default 3. */
  readonly L?: number
  /** CUSUM: slack in sigmas, >= 0. Default 0.5, half the shift to be found. */
  readonly k?: number
  /** CUSUM: decision limit in sigmas, above 0. Default 5. */
  readonly h?: number
  /** EWMA and CUSUM: the level to hold, in the chart's unit. Default: the mean of the phase. */
  readonly target?: number
  /** EWMA and CUSUM: a sigma known beforehand, above 0. Default: from the mean moving range. */
  readonly sigma?: number
}

export interface AnalysisPhase {
  /** Labels of its first and last point. */
  readonly from: string
  readonly to: string
  /** Points that count towards the centre. */
  readonly n: number
  readonly center: number | null
  /** Sigma of one point where it is the same for all; `null` where it varies with the denominator. */
  readonly sigma: number | null
  /** `none`: too few points, or a run chart. `trial`: 12 to 19 points. `exact`: binomial or Poisson. */
  readonly limits: 'none' | 'trial' | 'full' | 'exact'
  readonly frozenThrough: string | null
  readonly reason: string | null
}

export interface AnalysisPoint {
  readonly at: string
  readonly value: number | null
  readonly numerator: number | null
  readonly denominator: number | null
  readonly center: number | null
  readonly lower: number | null
  readonly upper: number | null
  /** Index into `phases`. */
  readonly phase: number
  readonly leftOut: string | null
  /** Indices into `signals`. */
  readonly signals: readonly number[]
  /** Where `value` is worked out from it (moving range, EWMA, CUSUM): the measurement itself. */
  readonly observed?: number | null
  /** Subgroup charts: measurements behind the point. */
  readonly size?: number
  /** CUSUM: the upper and lower sums, both >= 0; `value` is the larger, the lower one negative. */
  readonly sums?: { readonly high: number; readonly low: number } | null
}

/** A second chart below the first: how much the points spread. */
export interface Companion {
  readonly kind: 'moving-range' | 's' | 'r'
  /** One entry for every point of the analysis. */
  readonly points: readonly {
    readonly value: number | null
    readonly center: number | null
    readonly lower: number | null
    readonly upper: number | null
    /** Beyond a limit. */
    readonly beyond: boolean
  }[]
}

export interface Signal {
  /** Rule ID as in SPEC.md, such as `beyond-limits`. */
  readonly rule: string
  /** Zero-based indices into `points`, in order. */
  readonly points: readonly number[]
  readonly direction: 'up' | 'down' | null
  /** Whether that direction is the better one; `null` where the measure has none or it is not a shift. */
  readonly better: boolean | null
  /** One plain sentence: which rule, which points, which direction, whether that is better. */
  readonly text: string
}

/** Something the reader of the chart should know: a fallback, a small count, over-dispersion. */
export interface Note {
  readonly code: string
  readonly text: string
}

export interface Analysis {
  readonly kind: ChartKind
  /** What was asked for, where the data allow less (limits are not drawn below 12 points). */
  readonly requestedKind: ChartKind | 'auto'
  readonly ruleSet: RuleSetId
  readonly phases: readonly AnalysisPhase[]
  readonly points: readonly AnalysisPoint[]
  readonly signals: readonly Signal[]
  readonly notes: readonly Note[]
  /** For charts of measurements: the chart of their spread. */
  readonly companion?: Companion
}

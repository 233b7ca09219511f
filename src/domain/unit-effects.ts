import { randomEffects } from '../stats/random-effects.ts'
import {
  claimOfInterval,
  type EffectClaim,
  type EffectFinding,
  effectOf,
  effectPoints,
  NEARBY,
} from './effect.ts'
import type { Estimate } from './effect-fit.ts'
import { type EffectScale, effectScale } from './effect-scale.ts'
import type { MeasureRecord, TestRecord } from './effect-shifts.ts'
import type { Id, Measure, Project, Unit } from './record.ts'
import { unitIdOf } from './repeats.ts'
import { compareMoments } from './series.ts'
import { type UnitStart, unitShifts, unitStart } from './unit-starts.ts'

/** Below this a claim is made: a difference between units, or an effect over all. */
const ALPHA = 0.05

/** The same measure on one unit, and what it did there. */
export interface UnitEffect {
  readonly measure: Measure
  readonly unit: Pick<Unit, 'id' | 'name'>
  /** `null`: no test of the project has been locked and started, so there is no date to look from. */
  readonly start: UnitStart | null
  /** What the single measure's page says from that date on. */
  readonly finding: EffectFinding | null
  /** Change as units are compared by it; `null`: this unit tells too little. */
  readonly change: Estimate | null
  /** Share in the change over all units, 0 to 1; `null`: not in it. */
  readonly weight: number | null
}

/** The units taken together: at least two that tell enough and have a start of their own. */
export interface UnitsTogether {
  readonly n: number
  readonly change: Estimate
  /** The same for a unit that stood at `base`, in the chart's unit. */
  readonly base: number
  readonly distance: Estimate
  readonly claim: Exclude<EffectClaim, 'withheld'>
  /** Cochran's Q on n − 1 degrees of freedom, with the chance of one as large in like units. */
  readonly q: number
  readonly p: number
  /** Share of the spread between units beyond chance, 0 to 1. */
  readonly iSquared: number
  readonly differ: boolean
}

/**
 * What starts at different times show. `each-moved`: every unit left its line the same way after its
 * own start. `not-each`: not every one did. `same-time`: they began within a few points of each other.
 */
type SteppedStarts = 'each-moved' | 'not-each' | 'same-time'

/** What one measure did on each of the units it is taken on. */
export interface UnitsFinding {
  /** The one that the others repeat. */
  readonly measure: Measure
  /**
   * How changes are told: `plain`, differences in the chart's unit; `log`, ratios to the line before;
   * `logit`, ratios of odds.
   */
  readonly scale: EffectScale['name']
  /** In order of start, those without one last. */
  readonly units: readonly UnitEffect[]
  readonly together: UnitsTogether | null
  /** Of the units taken together. */
  readonly stepped: SteppedStarts | null
}

/** The record around a measure that is taken on several units. */
export interface UnitsRecord {
  readonly project: Project
  /** Every unit that one of the measures is taken on. */
  readonly units: readonly Unit[]
  /** Every test of the project. */
  readonly cycles: readonly TestRecord[]
}

/**
 * What a measure did on each of its units, whether they differ by more than chance, and what they
 * show together.
 *
 * Each unit has the effect of its own page. They are compared by the mean distance of the first points
 * from the line before carried on, on the scale that the lines are fitted on.
 *
 * @param family The measure that is repeated first, then its repeats.
 * @param chosen Key of a test or phase by measure id, where somebody chose one.
 * @throws AppError what `analyze` throws for data its chart cannot take.
 *
 * @see Hussey & Hughes (2007), Contemp Clin Trials 28:182, for starts in steps.
 */
export function unitsFinding(
  family: readonly MeasureRecord[],
  { project, units, cycles }: UnitsRecord,
  chosen: ReadonlyMap<Id, string> = new Map(),
): UnitsFinding {
  const { measure } = family[0]!
  // One scale for all: lines on different scales cannot be compared.
  const scale = effectScale(
    measure,
    family.flatMap((data) => effectPoints(data.measure, data.observations)),
  )
  const ids = family.map((data) => data.measure.id)
  const found = family.map((data): UnitEffect => {
    const unitId = unitIdOf(data.measure, project)
    const start = unitStart(data, cycles, chosen.get(data.measure.id))
    const finding =
      start === null ? null : effectOf(data, start.shift, unitShifts(data, cycles, ids), scale)
    return {
      measure: data.measure,
      unit: { id: unitId, name: units.find((unit) => unit.id === unitId)?.name ?? '' },
      start,
      finding,
      change: isUsable(finding) ? toldOf(scale.name, finding.scaled) : null,
      weight: null,
    }
  })
  found.sort(byStart)
  const compared = found.flatMap((unit) => comparable(unit) ?? [])
  if (compared.length < 2)
    return { measure, scale: scale.name, units: found, together: null, stepped: null }
  const { together, weights } = takenTogether(measure, scale, compared)
  let next = 0
  return {
    measure,
    scale: scale.name,
    units: found.map((unit) => ({
      ...unit,
      weight: comparable(unit) === null ? null : weights[next++]!,
    })),
    together,
    stepped: steppedStarts(compared),
  }
}

type Fitted = Extract<EffectFinding, { kind: 'fitted' }>

const isUsable = (finding: EffectFinding | null): finding is Fitted =>
  finding?.kind === 'fitted' && finding.claim !== 'withheld' && finding.scaled.standardError > 0

/**
 * What a unit adds to the whole: its effect, where it tells enough and the change is known to have
 * begun there. With the project's date alone, a unit may be one where nothing changed.
 */
function comparable({ start, finding }: UnitEffect): Fitted | null {
  return start !== null && start.source !== 'project-test' && isUsable(finding) ? finding : null
}

function byStart(a: UnitEffect, b: UnitEffect): number {
  if (a.start === null || b.start === null)
    return Number(a.start === null) - Number(b.start === null)
  return (
    compareMoments(a.start.shift.at, b.start.shift.at) ||
    a.unit.name.localeCompare(b.unit.name, 'en', { numeric: true })
  )
}

/** A change on the scale fitted on, as it is told. */
const told = (scale: EffectScale['name'], value: number) =>
  scale === 'plain' ? value : Math.exp(value)

function toldOf(scale: EffectScale['name'], { value, reach }: Fitted['scaled']): Estimate {
  return {
    value: told(scale, value),
    low: told(scale, value - reach),
    high: told(scale, value + reach),
  }
}

function takenTogether(measure: Measure, { name, back }: EffectScale, usable: readonly Fitted[]) {
  const scaled = usable.map((finding) => finding.scaled)
  const all = randomEffects(
    scaled.map((s) => s.value),
    scaled.map((s) => s.standardError),
    { degreesOfFreedom: scaled.map((s) => s.degreesOfFreedom) },
  )
  const base = scaled.reduce((sum, s) => sum + s.base, 0) / scaled.length
  const distance = (by: number) => back(base + by) - back(base)
  const { estimate, lower, upper, q, p, iSquared, n, weights } = all
  const together: UnitsTogether = {
    n,
    change: { value: told(name, estimate), low: told(name, lower), high: told(name, upper) },
    base: back(base),
    distance: { value: distance(estimate), low: distance(lower), high: distance(upper) },
    claim: claimOfInterval({ low: lower, high: upper }, measure.better),
    q,
    p,
    iSquared,
    differ: p < ALPHA,
  }
  return { together, weights }
}

/** Whether units that began at times of their own moved after them, and not at some other time. */
function steppedStarts(own: readonly Fitted[]): SteppedStarts {
  const apart = own.some((a) =>
    own.some(
      (b) =>
        Math.abs(placeOf(a, b.shift.at) - a.breakAt) > NEARBY &&
        Math.abs(placeOf(b, a.shift.at) - b.breakAt) > NEARBY,
    ),
  )
  if (!apart) return 'same-time'
  const { claim } = own[0]!
  const each = own.every(
    (finding) => finding.claim === claim && claim !== 'none' && beganThen(finding),
  )
  return each ? 'each-moved' : 'not-each'
}

/** Index of the first point on or after a moment. */
function placeOf({ points }: Fitted, at: string): number {
  const index = points.findIndex((point) => compareMoments(point.at, at) >= 0)
  return index === -1 ? points.length : index
}

/** Where the data say when a single step began, they do not say another time than this one. */
function beganThen({ start, shift }: Fitted): boolean {
  if (start === null || start.unclear) return true
  return compareMoments(shift.at, start.after) > 0 && compareMoments(shift.at, start.through) <= 0
}

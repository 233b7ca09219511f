import { AppError } from '../errors.ts'
import { binomialDraw, type Draw, geometricDraw, poissonDraw } from './chance-draws.ts'
import { proportionLimits, rateLimits } from './count-limits.ts'
import { FEWEST_USEFUL } from './phase-signals.ts'
import { FALL, MET_SHIFT, RISE, ROW_MASK, TIE } from './rule-automaton.ts'
import { ruleSetOf } from './rules.ts'
import { automataOf } from './scan-points.ts'
import { sidesTally } from './sides-tally.ts'
import type { SimulationOptions } from './simulate-signals.ts'
import { createRandom, type Random } from './special/random.ts'
import type { RuleSetId } from './types.ts'
import { sideOf, type ZoneBorders, zoneOf } from './zones.ts'

/** Points after a change, and the lines they are held against: those from before it. */
export type ChangedProcess =
  /** Measurements whose mean has moved by so many sigmas. */
  | { readonly kind: 'normal'; readonly shift: number }
  /** Proportions or rates, as for `timeToCountSignal`; `center` where the line is not the level. */
  | {
      readonly kind: 'p' | 'u'
      readonly before: number
      readonly after: number
      readonly denominators: readonly number[]
      readonly center?: number
    }
  /** Times or cases between events on a run chart: its centre, and the mean after the change. */
  | { readonly kind: 't' | 'g'; readonly center: number; readonly after: number }

/** How long a chart took to signal, over many seeded charts. */
export interface SimulatedTime {
  /** chances[t − 1]: share of the charts that had signalled within t points of the change. */
  readonly chances: Float64Array
  /** Charts drawn; fewer than asked for where `onProgress` stopped it. */
  readonly charts: number
  /** The points before the change already met a rule about the whole phase, and were left out. */
  readonly alreadySignals: boolean
}

/**
 * How long until a chart shows a change, with every rule of the set: seeded random points after the
 * change, limits known, looked at after each point as a team would.
 *
 * Rules about points count from the first point after the change. Rules about a whole phase (runs,
 * crossings, the longest run) count the points before it as well.
 *
 * @param ruleSet  A rule set, by name.
 * @param process  What the points do.
 * @param earlier  Side of each point of the phase before the change: −1, 0 (on the line) or 1.
 * @param horizon  Points to look ahead, a whole number from 1 to 10,000.
 * @param settings Number of charts (default 10,000), seed, progress.
 * @returns Shares by point; Monte Carlo error √(p(1−p)/charts).
 * @throws AppError `stats.out_of_range`, `stats.unknown_rule_set`.
 * @see Champ & Woodall 1987, Technometrics 29:393, for what is counted where a chain can count it.
 *
 * @example
 * simulateTimeToSignal('none', { kind: 'normal', shift: 1 }, [], 2, { charts: 10 }).chances // => new Float64Array([0, 0])
 */
export function simulateTimeToSignal(
  ruleSet: RuleSetId,
  process: ChangedProcess,
  earlier: readonly number[],
  horizon: number,
  settings: SimulationOptions = {},
): SimulatedTime {
  const charts = settings.charts ?? 10_000
  checkWhole('the number of points', horizon, 10_000)
  checkWhole('the number of charts', charts, 10_000_000)
  const rules = ruleSetOf(ruleSet)
  const { draws, borders } = processOf(process, rules.needsLimits)
  const { zone, order } = automataOf(rules.pointRules)
  const whole = rules.phaseRules.length > 0
  const tally = sidesTally(rules.phaseRules, earlier.length + horizon)
  tally.begin(earlier)
  const alreadySignals = whole && tally.useful() >= FEWEST_USEFUL && tally.met()
  const history = alreadySignals ? [] : earlier
  tally.begin(history)
  const random = createRandom(settings.seed ?? 1)
  const first = new Uint32Array(horizon)
  const stride = Math.max(1, Math.min(1000, Math.ceil(charts / 50)))
  let done = 0
  while (done < charts) {
    if (whole) tally.restart()
    let zoneEdge = 0
    let orderEdge = 0
    let previous = 0
    let seen = false
    for (let t = 0; t < horizon; t++) {
      const value = draws[t % draws.length]!(random)
      const place = zoneOf(value, borders[t % borders.length]!)
      const step = t === 0 || value === previous ? TIE : value > previous ? RISE : FALL
      previous = value
      const zoneRow = zoneEdge & ROW_MASK
      zoneEdge = zone.edges[zoneRow + place]!
      if (zoneEdge < 0) zoneEdge = zone.step(zoneRow, place)
      const orderRow = orderEdge & ROW_MASK
      orderEdge = order.edges[orderRow + step]!
      if (orderEdge < 0) orderEdge = order.step(orderRow, step)
      if ((zoneEdge | orderEdge) >> MET_SHIFT !== 0) seen = true
      // Run chart rules find nothing in fewer useful points; what was seen until then counts later.
      if (whole) {
        tally.add(sideOf(place))
        if (tally.useful() < FEWEST_USEFUL || !(seen || tally.met())) continue
      } else if (!seen) continue
      first[t]!++
      break
    }
    done++
    if (done % stride === 0 && settings.onProgress?.(done, charts) === false) break
  }
  let sum = 0
  const chances = Float64Array.from(first, (count) => {
    sum += count
    return sum / done
  })
  return { chances, charts: done, alreadySignals }
}

interface Drawn {
  /** Gone through again and again. */
  readonly draws: readonly Draw[]
  readonly borders: readonly ZoneBorders[]
}

const NO_LIMITS = { sigma: Number.NaN, lower: Number.NaN, upper: Number.NaN }

function processOf(process: ChangedProcess, needsLimits: boolean): Drawn {
  switch (process.kind) {
    case 'normal': {
      const { shift } = process
      if (!Number.isFinite(shift)) throw outOfRange('the shift', shift, 'a finite number of sigmas')
      return {
        draws: [(random: Random) => shift + random.normal()],
        borders: [{ center: 0, sigma: 1, lower: -3, upper: 3 }],
      }
    }
    case 't':
    case 'g': {
      const { kind, center, after } = process
      // Limits of these charts have an exact answer of their own: `rareSignalChances`.
      if (needsLimits) throw outOfRange('the rule set', 'one with limits', 'one for run charts')
      if (!(after > 0 && Number.isFinite(after)))
        throw outOfRange('the mean after the change', after, 'above zero')
      const geometric = geometricDraw(1 / (after + 1))
      return {
        draws: [kind === 'g' ? geometric : (random) => -after * Math.log1p(-random.uniform())],
        borders: [{ center, ...NO_LIMITS }],
      }
    }
    case 'p':
    case 'u': {
      const { kind, before, after, denominators } = process
      const most = kind === 'p' ? 1 : 1e9
      for (const level of [before, after])
        if (!(level >= 0 && level <= most)) throw outOfRange('a level', level, `from 0 to ${most}`)
      if (denominators.length === 0)
        throw outOfRange('the list of denominators', '[]', 'at least one number')
      const center = process.center ?? before
      const made = new Map<number, Draw>()
      const draws = denominators.map((n) => {
        if (!(n > 0 && Number.isFinite(n)) || (kind === 'p' && !Number.isInteger(n)))
          throw outOfRange('a denominator', n, 'above zero, and whole for proportions')
        let draw = made.get(n)
        if (draw === undefined) {
          const count = kind === 'p' ? binomialDraw(n, after) : poissonDraw(n * after)
          draw = (random) => count(random) / n
          made.set(n, draw)
        }
        return draw
      })
      const borders = denominators.map((n) =>
        needsLimits
          ? { center, ...(kind === 'p' ? proportionLimits(before, n) : rateLimits(before, n)) }
          : { center, ...NO_LIMITS },
      )
      return { draws, borders }
    }
  }
}

function checkWhole(name: string, value: number, most: number): void {
  if (Number.isInteger(value) && value >= 1 && value <= most) return
  throw outOfRange(name, value, `a whole number from 1 to ${most}`)
}

function outOfRange(name: string, value: unknown, range: string): AppError {
  return new AppError(
    'stats.out_of_range',
    `To simulate a time to a signal ${name} cannot be ${value}.`,
    `It must be ${range}.`,
    { name, value },
  )
}

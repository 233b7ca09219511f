import type { DataKind, Measure, Observation } from '../../src/domain/record.ts'
import type { Random } from '../../src/stats/special/random.ts'
import { measure, observation } from '../support/records.ts'

/** What is true in an invented story. `size` is in standard deviations of one point. */
export interface Situation {
  readonly name: string
  readonly shift: number
  /** Per point, through both stretches, in standard deviations over all points. */
  readonly drift?: number
  /** Height of a yearly sine wave over monthly points, in standard deviations. */
  readonly season?: number
  /** First autocorrelation of the level from point to point. */
  readonly r1?: number
}

export const SITUATIONS: readonly Situation[] = [
  { name: 'no change', shift: 0 },
  { name: 'small', shift: 0.5 },
  { name: 'large', shift: 2.5 },
  { name: 'worse', shift: -2.5 },
  { name: 'drifting', shift: 0, drift: 2 },
  { name: 'seasonal', shift: 0, season: 1 },
  { name: 'alike 0.3', shift: 0, r1: 0.3 },
  { name: 'alike 0.6', shift: 0, r1: 0.6 },
]

export const KINDS: readonly DataKind[] = [
  'single',
  'subgrouped',
  'classified',
  'counts',
  'rates',
  'cases-between',
  'time-between',
]

/** Points before and during the test. */
export const LENGTHS: readonly (readonly [before: number, test: number])[] = [
  [3, 3],
  [8, 3],
  [12, 6],
  [24, 12],
  [36, 24],
]

/** A true change as a finding may tell it. */
interface Truth {
  readonly ratio: number
  readonly difference: number
}

export interface Story {
  readonly measure: Measure
  readonly observations: readonly Observation[]
  /** First day of the test. */
  readonly from: string
  /** The true difference with the season left out: the step, and what drift adds to it. */
  readonly seasonless: Truth
  /** The true difference between the two stretches: the step, and what drift and season add to it. */
  readonly stretches: Truth
}

/** One invented story; better is down, so a positive shift lowers the level. */
export function story(
  kind: DataKind,
  situation: Situation,
  [before, during]: readonly [number, number],
  size: 'small' | 'large',
  random: Random,
): Story {
  const { shift, drift = 0, season = 0, r1 = 0 } = situation
  const n = before + during
  // Level and standard deviation of one point on the log scale (shares: in points of percent).
  const area = size === 'small' ? 25 : 400
  const share = 0.3
  const mean = size === 'small' ? 5 : 60
  const sd = {
    single: 0.2,
    subgrouped: 0.2 / Math.sqrt(5),
    classified: Math.sqrt((share * (1 - share)) / area),
    counts: 1 / Math.sqrt(mean),
    rates: 1 / Math.sqrt(mean),
    'cases-between': 1,
    'time-between': 1,
  }[kind]
  const start = random.uniform() * 2 * Math.PI
  let noise = random.normal()
  const levels: number[] = []
  const stillLevels: number[] = []
  const rows = Array.from({ length: n }, (_, i): Observation[] => {
    noise = i === 0 ? noise : r1 * noise + Math.sqrt(1 - r1 * r1) * random.normal()
    const still = -shift * Number(i >= before) - (drift * i) / n
    const course = still + season * Math.sin(start + (2 * Math.PI * i) / 12)
    const level = (v: number) => (kind === 'classified' ? within(share + sd * v) : Math.exp(sd * v))
    levels.push(level(course))
    stillLevels.push(level(still))
    const move = course + (r1 > 0 ? noise : 0)
    const at = monthOf(i)
    const own = (values: object) => observation({ id: `O${i}`, at, ...values })
    switch (kind) {
      case 'single': {
        const e = r1 > 0 ? 0 : random.normal()
        return [own({ value: 60 * Math.exp(sd * (move + e)) })]
      }
      case 'subgrouped':
        return Array.from({ length: 5 }, (_, j) =>
          observation({
            id: `O${i}-${j}`,
            at,
            value: 60 * Math.exp(sd * move + 0.2 * random.normal()),
          }),
        )
      case 'classified': {
        const p = within(share + sd * move)
        let hits = 0
        for (let j = 0; j < area; j++) if (random.uniform() < p) hits++
        return [own({ numerator: hits, denominator: area })]
      }
      case 'counts':
        return [own({ value: poisson(mean * Math.exp(sd * move), random) })]
      case 'rates':
        return [own({ numerator: poisson(mean * Math.exp(sd * move), random), denominator: 500 })]
      case 'time-between':
        return [own({ value: -Math.log(1 - random.uniform()) * 20 * Math.exp(move) })]
      default: {
        const p = 1 / (1 + 50 * Math.exp(move))
        return [own({ value: Math.floor(Math.log(1 - random.uniform()) / Math.log(1 - p)) })]
      }
    }
  })
  // Values are compared by their logs, everything else by its totals.
  const logs = kind === 'single' || kind === 'subgrouped'
  const typical = (list: readonly number[]) =>
    logs
      ? Math.exp(list.reduce((sum, v) => sum + Math.log(v), 0) / list.length)
      : list.reduce((sum, v) => sum + v, 0) / list.length
  const truth = (list: readonly number[]): Truth => {
    const first = typical(list.slice(0, before))
    const second = typical(list.slice(before))
    return { ratio: second / first, difference: second - first }
  }
  return {
    measure: measure({ dataKind: kind, better: 'down', per: 1 }),
    observations: rows.flat(),
    from: monthOf(before),
    seasonless: truth(stillLevels),
    stretches: truth(levels),
  }
}

const monthOf = (i: number) => new Date(Date.UTC(2020, i, 1)).toISOString().slice(0, 10)
const within = (p: number) => Math.min(0.98, Math.max(0.01, p))

function poisson(mean: number, random: Random): number {
  let count = -1
  let sum = 0
  do {
    count++
    sum -= Math.log(1 - random.uniform())
  } while (sum < mean)
  return count
}

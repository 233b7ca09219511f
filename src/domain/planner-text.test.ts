import { describe, expect, it } from 'vitest'
import { measure } from '../../tests/support/records.ts'
import { nextMeanInterval } from '../stats/next-values-interval.ts'
import { permutationDifference } from '../stats/permutation-difference.ts'
import { signalPlan, wholePlan } from './planner.ts'
import type { PlannerBaseline } from './planner-baseline.ts'
import { smallestConvincing } from './planner-small-test.ts'
import {
  chanceRows,
  convincingText,
  countedText,
  groundSentences,
  oftenText,
  planSentences,
  progressText,
  samplingSentences,
} from './planner-text.ts'

const share = (own: Partial<PlannerBaseline> = {}): PlannerBaseline => ({
  origin: 'frozen',
  level: 0.62,
  model: { kind: 'p', denominators: [40] },
  ruleSet: 'shewhart-healthcare',
  n: 24,
  values: [],
  numerator: 595,
  denominator: 960,
  lower: null,
  upper: null,
  rhythm: { word: 'week', days: 7 },
  ...own,
})
const minutes = measure({
  name: 'Minutes to triage',
  dataKind: 'single',
  unitLabel: 'minutes',
  better: 'down',
})
const times = (own: Partial<PlannerBaseline> = {}) =>
  share({ level: 50, model: { kind: 'normal', sigma: 10 }, values: [], ...own })

describe('the planner’s sentences', () => {
  it('say when the change shows, whether the plan is long enough, and the false signals', () => {
    const plan = signalPlan(share(), 0.74, 1, 2)!
    const [shows, planned, wrong] = planSentences(measure(), share(), plan, 2)
    expect(shows).toBe(
      `If Summaries sent within 24 hours goes from 62 % to 74 % and stays there, the chart shows it within ${plan.median} weeks half of the time, and within ${plan.for90} weeks 9 times in 10.`,
    )
    expect(planned).toBe(
      `The days you planned hold 2 points, enough to see it ${oftenText(plan.chances[1]!)}; for 8 times in 10, plan ${plan.for80} weeks.`,
    )
    expect(wrong).toMatch(
      /^If nothing changes, it still shows a signal (?:less than )?\d times? in 100 in 2 weeks, by chance alone\.$/,
    )
  })

  it('name the observations where no days are planned', () => {
    const plan = signalPlan(share(), 0.74, 1, null)!
    expect(planSentences(measure(), share(), plan, null)[1]).toBe(
      `For 8 times in 10, plan ${plan.for80} weeks, with about ${40 * plan.for80!} summaries in all.`,
    )
  })

  it('say that long enough is long enough', () => {
    const plan = signalPlan(times(), 20, 1, 4)!
    const text = planSentences(minutes, times(), plan, 4)
    expect(text[1]).toBe('The days you planned hold 4 points, enough to see it nearly every time.')
  })

  it('say when once is enough', () => {
    const plan = signalPlan(times(), -40, 1, null)!
    expect(planSentences(minutes, times(), plan, null)[0]).toContain(
      'the chart shows it within 1 week, 9 times in 10.',
    )
  })

  it('say when a change is too small to be seen', () => {
    const plan = signalPlan(times({ ruleSet: 'none' }), 49, 1, null)!
    expect(planSentences(minutes, times(), plan, null)[0]).toContain(
      'only less than 1 time in 100 even after 120 weeks: the change is too small for this sampling.',
    )
    const slow = { ...plan, median: 70 }
    expect(planSentences(minutes, times(), slow, null)[0]).toContain(
      'takes more than 120 weeks to do so 9 times in 10',
    )
  })

  it('say what more sampling would change', () => {
    const counted = signalPlan(share(), 0.74, 1, 3)!
    const [twice, amount] = samplingSentences(measure(), share(), counted)
    expect(twice).toBe(
      `With twice as much in each point, it would be seen 8 times in 10 within ${counted.doubled.for80} weeks instead of ${counted.for80} weeks.`,
    )
    expect(amount).toMatch(
      /^To see it 8 times in 10 within 3 weeks, each point needs about \d+ summaries; a usual one has 40 summaries\.$/,
    )
    const single = signalPlan(times(), 40, 1, 3)!
    expect(samplingSentences(minutes, times(), single)).toEqual([
      expect.stringMatching(/^With points twice as often, .* instead of \d+ weeks\.$/),
      expect.stringMatching(/each point would have to be the mean of \d times as many values\.$/),
    ])
    const none = { ...single, for80: null, timesAsMuch: null }
    expect(samplingSentences(minutes, times(), none)[0]).toMatch(
      /^With points twice as often, it would be seen within/,
    )
    const never = { ...none, doubled: { ...none.doubled, for80: null } }
    expect(samplingSentences(minutes, times(), never)[0]).toContain('would still take more than 60')
    const same = { ...single, doubled: { ...single.doubled, for80: single.for80 } }
    expect(samplingSentences(minutes, times(), same)[0]).toContain(
      'the rules need that many points',
    )
  })

  it('say what the baseline is, that a guess is a guess, and that few points are few', () => {
    const counted = { leftOut: [], charts: null, alreadySignals: false }
    const ground = (own: Partial<PlannerBaseline> = {}) =>
      groundSentences(measure(), share(own), counted)
    expect(ground()[0]).toBe('The baseline is the frozen phase: 62 %, from 24 points.')
    expect(ground({ origin: 'open' })[0]).toContain('are not frozen')
    expect(ground({ n: 9 })[1]).toContain('rough guide')
    expect(ground({ origin: 'guess', n: 0 })[0]).toContain('a guess of the baseline, not on data')
    expect(ground()).toHaveLength(2)
    expect(groundSentences(measure(), share(), { ...counted, alreadySignals: true })[2]).toMatch(
      /^The chart already shows a signal before the test/,
    )
    expect(ground({ ruleSet: 'run-classic', sides: [1, -1] })[2]).toBe(
      'The rules about the whole phase count its points from before the test too.',
    )
  })

  it('say which rules are counted, and how far the rest is', () => {
    expect(countedText(signalPlan(share(), 0.74, 1, 2)!)).toBe(
      'The rules about trends are not counted yet.',
    )
    const classic = times({ ruleSet: 'run-classic' })
    expect(countedText(signalPlan(classic, 40, 1, 2)!)).toBe(
      'The rules about trends and the number of runs are not counted yet.',
    )
    expect(countedText(wholePlan(classic, 40, 1, 2, () => {}, 500)!)).toBe(
      'Every rule of this chart is counted, on 500 simulated charts, the same ones each time.',
    )
    expect(countedText(wholePlan(times(), 40, 1, 2)!)).toBe('Every rule of this chart is counted.')
    expect(progressText({ done: 12_000, total: 160_000, of: 'charts' })).toBe(
      'Counting them: 12,000 of 160,000 simulated charts.',
    )
  })

  it.each([
    [1, 'nearly every time'],
    [0.96, 'more than 9 times in 10'],
    [0.9, '9 times in 10'],
    [0.1, '1 time in 10'],
    [0.042, '4 times in 100'],
    [0.01, '1 time in 100'],
    [0.001, 'less than 1 time in 100'],
  ])('write a chance of %d as %s', (chance, text) => {
    expect(oftenText(chance)).toBe(text)
  })
})

describe('the table of chances', () => {
  it('goes week by week, to where 9 times in 10 is reached', () => {
    const plan = signalPlan(share(), 0.74, 1, null)!
    const rows = chanceRows(share(), plan)
    expect(rows.length).toBeLessThanOrEqual(12)
    expect(rows[0]!.label).toMatch(/^week \d$/)
    expect(rows.at(-1)!.chance).toBeGreaterThanOrEqual(0.9)
  })

  it('puts the days of a week together', () => {
    const daily = times({ rhythm: { word: 'day', days: 1 } })
    const plan = signalPlan(daily, 43, 1, null)!
    const [first] = chanceRows(daily, plan)
    expect(first).toMatchObject({ label: 'week 1', chance: plan.chances[6] })
  })
})

describe('the smallest convincing result', () => {
  const values = [52, 47, 55, 49, 51, 46, 53, 50, 48, 54, 50, 51]
  const baseline = times({ n: values.length, values })

  it('of one value is the predictive interval of Hahn & Meeker 1991, section 4.7', () => {
    const result = smallestConvincing(minutes, baseline, 1)!
    expect(result.below).toBeCloseTo(nextMeanInterval(values, 1).lower, 9)
    expect(result.method).toBe('predictive')
    expect(convincingText(minutes, result)).toMatch(
      /^One trial stands out from the baseline with a value of 4[0-9.]+ minutes or less\. /,
    )
  })

  it.each([2, 3, 4])('of %d values is one that the exact permutation test rejects', (trials) => {
    const result = smallestConvincing(minutes, baseline, trials)!
    const same = (value: number) =>
      permutationDifference(new Array<number>(trials).fill(value), values)
    if (result.method === 'permutation') {
      const { p, exact } = same(result.below!)
      expect(exact).toBe(true)
      expect(p).toBeLessThanOrEqual(0.05 + 1e-12)
    }
    expect(result.below!).toBeLessThanOrEqual(nextMeanInterval(values, trials).lower + 1e-9)
    expect(convincingText(minutes, result)).toContain(`${trials} trials stand out`)
  })

  it('does not exist where there are too few deals for any result to be rare', () => {
    const few = times({ n: 3, values: [50, 52, 55] })
    // 2 of 5 dealt: 10 ways, so no chance is below 1 in 10.
    const result = smallestConvincing(minutes, few, 2)!
    expect(result).toMatchObject({ below: null, above: null, method: 'permutation' })
    expect(convincingText(minutes, result)).toContain('No result of 2 trials could stand out')
  })

  it('of items is a count beyond the exact predictive range', () => {
    const result = smallestConvincing(
      measure(),
      share({ numerator: 12, denominator: 20, n: 4 }),
      1,
    )!
    expect(result).toMatchObject({ as: 'items', of: 5, above: null })
    expect(convincingText(measure(), result)).toContain('No result of 1 trial could stand out')
    const more = smallestConvincing(measure(), share(), 1)!
    expect(convincingText(measure(), more)).toMatch(
      /^One trial stands out from the baseline with 3\d or more of 40 summaries\./,
    )
  })

  it('of events is a count, both ways where neither is better', () => {
    const falls = measure({ dataKind: 'counts', unitLabel: 'falls', better: null })
    const monthly = share({
      model: { kind: 'u', denominators: [1] },
      numerator: 120,
      denominator: 24,
    })
    const result = smallestConvincing(falls, monthly, 2)!
    expect(convincingText(falls, result)).toMatch(
      /with \d or fewer falls in all, or \d+ or more falls in all\. A result nearer/,
    )
    const rate = measure({ dataKind: 'rates', per: 1000, unitLabel: 'bed-days', better: 'down' })
    const perDays = share({
      model: { kind: 'u', denominators: [0.7] },
      numerator: 120,
      denominator: 16.8,
    })
    expect(convincingText(rate, smallestConvincing(rate, perDays, 2))).toContain(
      'fewer in 1,400 bed-days',
    )
  })

  it('of times between events is a mean beyond the F range (Hahn & Meeker 1991)', () => {
    const gaps = measure({ dataKind: 'time-between', unitLabel: 'days', better: 'up' })
    const open = share({ model: { kind: 't' }, values: new Array<number>(20).fill(30), n: 20 })
    // F with 2 and 40 degrees of freedom, upper 2.5 % point: 4.05 (standard table).
    expect(smallestConvincing(gaps, open, 1)!.above! / 30).toBeCloseTo(4.05, 2)
  })

  it('says that without data nothing says what would convince', () => {
    const guess = share({ origin: 'guess', n: 0, numerator: 0, denominator: 0 })
    expect(smallestConvincing(measure(), guess, 1)).toBeNull()
    expect(convincingText(measure(), null)).toContain('Without baseline data')
  })
})

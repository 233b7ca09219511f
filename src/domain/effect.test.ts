import { describe, expect, it } from 'vitest'
import { nileFlow } from '../../tests/reference/nile.ts'
import { driversKilledOrSeriouslyInjured } from '../../tests/reference/seatbelts.ts'
import { HANDWASHING_FROM, VIENNA_MONTHS } from '../../tests/reference/vienna-maternity.ts'
import { measure, observation } from '../../tests/support/records.ts'
import { createRandom } from '../stats/special/random.ts'
import { effectOf, type Shift } from './effect.ts'
import { effectFit } from './effect-fit.ts'
import { effectText } from './effect-text.ts'
import type { Measure, Observation } from './record.ts'

const rows = (at: (i: number) => string, values: readonly number[]): Observation[] =>
  values.map((value, i) => observation({ id: `O${i}`, at: at(i), value }))
const months = (first: number) => (i: number) =>
  `${first + Math.floor(i / 12)}-${String((i % 12) + 1).padStart(2, '0')}-01`
const minutes = measure({ name: 'Minutes', dataKind: 'single', better: 'down' })

function fitted(m: Measure, observations: Observation[], shift: Shift, shifts = [shift]) {
  const finding = effectOf({ measure: m, observations }, shift, shifts)
  if (finding.kind !== 'fitted') throw new Error(`not fitted: ${finding.kind}`)
  return finding
}

/**
 * Harvey & Durbin (1986), J R Stat Soc A 149:187: fewer car drivers were killed or seriously injured
 * after the seat belt law of 31 January 1983. Data as in R, datasets::Seatbelts.
 */
describe('the seat belt law', () => {
  const law = { at: '1983-01-31', name: 'the law' }
  const drivers = { ...minutes, name: 'Drivers hurt' }
  const finding = fitted(drivers, rows(months(1969), driversKilledOrSeriouslyInjured), law)

  it('finds the fall that was published, with the time of year allowed for', () => {
    expect(finding.breakAt).toBe(169)
    expect(finding.claim).toBe('better')
    expect(finding.season).toBe(12)
    expect(finding.lines.early.high).toBeLessThan(0)
  })

  it('says so, and that the fall before the law makes the two means misleading', () => {
    const { headline, sentences, limits } = effectText(finding)
    expect(headline).toBe('Drivers hurt: better than its earlier line carried on.')
    expect(sentences[0]).toBe(
      'Over the first 12 points from the law (1983-01-31) on, the line before carried on stands at 1,451; the points lie about 253 lower, the better direction. The data fit anything from 94.1 to 412 lower (95 % interval).',
    )
    expect(limits).toContain(
      'The two means alone mislead: the measure was already falling before the law.',
    )
    expect(limits).toContain('The time of year is allowed for, as a wave that repeats.')
  })

  it('holds the ordinary estimates on logs within its intervals', () => {
    // Segmented regression of log(drivers), statsmodels: step −0.326157501381, slope
    // 0.0137155178648, Durbin–Watson 0.796891513801 (no season).
    const fit = effectFit(driversKilledOrSeriouslyInjured.map(Math.log), 169)
    expect(fit.durbinWatson).toBeCloseTo(0.796891513801, 10)
    expect(fit.lag).toBe(4)
    for (const [{ low, high }, published] of [
      [fit.step, -0.326157501381],
      [fit.slope, 0.0137155178648],
    ] as const) {
      expect(published).toBeGreaterThan(low)
      expect(published).toBeLessThan(high)
    }
    // Newey–West by itself, lag 4, small sample: 0.0515; ours is never narrower.
    expect((fit.step.high - fit.step.low) / 2).toBeGreaterThan(1.96 * 0.0514957948263)
  })
})

/** Cobb (1978), Biometrika 65:243: the flow fell by about 250 in 1899, in one step. */
describe('the Nile at Aswan', () => {
  const dam = { at: '1899-01-01', name: 'the dam' }
  const flow = measure({ name: 'Flow', dataKind: 'single', better: null })
  const finding = fitted(
    flow,
    rows((i) => `${1871 + i}-01-01`, nileFlow),
    dam,
    [dam, { at: '1902-12-10', name: 'the lower dam' }],
  )

  it('finds a lower level and no change of slope', () => {
    expect(finding.claim).toBe('lower')
    expect(finding.lines.turn).toBeNull()
    expect(finding.lines.trendBefore).toBeNull()
    // Ordinary segmented regression, statsmodels: step −289.102685366, DW 1.68784576458.
    expect(finding.durbinWatson).toBeCloseTo(1.68784576458, 10)
    expect(finding.lines.step.value).toBeCloseTo(-289.1, -1)
    expect(finding.before.mean).toBeCloseTo(1097.75, 8)
    expect(finding.after.mean).toBeCloseTo(849.9722, 3)
  })

  it('places the step in 1899 and holds it against what is on record', () => {
    expect(finding.start).toMatchObject({ at: '1899-01-01', unclear: false, nearest: null })
    expect(finding.start!.within.map((s) => s.name)).toEqual(['the dam'])
    expect(effectText(finding).sentences.at(-1)).toBe(
      'If there was one single step, it most likely began at 1899-01-01; the data leave open any time after 1896-01-01 and up to 1900-01-01. The dam (1899-01-01) falls within that time.',
    )
  })

  it('says that a change close by cannot be told from this one', () => {
    expect(effectText(finding).limits[0]).toBe(
      'The lower dam (1902-12-10) lies so near that it cannot be told which of them it was.',
    )
  })
})

/** Semmelweis (1861): deaths fell when chlorine handwashing began in the middle of May 1847. */
describe('handwashing in Vienna', () => {
  const handwashing = { at: HANDWASHING_FROM, name: 'test 1' }
  const deaths = measure({ name: 'Mothers who died', better: 'down', unitLabel: 'births' })
  const observations = VIENNA_MONTHS.map((m, i) =>
    observation({ id: `O${i}`, at: m.at, numerator: m.deaths, denominator: m.births }),
  )
  const finding = fitted(deaths, observations, handwashing)

  it('finds fewer deaths, although each month resembles the one before', () => {
    expect(finding.claim).toBe('better')
    expect(finding.scale).toBe('logit')
    expect(finding.likeness).toBeGreaterThan(0.6)
    expect(finding.before.n).toBe(76)
    expect(finding.after.n).toBe(22)
    expect(effectText(finding).limits).toContain(
      'Each point resembles the one before it; the interval is wider for that.',
    )
  })

  it('dates the step by the deaths alone to the first full month of handwashing', () => {
    expect(finding.start!.at).toBe(HANDWASHING_FROM)
    expect(finding.start!.within).toEqual([handwashing])
  })

  it('keeps every line between none and all', () => {
    for (const value of finding.lines.fitted) expect(value).toBeGreaterThan(0)
    for (const { low, high } of finding.lines.carried) {
      expect(low).toBeGreaterThan(0)
      expect(high).toBeLessThan(1)
    }
  })

  it('names the nearest test where none lies within the time of the step', () => {
    const late = { at: '1848-09-01', name: 'test 2' }
    const text = effectText(fitted(deaths, observations, handwashing, [late]))
    expect(text.sentences.at(-1)).toContain(
      'Nothing on record falls within that time; the nearest is test 2 (1848-09-01).',
    )
  })

  it.each([
    ['1845-01-01', 'later'],
    ['1848-03-01', 'earlier'],
  ])('says that a step would not have begun at %s but %s', (at, word) => {
    const other = { at, name: 'test 2' }
    expect(effectText(fitted(deaths, observations, other)).limits).toContain(
      `A single step would have begun ${word} than test 2, so that date may be the wrong one to look from.`,
    )
  })
})

describe('what is not claimed', () => {
  const test = { at: '2025-09-01', name: 'test 1' }
  const random = createRandom(3)

  it('claims nothing with fewer than 8 points on a side', () => {
    const values = [...Array(8).fill(10), ...Array(7).fill(2)] as number[]
    const finding = effectOf({ measure: minutes, observations: rows(months(2025), values) }, test, [
      test,
    ])
    expect(finding.kind).toBe('too-few')
    expect(effectText(finding)).toEqual({
      headline: 'Minutes: too little to tell.',
      sentences: [
        'There are 8 points before test 1 (2025-09-01) and 7 from then on. A line needs at least 8 on either side, so nothing is claimed.',
      ],
      limits: [],
    })
  })

  it('draws no line through gaps between rare events, nor through a measure that does not move', () => {
    const same = rows(months(2025), Array(20).fill(4))
    const of = (m: Measure) => effectText(effectOf({ measure: m, observations: same }, test, []))
    expect(of(measure({ dataKind: 'time-between' })).sentences[0]).toContain('rare events')
    expect(of(minutes).sentences).toEqual(['All 20 points have the same value.'])
    expect(of(minutes).headline).toBe('Minutes: nothing moves.')
  })

  it('says that points do not stand clear of the line before, with what the data still fit', () => {
    const values = Array.from({ length: 18 }, () => 30 + random.normal())
    const finding = fitted(minutes, rows(months(2025), values), test)
    expect(finding.claim).toBe('none')
    const { headline, sentences, limits } = effectText(finding)
    expect(headline).toBe('Minutes: not clear of its earlier line carried on.')
    expect(sentences[0]).toMatch(/do not stand clear of it\. .* lower to .* higher \(95 %/)
    expect(limits).toContain(
      '8 points on one side are few: a line through them can turn with the next one.',
    )
    expect(limits).toContain(
      'The points are too few to see a season, so a season can look like an effect.',
    )
  })

  it('withholds a claim where neighbours are too much alike', () => {
    let level = 0
    const wander = Array.from({ length: 200 }, () => {
      level += random.normal()
      return level
    })
    const finding = fitted(
      minutes,
      rows((i) => `${1800 + i}-01-01`, wander),
      { at: '1900-01-01', name: 'test 1' },
    )
    expect(finding.claim).toBe('withheld')
    const { headline, sentences } = effectText(finding)
    expect(headline).toBe('Minutes: the points are too much alike to tell.')
    expect(sentences[0]).toContain('Nothing is claimed.')
  })

  it('says which way the slope turns', () => {
    const rise = Array.from({ length: 40 }, (_, i) => (i < 20 ? 0 : i - 19) + random.normal())
    const at = (values: number[]) =>
      effectText(
        fitted(
          minutes,
          rows((i) => `${1950 + i}-01-01`, values),
          { at: '1970-01-01', name: 'test 1' },
        ),
      ).sentences
    expect(at(rise)).toContain('After that the line climbs more, or falls less, than before.')
    expect(at(rise.map((x) => -x))).toContain(
      'After that the line falls more, or climbs less, than before.',
    )
  })
})

describe('how often a claim is wrong', () => {
  /** 200 stories of 40 points without any change; neighbours related by `r`. */
  it.each([{ r: 0 }, { r: 0.3 }, { r: 0.6 }])(
    'stays near 5 in 100 with neighbours related by $r',
    ({ r }) => {
      const random = createRandom(11)
      let claims = 0
      for (let story = 0; story < 200; story++) {
        let level = random.normal() / Math.sqrt(1 - r * r)
        const values = Array.from({ length: 40 }, () => {
          level = r * level + random.normal()
          return level
        })
        const { low, high } = effectFit(values, 24).early
        if (low > 0 || high < 0) claims++
      }
      // 5 % of 200 is 10; 19 is three standard errors above it.
      expect(claims).toBeLessThanOrEqual(19)
    },
  )

  it('holds a real step within its interval as often as it says', () => {
    const random = createRandom(5)
    let held = 0
    for (let story = 0; story < 200; story++) {
      const values = Array.from({ length: 30 }, (_, i) => random.normal() + (i < 15 ? 0 : 2))
      const { low, high } = effectFit(values, 15).early
      if (low <= 2 && high >= 2) held++
    }
    expect(held / 200).toBeGreaterThan(0.92)
  })
})

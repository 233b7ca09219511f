import { describe, expect, it } from 'vitest'
import {
  cycle,
  decision,
  measure,
  observation,
  phase,
  prediction,
} from '../../tests/support/records.ts'
import { type Finding, studyOf } from './finding.ts'
import { findingText, studyLimits } from './finding-text.ts'
import type { Measure, Prediction } from './record.ts'

const ran = cycle({
  lockedAt: '2026-03-02T09:00:00.000Z',
  ranFrom: '2026-03-02',
  ranTo: '2026-03-29',
})
const before = (i: number) => new Date(Date.UTC(2026, 1, 1 + i)).toISOString().slice(0, 10)
const during = (i: number) => new Date(Date.UTC(2026, 2, 2 + 2 * i)).toISOString().slice(0, 10)
const steady = [61, 58, 63, 60, 57, 62, 59, 64, 60, 58, 61, 62]

interface Told {
  readonly baseline?: readonly number[]
  readonly test?: readonly number[]
  readonly measure?: Partial<Measure>
  readonly prediction?: Partial<Prediction> | null
}

const minutes = (own: Partial<Measure> = {}) =>
  measure({ name: 'Wait', dataKind: 'single', unitLabel: 'minutes', better: 'down', ...own })

function find({ baseline = steady, test = [], measure: own = {}, prediction: said = {} }: Told) {
  const observations = [
    ...baseline.map((value, i) => observation({ id: `B${i}`, at: before(i), value })),
    ...test.map((value, i) => observation({ id: `T${i}`, at: during(i), value })),
  ]
  const predictions =
    said === null ? [] : [prediction({ expected: 45, low: 40, high: 50, ...said })]
  const data = { measure: minutes(own), observations, phases: [], annotations: [] }
  return studyOf({ cycle: ran, predictions }, [data], []).findings[0]!
}
const words = (told: Told) => findingText(find(told))
const last = (told: Told) => words(told).sentences.at(-1)

describe('findingText', () => {
  it('claims an improvement that stands, with its interval, and says what it rests on', () => {
    const text = words({ test: [41, 39, 42, 40, 38] })
    expect(text.headline).toBe('Wait: came out as predicted; better than before.')
    expect(text.sentences).toHaveLength(3)
    expect(text.sentences[0]).toBe(
      'The mean of 5 observations was 40 minutes; the team said 40 to 50 (80 % sure).',
    )
    expect(text.sentences[1]).toMatch(
      /^Before the test it was 60\.4 \(12 observations, 2026-02-01 to 2026-02-12\)\. In the test a typical value was 34 % lower \(95 % interval: \d+ to \d+ % lower, if each point stands by itself\)\.$/,
    )
    expect(text.sentences[2]).toBe(
      'This is an improvement: neither chance nor a steady drift through these days explains it. The figures do not say what caused it.',
    )
    expect(text.limits).toEqual([
      'It rests on 5 observations in the test: see whether it lasts.',
      '17 points cannot show whether neighbours are alike. If they are, the interval is too narrow; the finding allows for that.',
    ])
  })

  it('claims a change for the worse in the same way', () => {
    const text = words({ test: [81, 79, 84, 80, 78] })
    expect(text.headline).toBe('Wait: came out worse than predicted; worse than before.')
    expect(text.sentences[0]).toMatch(/, and it was 35\.4 higher than expected\.$/)
    expect(text.sentences[2]).toMatch(/^This is a change for the worse: neither chance/)
  })

  it('calls it a change where neither direction is better', () => {
    const text = words({ test: [81, 79, 84, 80, 78], measure: { better: null } })
    expect(text.headline).toBe('Wait: came out above the predicted range; higher than before.')
    expect(text.sentences[2]).toMatch(/^This is a change: neither chance/)
  })

  it('says too little to tell where no change fits as well', () => {
    const text = words({ test: [50, 66, 61, 58], prediction: { expected: 57, low: 50, high: 60 } })
    expect(text.headline).toBe(
      'Wait: came out as predicted; too little to tell whether it changed.',
    )
    expect(text.sentences.at(-1)).toBe('There may be no change at all: too little to tell.')
  })

  it('says when a change as large as expected can be ruled out', () => {
    expect(last({ test: [60, 61, 59, 62, 60, 58, 61, 60, 63] })).toBe(
      'There may be no change at all; a change as large as the team expected does not fit these figures.',
    )
  })

  it('says that few points cannot tell, and does not say it twice', () => {
    const text = words({ test: [40, 41] })
    expect(text.sentences.at(-1)).toBe(
      '2 points in the test and 12 before are too few to tell a change from chance.',
    )
    expect(text.limits).toEqual([
      '14 points cannot show whether neighbours are alike. If they are, the interval is too narrow.',
      'The data before the test are too short to show a season: the time of year, or the day of the week, could look like this too.',
    ])
  })

  it('says when the baseline was moving already, and gives no interval', () => {
    const text = words({ baseline: steady.map((v, i) => v - 2 * i), test: [33, 32, 30, 31] })
    expect(text.headline).toMatch(/; no change can be claimed\.$/)
    expect(text.sentences[1]).not.toMatch(/interval/)
    expect(text.sentences[2]).toBe(
      'The measure was already moving before the test. What the test added cannot be told apart from that, so no change is claimed.',
    )
  })

  it('says when the change needs points that stand by themselves', () => {
    const text = findingText(doubted('neighbours'))
    expect(text.headline).toMatch(/too little to tell whether it changed\.$/)
    expect(text.sentences.at(-1)).toBe(
      'It looks like a change, but neighbouring points may be alike, and then chance alone can do this. 17 points cannot rule that out: too little to tell.',
    )
  })

  it('says when a drift would look the same', () => {
    expect(findingText(doubted('course')).sentences.at(-1)).toBe(
      'A slow drift that began before the test would look the same: too little to tell.',
    )
  })

  it('says when the points do not differ at all', () => {
    const same = Array.from({ length: 12 }, () => 60)
    expect(last({ baseline: same, test: same.slice(0, 9) })).toBe(
      'The points are all alike, so nothing shows how far chance alone moves them: too little to tell.',
    )
  })

  it('places a single value on the range that the values before lead to expect', () => {
    expect(last({ test: [60] })).toMatch(
      /^One more value without any change is expected from 5\d(\.\d)? to 6\d(\.\d)?: this one fits, so it shows no change\.$/,
    )
    expect(last({ test: [40] })).toMatch(
      /: this one lies below that\. One value alone cannot show that the change lasts\.$/,
    )
  })

  it('says that nothing came before', () => {
    const text = words({ baseline: [], test: [41.5], measure: { valueFormat: 'duration' } })
    expect(text).toEqual({
      headline: 'Wait: came out as predicted; nothing to compare with.',
      sentences: ['It was 0:41.5; the team said 0:40 to 0:50 (80 % sure).'],
      limits: [
        'This is a single observation: it can differ from the next one by chance alone.',
        'There are no data from before the test, so nothing says whether anything changed.',
      ],
    })
  })

  it('tells the error of a duration as a ratio', () => {
    const text = words({ baseline: [], test: [108], measure: { valueFormat: 'duration' } })
    expect(text.sentences[0]).toMatch(/, and it was 2\.4 times as high as expected\.$/)
  })

  it('claims nothing while nothing was observed', () => {
    expect(words({})).toEqual({
      headline: 'Wait: nothing observed yet.',
      sentences: ['The team said 40 to 50 (80 % sure).'],
      limits: [],
    })
  })

  it('tells shares in points and rates as a ratio, with their counts', () => {
    const share = findingText(counted('classified', [38, 78], [31, 42]))
    expect(share.sentences.slice(0, 2)).toEqual([
      '31 of 42 summaries (74 %); the team said 60 % to 80 % (80 % sure).',
      'Before the test it was 49 % (1 observation, 2026-02-16). In the test it was 25 points higher (95 % interval: 6.7 to 40 points higher, if each point stands by itself).',
    ])
    const rate = findingText(counted('rates', [20, 1000], [10, 1000]))
    expect(rate.sentences[0]).toBe(
      '10 in 1,000 bed-days, that is 10 per 1,000; the team said 8 to 12 (80 % sure).',
    )
    // R 4.2.2 from memory: poisson.test(c(10, 20), c(1, 1)) gives 0.209 to 1.12.
    expect(rate.sentences[1]).toMatch(
      /it was 50 % lower \(95 % interval: 79 % lower to 1[12] % higher, if each point stands by itself\)/,
    )
  })

  it('speaks of a typical gap where gaps spread more than those of a steady rate', () => {
    const wild = [0.1, 90.5, 0.2, 300.5, 0.1, 45.5, 700.5, 0.3, 0.2, 120.5, 0.1, 60.5]
    const text = words({
      baseline: wild,
      test: wild.map((v) => 3 * v),
      measure: { dataKind: 'time-between', better: 'up', unitLabel: 'days' },
    })
    expect(text.sentences[1]).toMatch(
      /In the test a typical gap was 3(\.0)? times as high \(95 % interval: /,
    )
  })

  it('says each limit', () => {
    const f: Finding = {
      ...find({ test: [41, 39, 42, 40, 38] }),
      limits: [
        { kind: 'dated-before-lock', n: 2, of: 5 },
        { kind: 'dated-before-lock', n: 5, of: 5 },
        { kind: 'other-test-only', number: 3 },
        { kind: 'tests-between', numbers: [2, 3] },
        { kind: 'alike', r: 0.42 },
        { kind: 'likeness-unchecked', n: 17 },
        { kind: 'season-removed' },
        { kind: 'season-unchecked' },
        { kind: 'event', at: '2026-03-09', text: 'New rota.' },
      ],
    }
    expect(findingText(f).limits).toEqual([
      '2 of 5 observations are dated before the prediction was locked, so it may rest on hindsight.',
      'All 5 observations are dated before the prediction was locked, so it may rest on hindsight.',
      'There are no data from before the tests, so it is compared with test 3 only.',
      'Test 2 and test 3 ran between that baseline and this test: the change is of all of them together.',
      'Neighbouring points are alike (correlation 0.4), so each says less than it seems. The interval is wider for that.',
      '17 points cannot show whether neighbours are alike. If they are, the interval is too narrow; the finding allows for that.',
      'The measure has a season. It is taken out before the comparison.',
      'The data before the test are too short to show a season: the time of year, or the day of the week, could look like this too.',
      'On 2026-03-09 something else is noted: New rota.',
    ])
  })
})

describe('studyOf', () => {
  const share = (at: string, numerator: number, own = {}) =>
    observation({ id: at, at, numerator, denominator: 20, ...own })
  const rows = [share('2026-02-16', 10), share('2026-03-03', 15), share('2026-03-10', 16)]
  const data = { measure: measure(), observations: rows, phases: [], annotations: [] }
  const test = { cycle: ran, predictions: [prediction()] }

  it('scores the range: width plus the penalty for missing it (Gneiting & Raftery 2007, eq. 43)', () => {
    // 31 of 40 = 0.775 lies 0.075 above 0.6 to 0.7 at 80 %: 0.1 + 2 ÷ 0.2 × 0.075.
    const said = prediction({ low: 0.6, expected: 0.65, high: 0.7 })
    const [f] = studyOf({ ...test, predictions: [said] }, [data], []).findings
    expect(f!.score).toBeCloseTo(0.85, 12)
    expect(f!.error!.value).toBeCloseTo(0.125, 12)
    expect(f!.verdict).toBe('better')
  })

  it('compares with the frozen baseline, though a later phase has begun since', () => {
    const phases = [
      phase({ frozenThrough: '2026-02-20' }),
      phase({ id: 'F2', startsAt: '2026-02-25' }),
    ]
    const more = [...rows, share('2026-02-26', 19)]
    const [f] = studyOf(test, [{ ...data, observations: more, phases }], []).findings
    expect(f!.comparator).toMatchObject({ kind: 'baseline', frozen: true, summary: { value: 0.5 } })
  })

  it('compares with the test it builds on where nothing came before', () => {
    const first = cycle({
      id: 'C0',
      lockedAt: '2026-02-16T09:00:00.000Z',
      ranFrom: '2026-02-16',
      ranTo: '2026-02-20',
    })
    const own = [
      share('2026-03-03', 15, { cycleId: 'C1' }),
      share('2026-03-02', 9, { cycleId: 'C0' }),
    ]
    const [f] = studyOf(
      { ...test, cycle: { ...ran, buildsOnId: 'C0' } },
      [{ ...data, observations: own }],
      [{ cycle: first, predictions: [], decision: decision() }],
    ).findings
    expect(f!.comparator).toMatchObject({ kind: 'test', number: 1, summary: { value: 0.45 } })
    expect(f!.limits).toContainEqual({ kind: 'other-test-only', number: 1 })
  })

  it('puts a balancing measure that signals the worse way first, predicted or not', () => {
    const falls = minutes({ id: 'M2', role: 'balancing', name: 'Falls' })
    const values = [10, 14, 8, 13, 9, 15, 11, 7, 12, 14, 8, 13, 10, 12]
    const observations = [
      ...values.map((value, i) => observation({ id: `f${i}`, at: before(i), value })),
      observation({ id: 'f', at: '2026-03-04', value: 60 }),
    ]
    const harm = { measure: falls, observations, phases: [], annotations: [] }
    const { findings } = studyOf(test, [data, harm], [])
    expect(findings.map((f) => [f.measure.name, f.harm])).toEqual([
      ['Falls', true],
      ['Summaries sent within 24 hours', false],
    ])
    expect(findings[0]!.prediction).toBeNull()
  })

  it('lists tests and events of the same days', () => {
    const other = (id: string, number: number, ranFrom: string, ranTo: string | null) => ({
      cycle: cycle({
        id,
        number,
        title: 'New rota',
        lockedAt: `${ranFrom}T08:00:00.000Z`,
        ranFrom,
        ranTo,
      }),
      predictions: [],
      decision: null,
    })
    const siblings = [
      other('C2', 2, '2026-03-20', null),
      other('C3', 3, '2026-04-01', null),
      other('C4', 4, '2026-01-01', '2026-03-01'),
    ]
    const note = (at: string) => ({ id: at, measureId: 'M1', at, text: 'Strike', version: 1 })
    const annotations = [note('2026-03-09'), note('2026-04-09')]
    const study = studyOf(test, [{ ...data, annotations }], siblings)
    expect(study.overlaps.map((o) => o.number)).toEqual([2])
    expect(study.findings[0]!.limits).toContainEqual({
      kind: 'event',
      at: '2026-03-09',
      text: 'Strike',
    })
    expect(study.findings[0]!.limits.filter((l) => l.kind === 'event')).toHaveLength(1)
    expect(studyLimits(study)).toEqual([
      'Test 2 (New rota) ran in some of the same days: the figures cannot tell their effects apart.',
      'It was tried here only: Ward 4. Elsewhere, or on other days, it may come out otherwise.',
    ])
    expect(studyLimits({ overlaps: [], where: '' })).toEqual([
      'It was tried in one place and under the conditions of these days only.',
    ])
  })

  it('says which tests ran between the baseline and this one', () => {
    const between = cycle({
      id: 'C8',
      number: 8,
      lockedAt: '2026-02-20T08:00:00.000Z',
      ranFrom: '2026-02-20',
      ranTo: '2026-02-24',
    })
    const [f] = studyOf(
      test,
      [data],
      [{ cycle: between, predictions: [], decision: null }],
    ).findings
    expect(f!.limits).toContainEqual({ kind: 'tests-between', numbers: [8] })
  })

  it('counts observations dated before the lock', () => {
    const late = { ...test, cycle: { ...ran, lockedAt: '2026-03-05T09:00:00.000Z' } }
    expect(studyOf(late, [data], []).findings[0]!.limits[0]).toEqual({
      kind: 'dated-before-lock',
      n: 1,
      of: 2,
    })
  })
})

function doubted(doubt: 'neighbours' | 'course'): Finding {
  const f = find({ test: [41, 39, 42, 40, 38] })
  return { ...f, better: null, change: { ...f.change!, claim: null, doubt } }
}

function counted(
  dataKind: 'classified' | 'rates',
  [a, b]: readonly [number, number],
  [c, d]: readonly [number, number],
): Finding {
  const own =
    dataKind === 'rates'
      ? measure({ dataKind, per: 1000, unitLabel: 'bed-days', better: 'down' })
      : measure()
  const observations = [
    observation({ id: 'a', at: '2026-02-16', numerator: a, denominator: b }),
    observation({ id: 'b', at: '2026-03-03', numerator: c, denominator: d }),
  ]
  const said = dataKind === 'rates' ? prediction({ expected: 10, low: 8, high: 12 }) : prediction()
  const data = { measure: own, observations, phases: [], annotations: [] }
  return studyOf({ cycle: ran, predictions: [said] }, [data], []).findings[0]!
}

import { describe, expect, it } from 'vitest'
import { cycle, decision, measure, observation, prediction } from '../../tests/support/records.ts'
import { fidelity, PRINCIPLES, type Principle, PUBLISHED_ADHERENCE } from './fidelity.ts'
import type { Cycle, Observation } from './record.ts'

const whole: Partial<Cycle> = {
  lockedAt: '2026-03-02T08:00:00.000Z',
  lockedById: 'A1',
  ranFrom: '2026-03-02',
  ranTo: '2026-03-15',
  happened: 'It ran on all days.',
  doneAt: '2026-03-16T08:00:00.000Z',
  learned: 'Naming one person is enough.',
  studiedAt: '2026-03-17T08:00:00.000Z',
}
const test = (own: Partial<Cycle> = {}) => {
  const c = cycle({ ...whole, ...own })
  return {
    cycle: c,
    predictions: [prediction({ cycleId: c.id })],
    decision: decision({ cycleId: c.id }),
  }
}
const second = (own: Partial<Cycle> = {}) =>
  test({
    id: 'C2',
    number: 2,
    buildsOnId: 'C1',
    ranFrom: '2026-03-18',
    ranTo: '2026-03-31',
    doneAt: '2026-04-01T08:00:00.000Z',
    studiedAt: '2026-04-02T08:00:00.000Z',
    ...own,
  })
const row = (at: string, numerator: number, denominator: number): Observation =>
  observation({ id: `O${at}`, at, numerator, denominator })
const weekly = [
  row('2026-03-02', 6, 10),
  row('2026-03-09', 7, 10),
  row('2026-03-18', 20, 30),
  row('2026-03-25', 21, 30),
]
const data = (observations: readonly Observation[] = weekly) => [
  { measure: measure(), observations },
]
const of = (principle: Principle, findings: ReturnType<typeof fidelity>) =>
  findings.find((f) => f.principle === principle)!

describe('fidelity', () => {
  it('carries the published adherence of McNicholas et al. 2019, Table 2', () => {
    expect(PRINCIPLES.map((p) => Math.round(PUBLISHED_ADHERENCE[p] * 1000) / 10)).toEqual([
      71.0, 84.6, 98.3, 12.2, 54.5, 29.7, 45.3,
    ])
  })

  it('holds all seven for a chain of two whole tests, the second larger', () => {
    const findings = fidelity([second(), test()], data())
    expect(findings.map((f) => f.principle)).toEqual([...PRINCIPLES])
    expect(findings.every((f) => f.held.every(Boolean))).toBe(true)
    expect(of('documented', findings).held).toEqual([true, true])
    expect(of('scale', findings).sentence).toBe(
      'The last test is larger than the first (summaries looked at: 20, then 60).',
    )
    expect(of('data-over-time', findings).sentence).toBe(
      'Summaries sent within 24 hours has data at 4 times while the chain ran, at least once a month.',
    )
  })

  it('scores nothing before a test is locked', () => {
    expect(fidelity([test({ lockedAt: null, lockedById: null })], data())).toEqual([])
  })

  it('names the stages that are not written down', () => {
    const open = { ...second({ studiedAt: null, learned: ' ' }), decision: null }
    const found = of('documented', fidelity([test(), open], data()))
    expect(found.held).toEqual([true, false])
    expect(found.sentence).toBe(
      'Test 2 does not have what was learned or a decision on record yet.',
    )
  })

  it('counts the other tests that fall short', () => {
    const tests = [test({ happened: '' }), second({ happened: '' })]
    expect(of('documented', fidelity(tests, data())).sentence).toBe(
      'Test 1 does not have what happened on record yet, and one more test falls short.',
    )
  })

  it.each([
    ['before Do was done', { studiedAt: '2026-03-16T07:00:00.000Z' }],
    ['before its last day', { studiedAt: '2026-03-16T09:00:00.000Z', ranTo: '2026-03-18' }],
  ])('sees a Study dated %s', (_when, own) => {
    const found = of('after-the-fact', fidelity([test(own)], data()))
    expect(found.held).toEqual([false])
    expect(found.sentence).toBe('Test 1 was studied before it was over.')
  })

  it('does not take a Study that is not finished for one written afterwards', () => {
    const found = of('after-the-fact', fidelity([test({ studiedAt: null })], data()))
    expect(found.sentence).toBe('Test 1 has no finished Study yet.')
  })

  it('finds no learning where there are neither data nor words', () => {
    const silent = test({ happened: '', learned: '' })
    expect(of('learning', fidelity([silent], data([]))).sentence).toBe(
      'Test 1 has no data and no words on what happened or was learned.',
    )
    expect(of('learning', fidelity([silent], data())).held).toEqual([true])
  })

  it('asks for a predicted value with its range', () => {
    const vague = { ...test(), predictions: [prediction({ high: null })] }
    const found = of('prediction', fidelity([vague], data()))
    expect(found.held).toEqual([false])
    expect(found.sentence).toBe('Test 1 was locked without a predicted value and range.')
  })

  it('says which test stands alone, and counts only locked ones as company', () => {
    const draft = second({ lockedAt: null, lockedById: null })
    const found = of('iteration', fidelity([test(), draft], data()))
    expect(found.held).toEqual([false])
    expect(found.sentence).toBe('Test 1 stands alone: no other test builds on it.')
  })

  it('does not call a chain wider that stays as large as it was', () => {
    const same = [row('2026-03-02', 6, 10), row('2026-03-18', 7, 10), row('2026-03-30', 7, 0)]
    const found = of('scale', fidelity([test(), second()], data(same)))
    expect(found.held).toEqual([false])
    expect(found.sentence).toBe(
      'The last test is as large as the first (summaries looked at: 10, then 10).',
    )
  })

  it('says that sizes cannot be compared where the record has none', () => {
    expect(of('scale', fidelity([test()], data())).sentence).toContain('write a number under')
  })

  it('tells a break in the data from too few of them', () => {
    const long = { ranTo: '2026-07-31' }
    const gap = [row('2026-03-02', 1, 2), row('2026-03-09', 1, 2), row('2026-07-20', 1, 2)]
    const broken = of('data-over-time', fidelity([test(long)], data(gap)))
    expect(broken.held).toEqual([false])
    expect(broken.sentence).toBe(
      'Data stop for 133 days at one place; once a month or more often is needed.',
    )
    const few = of('data-over-time', fidelity([test()], data(weekly.slice(0, 2))))
    expect(few.sentence).toBe(
      'The measures it predicts have data at 2 times while it ran; at least 3 are needed, once a month or more often.',
    )
  })

  it('judges each chain of a project by itself and names the one that falls short', () => {
    const lonely = test({
      id: 'C9',
      rampId: 'C9',
      number: 3,
      ranFrom: '2026-05-01',
      ranTo: '2026-05-02',
    })
    const findings = fidelity([test(), second(), lonely], data())
    expect(of('scale', findings).held).toEqual([true, false])
    expect(of('scale', findings).sentence).toMatch(/^In the chain that starts with test 3, the /)
    expect(of('iteration', findings).held).toEqual([true, true, false])
  })
})

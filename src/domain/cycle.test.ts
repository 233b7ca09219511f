import { describe, expect, it } from 'vitest'
import { cycle, decision, measure, prediction } from '../../tests/support/records.ts'
import { decide, finishDo, finishStudy, lock, readiness, stageOf } from './cycle.ts'

const AT = '2026-03-02T09:00:00.000Z'
const locked = lock(cycle(), [prediction()], [measure()], 'A1', AT)
const done = finishDo({ ...locked, ranTo: '2026-03-15' }, null, 10, '2026-03-16T09:00:00.000Z')
const studied = finishStudy(
  { ...done, learned: 'Weekends fail.', predictionReview: 'Right, on weekdays.' },
  null,
  '2026-03-17T09:00:00.000Z',
)
const ask = { id: 'D1', kind: 'adapt' as const, reason: ' It held. ', nextChange: 'Nights.' }

describe('a test of change', () => {
  it('goes through plan, do, study, act and is then closed', () => {
    expect(stageOf(cycle(), null)).toBe('plan')
    expect(stageOf(locked, null)).toBe('do')
    expect(stageOf(done, null)).toBe('study')
    expect(stageOf(studied, null)).toBe('act')
    expect(stageOf(studied, decision())).toBe('closed')
  })

  it('keeps the moment and the person of the lock, and runs from the planned day', () => {
    expect(locked).toMatchObject({ lockedAt: AT, lockedById: 'A1', ranFrom: '2026-03-02' })
    expect(cycle().lockedAt).toBeNull()
  })

  it('runs from the day of the lock where no day was planned', () => {
    expect(lock(cycle({ plannedFrom: null }), [prediction()], [measure()], 'A1', AT).ranFrom).toBe(
      '2026-03-02',
    )
  })

  it('records a decision with its words trimmed', () => {
    expect(decide(studied, null, ask, 'A1', AT)).toEqual({
      id: 'D1',
      cycleId: 'C1',
      kind: 'adapt',
      reason: 'It held.',
      nextChange: 'Nights.',
      suggestedKind: null,
      suggestedReasons: null,
      differsBecause: null,
      at: AT,
      byId: 'A1',
    })
  })

  it('keeps what the figures suggested beside a decision, and why the team decided otherwise', () => {
    const adopt = { kind: 'adopt', reasons: ['Wait\nimproved.', 'No harm.'] } as const
    const otherwise = { ...ask, differsBecause: ' Nights are untried. ' }
    expect(decide(studied, null, otherwise, 'A1', AT, adopt)).toMatchObject({
      kind: 'adapt',
      suggestedKind: 'adopt',
      suggestedReasons: 'Wait improved.\nNo harm.',
      differsBecause: 'Nights are untried.',
    })
    // It may stay empty, and is nothing where both say the same.
    expect(decide(studied, null, ask, 'A1', AT, adopt).differsBecause).toBe('')
    const same = { ...adopt, kind: 'adapt' } as const
    expect(decide(studied, null, otherwise, 'A1', AT, same).differsBecause).toBe('')
  })
})

describe('lock', () => {
  it('lists everything that is missing, not only the first thing', () => {
    const bare = cycle({
      question: ' ',
      change: '',
      determination: null,
      couldHarm: null,
      approval: null,
    })
    expect(readiness(bare, [], []).map((i) => i.code)).toEqual([
      'cycle.no_question',
      'cycle.no_change',
      'cycle.no_prediction',
      'cycle.no_determination',
      'cycle.no_harm_answer',
    ])
    expect(() => lock(bare, [], [], 'A1', AT)).toThrow('5 things are missing')
  })

  it.each([
    ['no expected value', { expected: null }, 'cycle.no_expected'],
    ['no low end', { low: null }, 'cycle.no_range'],
    ['no high end', { high: null }, 'cycle.no_range'],
    ['an expected value outside its range', { expected: 0.9 }, 'cycle.range_order'],
    ['a range upside down', { low: 0.8, high: 0.6 }, 'cycle.range_order'],
    ['a share above 100 %', { high: 1.2 }, 'cycle.range_share'],
    ['no reason', { why: '  ' }, 'cycle.no_why'],
    ['full confidence', { confidence: 1 }, 'cycle.confidence'],
    ['no confidence', { confidence: 0 }, 'cycle.confidence'],
  ])('refuses a prediction with %s', (_case, own, code) => {
    const issues = readiness(cycle(), [prediction(own)], [measure()])
    expect(issues.map((i) => i.code)).toEqual([code])
    expect(issues[0]!.field).toMatch(/^prediction:R1:/)
  })

  it('lets a single value be predicted below zero, but not a count', () => {
    const below = prediction({ expected: -1, low: -2, high: 0 })
    expect(readiness(cycle(), [below], [measure({ dataKind: 'single' })])).toEqual([])
    expect(readiness(cycle(), [below], [measure({ dataKind: 'counts' })])[0]!.code).toBe(
      'cycle.range_negative',
    )
  })

  it('waits for local approval, and asks where it is written', () => {
    const codes = (own: Parameters<typeof cycle>[0]) =>
      readiness(cycle(own), [prediction()], [measure()]).map((i) => i.code)
    expect(codes({ approval: 'not-yet' })).toEqual(['cycle.approval_missing'])
    expect(codes({ approval: null })).toEqual(['cycle.no_approval'])
    expect(codes({ approvalNote: '' })).toEqual(['cycle.no_approval_note'])
    expect(codes({ determination: 'exercise', approval: null, approvalNote: '' })).toEqual([])
  })

  it('wants a stop rule on a balancing measure where the test could harm', () => {
    const balancing = measure({ id: 'M2', role: 'balancing' })
    const codes = (own: Parameters<typeof cycle>[0]) =>
      readiness(cycle({ couldHarm: 'yes', ...own }), [prediction()], [measure(), balancing]).map(
        (i) => i.code,
      )
    expect(codes({})).toEqual(['cycle.no_stop_rule', 'cycle.no_stop_measure'])
    expect(codes({ stopRule: 'Two falls in a day', stopMeasureId: 'M1' })).toEqual([
      'cycle.no_stop_measure',
    ])
    expect(codes({ stopRule: 'Two falls in a day', stopMeasureId: 'M2' })).toEqual([])
  })

  it('refuses days that are the wrong way round', () => {
    const issues = readiness(cycle({ plannedTo: '2026-03-01' }), [prediction()], [measure()])
    expect(issues.map((i) => i.code)).toEqual(['cycle.dates_reversed'])
  })

  it('happens once', () => {
    expect(() => lock(locked, [prediction()], [measure()], 'A1', AT)).toThrow(
      expect.objectContaining({ code: 'cycle.locked' }),
    )
  })
})

describe('the order of stages', () => {
  it.each([
    ['finishing Do before the lock', () => finishDo(cycle(), null, 3, AT), 'cycle.not_locked'],
    ['finishing Do without data', () => finishDo(locked, null, 0, AT), 'cycle.no_outcome'],
    [
      'ending before it began',
      () => finishDo({ ...locked, ranTo: '2026-03-01' }, null, 3, AT),
      'cycle.dates_reversed',
    ],
    ['a Study while Do is open', () => finishStudy(locked, null, AT), 'cycle.not_done'],
    ['a Study without words', () => finishStudy(done, null, AT), 'cycle.no_learning'],
    [
      'a Study that leaves the prediction out',
      () => finishStudy({ ...done, learned: 'Something' }, null, AT),
      'cycle.no_learning',
    ],
    ['a decision before the Study', () => decide(done, null, ask, 'A1', AT), 'cycle.not_studied'],
    [
      'a decision without a reason',
      () => decide(studied, null, { ...ask, reason: ' ' }, 'A1', AT),
      'cycle.blank_reason',
    ],
    [
      'adapt without the next change',
      () => decide(studied, null, { ...ask, nextChange: '' }, 'A1', AT),
      'cycle.blank_next_change',
    ],
    [
      'an unknown decision',
      () => decide(studied, null, { ...ask, kind: 'stop' as 'adopt' }, 'A1', AT),
      'cycle.unknown_decision',
    ],
    ['a second decision', () => decide(studied, decision(), ask, 'A1', AT), 'cycle.closed'],
    ['a Study after the decision', () => finishStudy(studied, decision(), AT), 'cycle.closed'],
  ])('refuses %s', (_case, act, code) => {
    expect(act).toThrow(expect.objectContaining({ code }))
  })

  it('lets adopt and abandon pass without a next change', () => {
    for (const kind of ['adopt', 'abandon'] as const)
      expect(decide(studied, null, { ...ask, kind, nextChange: '' }, 'A1', AT).kind).toBe(kind)
  })
})

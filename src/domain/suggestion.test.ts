import { expect, it } from 'vitest'
import { measure } from '../../tests/support/records.ts'
import type { Signal } from '../stats/types.ts'
import type { Finding } from './finding.ts'
import { suggestDecision } from './suggestion.ts'

const NONE = { n: 3, value: 1, numerator: null, denominator: null, from: null, to: null }
const aim = (own: Partial<Finding> = {}): Finding => ({
  measure: measure({ name: 'Wait', role: 'outcome', better: 'down' }),
  prediction: null,
  outcome: NONE,
  verdict: 'inside',
  error: null,
  score: null,
  comparator: null,
  change: null,
  predictedChange: null,
  placing: null,
  signals: [],
  better: null,
  harm: false,
  limits: [],
  ...own,
})
const falls = (own: Partial<Finding> = {}) =>
  aim({ measure: measure({ name: 'Falls', role: 'balancing' }), verdict: null, ...own })
const signal = (better: boolean): Signal => ({
  rule: 'beyond-limits',
  points: [1],
  direction: 'up',
  better,
  text: '',
})
const suggest = (...findings: readonly Finding[]) => suggestDecision({ findings })

it('suggests to adopt an improvement beyond chance that does no harm', () => {
  expect(suggest(aim({ better: true }), falls())).toEqual({
    kind: 'adopt',
    reasons: [
      'Wait improved by more than chance explains.',
      'No balancing measure has moved the worse way.',
    ],
  })
})

it('says so when nobody looked for harm', () => {
  expect(suggest(aim({ better: true })).reasons[1]).toBe(
    'No balancing measure was observed in the test: look for harm before adopting.',
  )
})

it('suggests to adapt an improvement that harms, harm first', () => {
  const { kind, reasons } = suggest(falls({ harm: true, better: false }), aim({ better: true }))
  expect(kind).toBe('adapt')
  expect(reasons).toEqual([
    'Falls became worse by more than chance explains.',
    'Wait improved, so keep what helped and change what harms.',
  ])
})

it('suggests to abandon what harms and shows no improvement', () => {
  expect(suggest(falls({ harm: true, signals: [signal(false)] }), aim())).toEqual({
    kind: 'abandon',
    reasons: [
      'Falls shows a signal in the worse direction since the test began.',
      'No improvement is shown that could weigh against it.',
    ],
  })
})

it('asks to look at a balancing measure that only missed its prediction', () => {
  expect(suggest(falls({ harm: true, verdict: 'worse' }), aim())).toEqual({
    kind: 'adapt',
    reasons: [
      'Falls came out worse than predicted.',
      'Look at it before the test goes on; it may be chance.',
    ],
  })
})

it('suggests to abandon what became worse, and to adapt what went both ways', () => {
  expect(suggest(aim({ better: false })).kind).toBe('abandon')
  const both = suggest(aim({ better: false }), aim({ better: true }))
  expect(both.kind).toBe('adapt')
  expect(both.reasons).toHaveLength(2)
})

it('suggests to adapt what improved less than predicted', () => {
  expect(suggest(aim({ better: true, verdict: 'worse' }))).toEqual({
    kind: 'adapt',
    reasons: ['Wait improved by more than chance explains.', 'Wait came out worse than predicted.'],
  })
})

it('suggests to adapt a theory that missed, unless the prediction may be hindsight', () => {
  expect(suggest(aim({ verdict: 'worse' })).kind).toBe('adapt')
  const late = aim({ verdict: 'worse', limits: [{ kind: 'dated-before-lock', n: 1, of: 3 }] })
  expect(suggest(late).kind).toBe('keep-collecting')
})

it('suggests to keep collecting where too little can be told, and says what would help', () => {
  const few = suggest(aim({ signals: [signal(true)] }))
  expect(few).toEqual({
    kind: 'keep-collecting',
    reasons: [
      'The chart of Wait shows a signal in the better direction.',
      'No change is shown that chance or the course of the weeks before could not explain.',
      'More points in the test, or from before it, would let the figures speak.',
    ],
  })
})

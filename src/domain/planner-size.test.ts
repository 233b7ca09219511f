import { describe, expect, it } from 'vitest'
import { suggestedSize } from './planner-size.ts'
import { BELIEFS, FAILURE_COSTS, READINESS } from './record.ts'

describe('suggestedSize', () => {
  // Langley et al. 2009, The Improvement Guide, Table 7.1 (from memory).
  it.each([
    ['low', 'large', ['very-small', 'very-small', 'very-small']],
    ['low', 'small', ['very-small', 'very-small', 'small']],
    ['high', 'large', ['very-small', 'small', 'large']],
    ['high', 'small', ['small', 'large', 'implement']],
  ] as const)('with %s belief and a %s cost of failure', (belief, failureCost, sizes) => {
    const given = READINESS.map(
      (readiness) => suggestedSize({ belief, failureCost, readiness })!.size,
    )
    expect(given).toEqual(sizes)
  })

  it('waits for all three answers', () => {
    const whole = { belief: 'low', failureCost: 'small', readiness: 'ready' } as const
    for (const part of ['belief', 'failureCost', 'readiness'])
      expect(suggestedSize({ ...whole, [part]: null })).toBeNull()
  })

  it('gives a reason made of the three answers', () => {
    const reason = (b: 0 | 1, c: 0 | 1, r: 0 | 1 | 2) =>
      suggestedSize({
        belief: BELIEFS[b],
        failureCost: FAILURE_COSTS[c],
        readiness: READINESS[r],
      })!.reason
    expect(reason(0, 1, 0)).toBe(
      'Because the team is not yet sure that it works here, a failure would cost much and the people affected are against it.',
    )
    expect(reason(1, 1, 2)).toBe(
      'Because a failure would cost much, although the team believes that it works here and the people affected are ready for it.',
    )
    expect(reason(1, 0, 2)).toBe(
      'Because the team believes that it works here, a failure would cost little and the people affected are ready for it.',
    )
  })
})

import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { anySpec, sampleSpec } from '../../tests/support/chart-samples.ts'
import { chartTable } from './chart-table.ts'
import { describeChart } from './describe-chart.ts'

describe('describeChart', () => {
  const spec = sampleSpec()
  const words = describeChart(spec)

  it('opens with kind, name, length, dates, direction and goal', () => {
    expect(words.opening).toBe(
      'P chart of “Discharge summaries sent within a day”: 26 points, 2 Feb to 27 Jul 2026. ' +
        'Better is up. The goal is 80\u00a0%.',
    )
  })

  it('says centre, limits and reason of each phase', () => {
    expect(words.phases).toHaveLength(2)
    expect(words.phases[0]).toMatch(
      /^Phase 1, 2 Feb to 18 May 2026: centre 47.%, trial limits below at /,
    )
    expect(words.phases[0]).toContain('from the points up to 27 Apr 2026 and carried forward.')
    expect(words.phases[1]).toContain('Test 4 was adopted.')
  })

  it('heads each signal with its letter', () => {
    expect(words.signals.map((s) => s.letter)).toEqual(
      spec.analysis.signals.map((_, i) => 'abcdef'[i]),
    )
    for (const { letter, text } of words.signals)
      expect(words.text).toContain(`Signal ${letter}: ${text}`)
  })

  it('says of each test what was predicted and how it came out', () => {
    const [first, second, third, fourth] = words.tests.map((t) => t.text)
    expect(first).toBe('Test 1, abandoned: Checklist on the door, 20 Apr to 22 Apr 2026.')
    expect(second).toContain('came out at 58\u00a0%, as predicted.')
    expect(third).toContain('predicted 60\u00a0% to 80\u00a0%, expected 70\u00a0%')
    expect(third).toContain('came out at 84\u00a0%, better than predicted.')
    expect(fourth).not.toContain('came out')
  })

  it('names every test and event of any chart, drawn or not', () => {
    fc.assert(
      fc.property(anySpec, (any) => {
        const { tests, events, text } = describeChart(any)
        expect(tests).toHaveLength(any.tests?.length ?? 0)
        expect(events).toHaveLength(any.annotations?.length ?? 0)
        expect(text).not.toMatch(/NaN|undefined|null/)
      }),
      { numRuns: 60, seed: 7 },
    )
  })
})

describe('chartTable', () => {
  it('has a row a point and the columns that hold something', () => {
    const table = chartTable(sampleSpec())
    expect(table.columns.map((c) => c.label)).toEqual([
      'Date',
      'Value',
      'Count',
      'Out of',
      'Centre',
      'Lower limit',
      'Upper limit',
      'Signals',
    ])
    expect(table.rows).toHaveLength(26)
    expect(table.rows[0]!.cells.slice(0, 4)).toEqual(['2 Feb 2026', '60\u00a0%', '24', '40'])
  })
})

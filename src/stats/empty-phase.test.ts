import { describe, expect, it } from 'vitest'
import { analyze } from './analyze.ts'

const at = Array.from({ length: 28 }, (_, i) => String(i + 1))
const values = at.map((_, i) => 20 + ((i * 7) % 5))

describe('a phase too short for a chart made of several points each', () => {
  it.each(['moving-range', 'ewma', 'cusum'] as const)('is left empty on %s', (kind) => {
    const chart = analyze({ at, values }, { kind, phases: [{ at: '1' }, { at: '21' }] })
    expect(chart.kind).toBe(kind)
    const late = chart.points.slice(20)
    expect(late.map((p) => [p.value, p.center, p.signals.length])).toEqual(
      late.map(() => [null, null, 0]),
    )
    expect(chart.phases[1]).toMatchObject({ n: 8, center: null, sigma: null, limits: 'none' })
    expect(chart.notes.find((n) => n.code === 'too-few-for-limits')?.text).toMatch(
      /8 in the phase from 21, left empty\.$/,
    )
  })

  it('is shown as a run chart where no phase has enough points', () => {
    const few = analyze({ at: at.slice(0, 8), values: values.slice(0, 8) }, { kind: 'cusum' })
    expect(few.kind).toBe('run')
    expect(few.points.map((p) => p.value)).toEqual(values.slice(0, 8))
  })
})

import { expect, it } from 'vitest'
import { sampleRoom } from '../../../../tests/support/sample-room.ts'
import { layOutCurve } from '../../../charts/curve-chart.ts'
import { wrapUp } from '../../../domain/workshop/wrap-up.ts'
import { byTable } from '../../../domain/workshop/wrap-up-rounds.ts'
import { curveSpec, describeRounds, sharedAxes } from './curve-spec.ts'

it('gives the pictures of all tables the same axes', () => {
  const { rows, learning } = wrapUp(sampleRoom())
  for (const kind of ['time', 'quality'] as const) {
    const share = sharedAxes(rows, kind, learning.tables)
    const axes = byTable(rows).map((own, i) =>
      layOutCurve({ ...curveSpec(own, kind, learning.tables[i]), share, width: 360 })
        .marks.flatMap((m) => (m.shape === 'text' && m.role === 'tick-text' ? [m.text] : []))
        .join(' '),
    )
    expect(new Set(axes).size).toBe(1)
  }
})

it('says each round in words, also where nothing was measured', () => {
  const [row] = wrapUp(sampleRoom()).rows
  expect(describeRounds([row!], 'time')).toBe(
    'Round 1: predicted 1:00 to 1:30, came out at 1:36, slower.',
  )
  expect(describeRounds([{ ...row!, seconds: null, timeVerdict: null }], 'time')).toBe(
    'Round 1: predicted 1:00 to 1:30, nothing measured.',
  )
})

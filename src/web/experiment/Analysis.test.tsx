import { renderToStaticMarkup } from 'react-dom/server'
import { expect, it } from 'vitest'
import { PUBLISHED_EXPERIMENTS } from '../../../tests/reference/factorial-experiments.ts'
import { experiment, factors, runsOf } from '../../../tests/support/experiment-records.ts'
import type { ExperimentReply } from '../../api/experiment-contract.ts'
import { Analysis, type AnalysisProps } from './Analysis.tsx'

const [filtration, , , eye] = PUBLISHED_EXPERIMENTS
const locked = { lockedAt: '2026-03-02T09:15:00.000Z', lockedById: 'A1', seed: 1 }
const page = (given: Pick<ExperimentReply, 'experiment' | 'factors' | 'runs'>) =>
  renderToStaticMarkup(
    <Analysis
      data={given as ExperimentReply}
      editing={{ values: given.experiment } as AnalysisProps['editing']}
      mayWrite={false}
    />,
  )

/** Filtration rate: Montgomery (2013), Design and Analysis of Experiments, example 6.2. */
const whole = {
  experiment: experiment({ ...locked, learned: 'Heat and stirring matter.' }),
  factors: factors(...filtration!.factors),
  runs: runsOf(4, '', filtration!.responses),
}

it('shows the finding, both kinds of picture, the predictions and what to be careful with', () => {
  const html = page(whole)
  expect(html).toContain('4 of 15 effects stand out from chance.')
  expect(html).toContain('Effects by size (half-normal plot)')
  expect(html).toContain('data-role="ring"')
  expect(html).toContain('Temperature with Formaldehyde')
  expect(html).toContain('Be careful with this')
  expect(html).toContain('Heat and stirring matter.')
  // The four points of each of the two pairs that stand out, and of the four on demand, and 15 effects.
  expect(html.match(/chart-point-target/g)).toHaveLength(6 * 4 + 15)
})

it('draws nothing before the last run is in', () => {
  const runs = whole.runs.map((r) => (r.position === 16 ? { ...r, response: null } : r))
  const html = page({ ...whole, runs })
  expect(html).toContain('15 of 16 runs are in.')
  expect(html).not.toContain('<svg')
})

it('warns of crossing lines where single changes are mixed with pairs', () => {
  const html = page({
    experiment: experiment({ ...locked, generators: eye!.generators }),
    factors: factors(...eye!.factors),
    runs: runsOf(7, eye!.generators, eye!.responses),
  })
  expect(html).toContain('may be the doing of a')
  expect(html).toContain('Every pair')
})

import { renderToStaticMarkup } from 'react-dom/server'
import { expect, it } from 'vitest'
import { Router } from 'wouter'
import type { CycleBrief, CycleReply, MeasureData } from '../../api/contract.ts'
import type { Cycle, Measure, Prediction } from '../../domain/record.ts'
import { PlanRead } from './PlanRead.tsx'
import { RampStrip } from './RampStrip.tsx'

const measure = {
  id: 'm',
  name: 'Summaries in time',
  role: 'process',
  dataKind: 'classified',
  valueFormat: 'number',
  unitLabel: 'discharges',
  per: 1,
} as Measure
const cycle = (id: string, number: number, more: Partial<Cycle>): Cycle =>
  ({
    id,
    projectId: 'p',
    rampId: 'c1',
    number,
    buildsOnId: null,
    title: `Test ${number}`,
    question: 'Will it hold?',
    change: 'A card',
    who: '',
    where: '',
    plannedFrom: null,
    plannedTo: null,
    howMany: '',
    collection: '',
    belief: null,
    failureCost: null,
    readiness: null,
    determination: 'improvement',
    approval: 'on-record',
    approvalNote: 'Register, entry 14.',
    couldHarm: 'yes',
    stopRule: 'Stop when a fall happens.',
    stopMeasureId: 'm',
    doneAt: null,
    studiedAt: null,
    lockedAt: '2026-03-01T08:00:00.000Z',
    ...more,
  }) as Cycle
const prediction = (cycleId: string, high: number): Prediction => ({
  id: `p-${cycleId}`,
  cycleId,
  measureId: 'm',
  expected: 0.7,
  low: 0.6,
  high,
  confidence: 0.8,
  why: 'The card saves a walk.',
  version: 1,
})
const before: CycleBrief = {
  cycle: cycle('c1', 1, {}),
  predictions: [prediction('c1', 0.8)],
  decision: null,
}
const now: CycleBrief = {
  cycle: cycle('c2', 2, { change: 'Two cards', buildsOnId: 'c1' }),
  predictions: [prediction('c2', 0.9)],
  decision: null,
}
const data = {
  ...now,
  measures: [{ measure, observations: [], phases: [], annotations: [] } as MeasureData],
} as unknown as CycleReply
const text = (html: string) => html.replace(/<[^>]+>/g, ' ').replace(/\s+/g, ' ')

it('reads the locked plan as text, with what differed from the test before', () => {
  const html = text(renderToStaticMarkup(<PlanRead data={data} before={before} />))
  expect(html).toContain('Two cards')
  expect(html).toContain('Was in test 1: A card')
  expect(html).toContain('60 % to 90 %, 80 % sure; 70 % expected.')
  expect(html).toContain('Was in test 1: 60 % to 80 %, 80 % sure; 70 % expected.')
  expect(html).toContain('Approval: on record: Register, entry 14.')
  expect(html).toContain('Watched on: Summaries in time.')
  expect(html).not.toContain('Was in test 1: Will it hold?')
})

it('marks nothing as changed in the first test of a chain', () => {
  const html = text(renderToStaticMarkup(<PlanRead data={data} before={null} />))
  expect(html).not.toContain('Was in test')
})

it('names every tooth of the chain in words and marks the page one is on', () => {
  const html = renderToStaticMarkup(
    <Router ssrPath="/tests/c2">
      <RampStrip
        cycle={now.cycle}
        siblings={[before, now, { ...now, cycle: cycle('x', 9, { rampId: 'x' }) }]}
      />
    </Router>,
  )
  expect(html.match(/<li/g)).toHaveLength(3)
  expect(html.match(/aria-current="page"/g)).toHaveLength(1)
  expect(text(html)).toContain('1 running')
  expect(html).toContain('href="/projects/p/ramp/c1"')
})

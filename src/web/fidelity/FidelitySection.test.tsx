import { renderToStaticMarkup } from 'react-dom/server'
import { expect, it } from 'vitest'
import { cycle, decision, measure, prediction } from '../../../tests/support/records.ts'
import { FidelitySection } from './FidelitySection.tsx'

const locked = cycle({ lockedAt: '2026-03-02T08:00:00.000Z', lockedById: 'A1' })
const test = { cycle: locked, predictions: [prediction()], decision: decision() }
const data = { measure: measure(), observations: [], phases: [], annotations: [] }

it('says for each principle whether it is held, why, and how often others hold it', () => {
  const html = renderToStaticMarkup(
    <FidelitySection scope="ramp" tests={[test]} measures={[data]} />,
  )
  expect(html.match(/<li>/g)).toHaveLength(7)
  expect(html.match(/fidelity-mark held/g)).toHaveLength(1)
  expect(html).toContain('<b>A prediction is on record:</b> held.')
  expect(html).toContain('Elsewhere 12.2 %.')
  expect(html).toContain('<b>Tests build on each other:</b> not yet.')
  expect(html).toContain('Test 1 stands alone: no other test builds on it.')
})

it('says that there is nothing to go by before the first lock', () => {
  const html = renderToStaticMarkup(<FidelitySection scope="project" tests={[]} measures={[]} />)
  expect(html).toContain('No test of this project is locked yet')
})

import { renderToStaticMarkup } from 'react-dom/server'
import { expect, it } from 'vitest'
import { Router } from 'wouter'
import {
  cycle,
  decision,
  measure,
  observation,
  prediction,
} from '../../../tests/support/records.ts'
import { ByUnit } from './ByUnit.tsx'

const week = (i: number) =>
  new Date(Date.UTC(2025, 0, 6) + i * 7 * 86_400_000).toISOString().slice(0, 10)
const project = {
  id: 'P1',
  unitId: 'U1',
  name: 'Waiting',
  aim: '',
  leadId: null,
  origin: 'own' as const,
  createdAt: '2025-01-01T08:00:00.000Z',
  version: 1,
}
const units = ['Ward 4', 'Clinic', 'Theatre'].map((name, i) => ({
  id: `U${i + 1}`,
  parentId: null,
  name,
  origin: 'own' as const,
  version: 1,
}))
/** Waits that fall by 12 in week `at`, with a pattern around them that repeats nowhere near. */
const ward = (n: number, at: number, weeks = 40) => ({
  measure: measure({
    id: `M${n}`,
    name: n === 1 ? 'Minutes waited' : `Minutes waited, ${units[n - 1]!.name}`,
    dataKind: 'single',
    unitLabel: 'minutes',
    better: 'down',
    unitId: n === 1 ? null : `U${n}`,
    sameAsId: n === 1 ? null : 'M1',
  }),
  observations: Array.from({ length: weeks }, (_, i) =>
    observation({
      id: `O${n}-${i}`,
      measureId: `M${n}`,
      at: week(i),
      value: 50 + ((i * i * 7 + n * 5) % 11) - (i >= at ? 12 : 0),
    }),
  ),
  phases: [],
  annotations: [],
})
const test = (n: number, from: number) => ({
  cycle: cycle({
    id: `C${n}`,
    number: n,
    lockedAt: `${week(from)}T06:00:00.000Z`,
    lockedById: 'A1',
    ranFrom: week(from),
  }),
  predictions: [prediction({ cycleId: `C${n}`, measureId: `M${n}` })],
  decision: decision({ kind: 'adopt' }),
})
const page = (family: ReturnType<typeof ward>[], chosen = new Map<string, string>()) =>
  renderToStaticMarkup(
    <Router ssrPath="/">
      <ByUnit
        family={family}
        project={project}
        units={units}
        cycles={[test(1, 14), test(2, 22)]}
        chosen={chosen}
      />
    </Router>,
  )

it('shows each unit, all together, from when, and what to be careful with', () => {
  const html = page([ward(1, 14), ward(2, 22), ward(3, 22, 24)])
  expect(html).toContain('By unit: Minutes waited')
  expect(html).toContain('The same measure on 3 units.')
  expect(html).toContain('better over the two units together.')
  expect(html.match(/data-role="band"/g)!.length).toBeGreaterThan(0)
  expect(html).toContain('<a href="#effect-M2">Clinic</a>: from test 2')
  expect(html).toContain('the first test of the project; it has none of its own.')
  expect(html).toContain('Theatre has no test of its own and is not in a figure over all.')
  expect(html).toContain('Hartung and Knapp’s interval (2001)')
})

it('says so where the units cannot be compared yet, and draws what there is', () => {
  const html = page([ward(1, 14, 16), ward(2, 22, 24)])
  expect(html).toContain('too little to compare the units.')
  expect(html).not.toContain('data-role="band"')
  expect(html).not.toContain('How the units are compared')
})

it('follows the date that was chosen for a unit', () => {
  const html = page([ward(1, 14), ward(2, 22)], new Map([['M2', 'C1']]))
  expect(html).toContain('the date chosen for it.')
})

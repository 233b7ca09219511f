import { expect, it } from 'vitest'
import type { Unit } from '../../domain/record.ts'
import { unitOptions, unitPath, unitsWithin, unitTree } from './unit-tree.ts'

const unit = (id: string, name: string, parentId: string | null): Unit => ({
  id,
  name,
  parentId,
  origin: 'own',
  version: 1,
})
const UNITS = [
  unit('w10', 'Ward 10', 'm'),
  unit('w2', 'Ward 2', 'm'),
  unit('h', 'Hospital', null),
  unit('m', 'Medicine', 'h'),
  unit('lost', 'Clinic', 'gone'),
]

it('builds the tree by name, with numbers in their order', () => {
  const tree = unitTree(UNITS)
  expect(tree.map((node) => node.unit.id)).toEqual(['lost', 'h'])
  expect(tree[1]?.children[0]?.children.map((node) => node.unit.name)).toEqual([
    'Ward 2',
    'Ward 10',
  ])
})

it('names each unit with its way from the top', () => {
  expect(unitOptions(UNITS).map((option) => option.label)).toEqual([
    'Clinic',
    'Hospital',
    'Hospital › Medicine',
    'Hospital › Medicine › Ward 2',
    'Hospital › Medicine › Ward 10',
  ])
})

it('finds the way to a unit, and ends where records form a ring', () => {
  expect(unitPath(UNITS, 'w2').map((step) => step.id)).toEqual(['h', 'm', 'w2'])
  const ring = [unit('a', 'A', 'b'), unit('b', 'B', 'a')]
  expect(unitPath(ring, 'a')).toHaveLength(2)
  expect([...unitsWithin(ring, 'a')].sort()).toEqual(['a', 'b'])
})

it('knows which units lie inside another', () => {
  expect([...unitsWithin(UNITS, 'm')].sort()).toEqual(['m', 'w10', 'w2'])
})

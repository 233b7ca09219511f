import { expect, it } from 'vitest'
import type { Kit } from './kit.ts'
import { kitIssues } from './kit-issues.ts'
import { trayFromACard } from './kits/tray-from-a-card.ts'

const fieldsOf = (change: Partial<Kit>) =>
  kitIssues({ ...trayFromACard, ...change }).map(({ field, code }) => `${field} ${code}`)
const { card, checklist, score } = trayFromACard
const place = card.places[0]!

it('asks for every text that is missing, beside its field', () => {
  expect(fieldsOf({ name: ' ', summary: '', clockStarts: '', clockStops: '\n' })).toEqual([
    'name kit.empty',
    'summary kit.empty',
    'clockStarts kit.empty',
    'clockStops kit.empty',
  ])
  expect(fieldsOf({ bring: [], task: ['Build.', ' '] })).toEqual([
    'bring kit.empty',
    'task:1 kit.empty',
  ])
})

it('wants 6 to 20 items, each only once', () => {
  expect(fieldsOf({ checklist: checklist.slice(0, 5) })).toEqual(['checklist kit.checklist_size'])
  expect(fieldsOf({ checklist: checklist.slice(0, 6) })).toEqual([])
  const many = Array.from({ length: 21 }, (_, i) => `Item ${i} lies right.`)
  expect(fieldsOf({ checklist: many.slice(0, 20) })).toEqual([])
  expect(fieldsOf({ checklist: many })).toContain('checklist kit.checklist_size')
  expect(fieldsOf({ checklist: [...checklist, ` ${checklist[2]!.toUpperCase()}`] })).toEqual([
    'checklist:12 kit.checklist_twice',
  ])
})

it('finds a place outside the card and one that lies on another', () => {
  const at = (column: number, row: number, columns = 1, rows = 1) => ({
    ...place,
    column,
    row,
    columns,
    rows,
  })
  const places = (...list: (typeof place)[]) =>
    fieldsOf({ card: { ...card, columns: 3, rows: 3, places: list } })
  expect(places(at(0, 0), at(1, 0), at(0, 1, 3, 2))).toEqual([])
  expect(places(at(2, 0, 2))).toEqual(['card:place:0:column kit.place_outside'])
  expect(places(at(0, 2, 1, 2))).toEqual(['card:place:0:row kit.place_outside'])
  expect(places(at(0, 0, 2, 2), at(1, 1))).toEqual(['card:place:1:column kit.place_overlap'])
  expect(places(at(0, 0, 0))).toEqual(['card:place:0:columns kit.place_number'])
  expect(places(at(0.5, 0))).toEqual(['card:place:0:column kit.place_number'])
  expect(places(at(-1, 0))).toEqual(['card:place:0:column kit.place_number'])
  expect(places()).toEqual(['card:places kit.empty'])
})

it('wants a score that falls step by step and ends at nothing', () => {
  const [top, middle, last] = score as [
    (typeof score)[number],
    (typeof score)[number],
    (typeof score)[number],
  ]
  expect(fieldsOf({ score: [top, last] })).toEqual([])
  expect(fieldsOf({ score: [top] })).toEqual(['score kit.score_steps'])
  expect(fieldsOf({ score: [top, middle] })).toEqual(['score:1:atLeast kit.score_end'])
  expect(fieldsOf({ score: [middle, top, last] })).toEqual([
    'score:1:atLeast kit.score_order',
    'score:1:score kit.score_order',
  ])
  expect(fieldsOf({ score: [{ ...top, atLeast: 1.2 }, last] })).toEqual([
    'score:0:atLeast kit.score_share',
  ])
  expect(fieldsOf({ score: [{ ...top, score: Number.NaN }, last] })).toEqual([
    'score:0:score kit.score_number',
  ])
})

it('keeps texts to a length that a printed sheet can hold', () => {
  expect(fieldsOf({ name: 'x'.repeat(61), summary: 'y'.repeat(401) })).toEqual([
    'name kit.too_long',
    'summary kit.too_long',
  ])
  expect(fieldsOf({ prompts: Array.from({ length: 21 }, (_, i) => `Why ${i}?`) })).toEqual([
    'prompts kit.too_many',
  ])
})

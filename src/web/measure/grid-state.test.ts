import { describe, expect, it } from 'vitest'
import type { Observation } from '../../domain/record.ts'
import { EMPTY_CELLS, type GridRow } from './grid-row.ts'
import { type GridAction, type GridState, gridReducer, openGrid } from './grid-state.ts'

const row = (id: string, record = true): GridRow => ({
  id,
  cells: { ...EMPTY_CELLS, at: `2026-03-0${id}`, value: id },
  leftOutReason: null,
  record: record ? ({ id, version: 1 } as Observation) : null,
})
let made = 0
const newId = () => `new${++made}`
const run = (state: GridState, ...actions: GridAction[]) =>
  actions.reduce((s, action) => gridReducer(s, action, newId), state)
const values = (state: GridState) => state.rows.map((r) => r.cells.value)

describe('gridReducer', () => {
  const start = openGrid([row('1'), row('2'), row('3')], newId)

  it('always ends with one empty row to type into', () => {
    expect(values(start)).toEqual(['1', '2', '3', ''])
    const typed = run(start, { type: 'set', row: 3, key: 'value', text: '9' })
    expect(values(typed)).toEqual(['1', '2', '3', '9', ''])
  })

  it('takes typing, pasting and removing back, step by step, and again', () => {
    const done = run(
      start,
      { type: 'set', row: 0, key: 'value', text: '7' },
      {
        type: 'paste',
        row: 2,
        keys: ['at', 'value'],
        block: [
          ['a', '10'],
          ['b', '11'],
          ['c', '12'],
        ],
      },
      { type: 'remove', from: 0, to: 1 },
    )
    expect(values(done)).toEqual(['10', '11', '12', ''])
    expect(done.removed.map((r) => r.id)).toEqual(['1', '2'])
    const back = run(done, { type: 'undo' })
    expect(values(back)).toEqual(['7', '2', '10', '11', '12', ''])
    expect(back.removed).toEqual([])
    const start2 = run(back, { type: 'undo' }, { type: 'undo' })
    expect(values(start2)).toEqual(['1', '2', '3', ''])
    expect(run(start2, { type: 'undo' })).toBe(start2)
    const again = run(start2, { type: 'redo' }, { type: 'redo' }, { type: 'redo' })
    expect(values(again)).toEqual(values(done))
    expect(again.removed.map((r) => r.id)).toEqual(['1', '2'])
  })

  it('pastes only into the columns the block reaches', () => {
    const done = run(start, { type: 'paste', row: 1, keys: ['value', 'note'], block: [['5']] })
    expect(done.rows[1]!.cells).toMatchObject({ at: '2026-03-02', value: '5', note: '' })
  })

  it('does not remember a step that changed nothing', () => {
    expect(run(start, { type: 'set', row: 0, key: 'value', text: '1' })).toBe(start)
    expect(run(start, { type: 'remove', from: 3, to: 3 })).toBe(start)
  })

  it('answers one question for many cells in one step', () => {
    const done = run(start, {
      type: 'set-many',
      cells: [
        { row: 0, key: 'value', text: '1:01' },
        { row: 2, key: 'value', text: '1:03' },
      ],
    })
    expect(values(done)).toEqual(['1:01', '2', '1:03', ''])
    expect(values(run(done, { type: 'undo' }))).toEqual(['1', '2', '3', ''])
  })

  it('keeps mine or takes theirs where two people changed a row', () => {
    const mine = { ...row('1'), cells: { ...EMPTY_CELLS, value: '5' }, theirs: {} as Observation }
    const clash = openGrid([mine], newId)
    const theirs = row('1')
    const kept = run(clash, { type: 'settle', row: 0, keep: 'mine', theirs })
    expect(kept.rows[0]).toMatchObject({ cells: { value: '5' } })
    expect(kept.rows[0]!.theirs).toBeUndefined()
    expect(run(clash, { type: 'settle', row: 0, keep: 'theirs', theirs }).rows[0]).toBe(theirs)
  })

  it('leaves a point out with its reason and counts it again', () => {
    const out = run(start, { type: 'leave-out', row: 1, reason: 'printer broken' })
    expect(out.rows[1]!.leftOutReason).toBe('printer broken')
    expect(run(out, { type: 'undo' }).rows[1]!.leftOutReason).toBeNull()
  })
})

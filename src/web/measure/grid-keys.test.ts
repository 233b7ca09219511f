import { expect, it } from 'vitest'
import { gridMove } from './grid-keys.ts'

const size = { rows: 10, columns: 4, page: 5 }
const at = { row: 3, column: 1 }
const press = (key: string, held: Partial<Record<'ctrlKey' | 'shiftKey' | 'altKey', true>> = {}) =>
  gridMove(
    { key, ctrlKey: false, metaKey: false, shiftKey: false, altKey: false, ...held },
    at,
    size,
  )

it('moves with the arrows and stays inside', () => {
  expect(press('ArrowDown')).toEqual({ kind: 'go', row: 4, column: 1, extend: false })
  expect(press('ArrowDown', { ctrlKey: true })).toMatchObject({ row: 9 })
  expect(press('PageUp')).toMatchObject({ row: 0 })
  expect(press('End')).toMatchObject({ row: 3, column: 3 })
  expect(press('Home', { ctrlKey: true })).toMatchObject({ row: 0, column: 0 })
  expect(press('ArrowUp', { shiftKey: true })).toMatchObject({ row: 2, extend: true })
})

it('edits with Enter, F2 or the first character typed', () => {
  expect(press('Enter')).toEqual({ kind: 'edit', text: null })
  expect(press('F2')).toEqual({ kind: 'edit', text: null })
  expect(press('7')).toEqual({ kind: 'edit', text: '7' })
  expect(press('é')).toEqual({ kind: 'edit', text: 'é' })
})

it('leaves Tab, Escape and the browser’s own keys alone', () => {
  expect(press('Tab')).toBeNull()
  expect(press('Escape')).toBeNull()
  expect(press('c', { ctrlKey: true })).toBeNull()
  expect(press('ArrowLeft', { altKey: true })).toBeNull()
})

it('clears a cell, removes rows, undoes, redoes, saves', () => {
  expect(press('Delete')).toEqual({ kind: 'clear' })
  expect(press('Delete', { ctrlKey: true })).toEqual({ kind: 'remove' })
  expect(press('z', { ctrlKey: true })).toEqual({ kind: 'undo' })
  expect(press('Z', { ctrlKey: true, shiftKey: true })).toEqual({ kind: 'redo' })
  expect(press('s', { ctrlKey: true })).toEqual({ kind: 'save' })
})

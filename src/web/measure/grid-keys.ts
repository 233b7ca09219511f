import type { KeyboardEvent } from 'react'

/** What a key means on a cell that is not being edited. */
export type GridMove =
  | { readonly kind: 'go'; readonly row: number; readonly column: number; readonly extend: boolean }
  | { readonly kind: 'edit'; readonly text: string | null }
  | { readonly kind: 'clear' | 'remove' | 'undo' | 'redo' | 'save' }
  | null

export interface GridPlace {
  readonly row: number
  readonly column: number
}

type Key = Pick<KeyboardEvent, 'key' | 'ctrlKey' | 'metaKey' | 'shiftKey' | 'altKey'>

/** The keyboard of the grid: arrows move, Enter or typing edits, Delete clears. */
export function gridMove(
  event: Key,
  { row, column }: GridPlace,
  size: { readonly rows: number; readonly columns: number; readonly page: number },
): GridMove {
  const command = event.ctrlKey || event.metaKey
  const go = (toRow: number, toColumn: number): GridMove => ({
    kind: 'go',
    row: Math.min(Math.max(toRow, 0), size.rows - 1),
    column: Math.min(Math.max(toColumn, 0), size.columns - 1),
    extend: event.shiftKey,
  })
  if (event.altKey) return null
  switch (event.key) {
    case 'ArrowUp':
      return go(command ? 0 : row - 1, column)
    case 'ArrowDown':
      return go(command ? size.rows - 1 : row + 1, column)
    case 'ArrowLeft':
      return go(row, command ? 0 : column - 1)
    case 'ArrowRight':
      return go(row, command ? size.columns - 1 : column + 1)
    case 'Home':
      return go(command ? 0 : row, 0)
    case 'End':
      return go(command ? size.rows - 1 : row, size.columns - 1)
    case 'PageUp':
      return go(row - size.page, column)
    case 'PageDown':
      return go(row + size.page, column)
    case 'Enter':
    case 'F2':
      return command ? null : { kind: 'edit', text: null }
    case 'Delete':
    case 'Backspace':
      return { kind: command ? 'remove' : 'clear' }
  }
  if (command) {
    switch (event.key.toLowerCase()) {
      case 'z':
        return { kind: event.shiftKey ? 'redo' : 'undo' }
      case 'y':
        return { kind: 'redo' }
      case 's':
        return { kind: 'save' }
      default:
        return null
    }
  }
  return event.key.length === 1 && event.key !== ' ' ? { kind: 'edit', text: event.key } : null
}

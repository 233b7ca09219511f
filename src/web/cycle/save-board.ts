import { createContext, useContext, useEffect } from 'react'
import type { AppError } from '../../errors.ts'
import type { SaveStatus } from '../lib/record-editor.ts'
import { createStore, type Store } from '../lib/store.ts'

/** Every part of the page that saves by itself: shown in one line, and sent off together. */
export interface SaveBoard {
  readonly set: (key: string, part: BoardPart) => void
  readonly drop: (key: string) => void
  /** Sends whatever waits; resolves to whether everything typed is on the server. */
  readonly flushAll: () => Promise<boolean>
  readonly state: Pick<Store<BoardState>, 'get' | 'subscribe'>
}

export interface BoardPart {
  readonly status: SaveStatus
  readonly error: AppError | null
  /** Holds text that stands for no value yet, so there is something left to answer. */
  readonly unread: boolean
  readonly flush: (again?: 'again') => Promise<boolean>
}

interface BoardState {
  /** The part most in need of attention decides. */
  readonly status: SaveStatus
  readonly error: AppError | null
  /** When the last part was saved during this visit. */
  readonly savedAt: number | null
  readonly unread: boolean
}

const WORST: readonly SaveStatus[] = [
  'refused',
  'conflict',
  'offline',
  'saving',
  'waiting',
  'saved',
]

export function createSaveBoard(now: () => number = Date.now): SaveBoard {
  const parts = new Map<string, BoardPart>()
  const state = createStore<BoardState>({
    status: 'saved',
    error: null,
    savedAt: null,
    unread: false,
  })
  const sum = () => {
    const all = [...parts.values()]
    const status = WORST.find((s) => all.some((part) => part.status === s)) ?? 'saved'
    const before = state.get()
    const finished = status === 'saved' && before.status !== 'saved'
    const next: BoardState = {
      status,
      error: all.find((part) => part.status === status)?.error ?? null,
      savedAt: finished ? now() : before.savedAt,
      unread: all.some((part) => part.unread),
    }
    if (JSON.stringify(next) !== JSON.stringify(before)) state.set(next)
  }
  return {
    state,
    set: (key, part) => {
      parts.set(key, part)
      sum()
    },
    drop: (key) => {
      parts.delete(key)
      sum()
    },
    flushAll: async () => {
      const results = await Promise.all([...parts.values()].map((part) => part.flush('again')))
      return results.every(Boolean)
    },
  }
}

export const SaveBoardContext = createContext<SaveBoard | null>(null)

/** Reports one part of the page to its save board. */
export function useBoardPart(key: string, { status, error, unread, flush }: BoardPart): void {
  const board = useContext(SaveBoardContext)
  useEffect(() => {
    board?.set(key, { status, error, unread, flush })
  }, [board, key, status, error, unread, flush])
  useEffect(() => () => board?.drop(key), [board, key])
}

/** The board of this page. Only within its provider. */
export function useSaveBoard(): SaveBoard {
  const board = useContext(SaveBoardContext)
  if (board === null) throw new Error('There is no save board here.')
  return board
}

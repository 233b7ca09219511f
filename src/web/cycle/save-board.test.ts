import { describe, expect, it } from 'vitest'
import { type BoardPart, createSaveBoard } from './save-board.ts'

const part = (status: BoardPart['status'], extra: Partial<BoardPart> = {}): BoardPart => ({
  status,
  error: null,
  unread: false,
  flush: async () => status === 'saved',
  ...extra,
})

describe('the save board', () => {
  it('shows the part most in need of attention', () => {
    const board = createSaveBoard()
    board.set('plan', part('saved'))
    board.set('a', part('waiting'))
    expect(board.state.get().status).toBe('waiting')
    board.set('b', part('conflict'))
    expect(board.state.get().status).toBe('conflict')
    board.drop('b')
    expect(board.state.get().status).toBe('waiting')
  })

  it('remembers when the last part was saved, and only then', () => {
    const board = createSaveBoard(() => 1234)
    board.set('plan', part('saved'))
    expect(board.state.get().savedAt).toBeNull()
    board.set('plan', part('saving'))
    board.set('plan', part('saved'))
    expect(board.state.get()).toMatchObject({ status: 'saved', savedAt: 1234 })
  })

  it('sends everything, and says whether all of it arrived', async () => {
    const board = createSaveBoard()
    board.set('plan', part('saved'))
    await expect(board.flushAll()).resolves.toBe(true)
    board.set('a', part('waiting', { flush: async () => false }))
    await expect(board.flushAll()).resolves.toBe(false)
  })

  it('knows that a number still waits for an answer', () => {
    const board = createSaveBoard()
    board.set('a', part('saved', { unread: true }))
    expect(board.state.get().unread).toBe(true)
    board.drop('a')
    expect(board.state.get().unread).toBe(false)
  })
})

import { createStore } from './store.ts'

export interface UndoOffer {
  /** What was done, as a sentence. */
  readonly text: string
  /** Takes it back; rejects with an `AppError` when it cannot. */
  readonly undo: () => Promise<unknown>
}

/** The offer on the screen; the shell shows it until it is used, closed or followed by another. */
export const undoOffer = createStore<UndoOffer | null>(null)

/** Says what was just done and offers to take it back, in place of asking beforehand. */
export function offerUndo(text: string, undo: () => Promise<unknown>): void {
  undoOffer.set({ text, undo })
}

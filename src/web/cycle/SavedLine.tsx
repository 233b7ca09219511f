import { useStore } from '../lib/use-store.ts'
import { useSaveBoard } from './save-board.ts'

/** One line for the whole page: whether what was typed is on the server, and since when. */
export function SavedLine() {
  const { status, error, savedAt } = useStore(useSaveBoard().state)
  const problem = status === 'refused' || status === 'conflict'
  return (
    <p className={problem ? 'save-line problem' : 'save-line'} role="status">
      {status === 'saved' && savedAt !== null && `Saved ${clock(savedAt)}`}
      {status === 'waiting' && 'Typing…'}
      {status === 'saving' && 'Saving…'}
      {status === 'offline' && 'Not saved yet: no answer from the server. Kept on this device.'}
      {status === 'conflict' && 'Not saved: somebody else changed the same text.'}
      {status === 'refused' && `Not saved. ${error?.message ?? ''} ${error?.hint ?? ''}`}
    </p>
  )
}

function clock(at: number | string): string {
  return new Date(at).toLocaleTimeString(undefined, { hour: '2-digit', minute: '2-digit' })
}

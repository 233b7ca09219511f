import { useStore } from '../lib/use-store.ts'
import { useSaveBoard } from './save-board.ts'

/** One line for the whole page: whether what was typed is on the server, and since when. */
export function SavedLine() {
  const { status, error, savedAt } = useStore(useSaveBoard().state)
  const problem = status === 'refused' || status === 'conflict'
  return (
    <p className={problem ? 'save-line problem' : 'save-line'}>
      {/* To be seen only: read out, they would talk into every word that is typed. */}
      <span aria-hidden="true">
        {status === 'waiting' && 'Typing…'}
        {status === 'saving' && 'Saving…'}
      </span>
      <span role="status">
        {status === 'saved' && savedAt !== null && `Saved ${clock(savedAt)}`}
        {status === 'offline' && 'Not saved yet: no answer from the server. Kept on this device.'}
        {status === 'conflict' && 'Not saved: somebody else changed the same text.'}
        {status === 'refused' && `Not saved. ${error?.message ?? ''} ${error?.hint ?? ''}`}
      </span>
    </p>
  )
}

function clock(at: number | string): string {
  return new Date(at).toLocaleTimeString(undefined, { hour: '2-digit', minute: '2-digit' })
}

import type { EditorState, Versioned } from '../lib/record-editor.ts'

export interface SaveLineProps<T extends Versioned> {
  readonly state: Pick<EditorState<T>, 'status' | 'error' | 'restored'>
}

/** One line that says whether what was typed is on the server yet. */
export function SaveLine<T extends Versioned>({ state }: SaveLineProps<T>) {
  const { status, error, restored } = state
  const problem = status === 'refused' || status === 'conflict'
  return (
    <p className={problem ? 'save-line problem' : 'save-line'}>
      {/* To be seen only: read out, they would talk into every word that is typed. */}
      <span aria-hidden="true">
        {status === 'waiting' && !restored && 'Typing…'}
        {status === 'saving' && 'Saving…'}
      </span>
      <span role="status">
        {status === 'saved' && 'Saved.'}
        {status === 'waiting' && restored && 'Found what you typed earlier; saving it.'}
        {status === 'offline' &&
          'Not saved yet: the server does not answer. Your text is kept on this device and sent as soon as it does.'}
        {status === 'conflict' && 'Not saved: somebody else changed the same text.'}
        {status === 'refused' && `Not saved. ${error?.message ?? ''} ${error?.hint ?? ''}`}
      </span>
    </p>
  )
}

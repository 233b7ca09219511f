import { useEffect, useMemo, useRef } from 'react'
import { asAppError } from './api.ts'
import { draftStore } from './drafts.ts'
import {
  createRecordEditor,
  type EditorState,
  type RecordEditor,
  type Versioned,
} from './record-editor.ts'
import { useMe } from './session.ts'
import { useStore } from './use-store.ts'

export interface Editing<T extends Versioned> extends EditorState<T> {
  readonly editor: RecordEditor<T>
  readonly set: RecordEditor<T>['set']
  /** Saves now; give it to `onBlur`. */
  readonly flush: RecordEditor<T>['flush']
}

/**
 * Edits one record in place, saving by itself. Show its state with `SaveLine`, and put a
 * `ConflictDialog` on the page for the case that somebody else saved first.
 *
 * @param draftKey Names the record and the part edited, such as `cycle:ID:plan`.
 * @param saved    The record as last read; a fresh copy is taken up while nothing is typed.
 * @param save     Sends changed fields; answers the saved record.
 */
export function useRecordEditor<T extends Versioned>(
  draftKey: string,
  saved: T,
  save: (changes: Partial<T>, version: number) => Promise<T>,
): Editing<T> {
  const me = useMe()
  const latest = useRef(save)
  useEffect(() => {
    latest.current = save
  })
  // biome-ignore lint/correctness/useExhaustiveDependencies: one editor a record; `saved` comes in by `receive`.
  const editor = useMemo(
    () =>
      createRecordEditor<T>({
        saved,
        save: (changes, version) => latest.current(changes, version),
        draftKey,
        drafts: draftStore(me.id, localStorage),
        toAppError: asAppError,
      }),
    [draftKey, me.id],
  )

  useEffect(() => editor.receive(saved), [editor, saved])
  useEffect(() => {
    editor.start()
    const now = () => void editor.flush()
    const onHide = () => {
      if (document.visibilityState === 'hidden') now()
    }
    window.addEventListener('online', now)
    document.addEventListener('visibilitychange', onHide)
    return () => {
      window.removeEventListener('online', now)
      document.removeEventListener('visibilitychange', onHide)
      now()
      editor.stop()
    }
  }, [editor])

  return { ...useStore(editor.state), editor, set: editor.set, flush: editor.flush }
}

import type { AppError } from '../../errors.ts'
import type { DraftStore } from './drafts.ts'
import { currentOf, isUnreachable } from './refusals.ts'
import { createStore, type Store } from './store.ts'

/** Any record that is saved field by field with optimistic concurrency. */
export interface Versioned {
  readonly version: number
}

/** One field that this person and somebody else both changed since the version it was typed on. */
export interface FieldConflict<T> {
  readonly field: keyof T & string
  readonly mine: unknown
  readonly theirs: unknown
}

export type SaveStatus =
  | 'saved'
  /** Typed, and about to be sent. */
  | 'waiting'
  | 'saving'
  /** The server did not answer; it is tried again. */
  | 'offline'
  /** The server said no; see `error`. What was typed is still here. */
  | 'refused'
  /** Somebody else changed the same field; see `conflicts`. */
  | 'conflict'

export interface EditorState<T> {
  /** The record as it stands on the screen: the saved one, overlaid with what was typed. */
  readonly values: T
  readonly saved: T
  readonly edited: readonly (keyof T & string)[]
  readonly status: SaveStatus
  readonly error: AppError | null
  readonly conflicts: readonly FieldConflict<T>[]
  /** Something typed earlier and never acknowledged was found on this device. */
  readonly restored: boolean
}

export interface EditorOptions<T extends Versioned> {
  readonly saved: T
  /** Sends the changed fields, made on `version`; answers the record as now saved. */
  readonly save: (changes: Partial<T>, version: number) => Promise<T>
  readonly draftKey: string
  readonly drafts: DraftStore
  /** Milliseconds of pause before it saves by itself. */
  readonly pause?: number
  readonly toAppError: (error: unknown) => AppError
}

export interface RecordEditor<T extends Versioned> {
  readonly state: Pick<Store<EditorState<T>>, 'get' | 'subscribe'>
  readonly set: <K extends keyof T & string>(field: K, value: T[K]) => void
  /**
   * Saves now; resolves to whether everything typed is on the server. What the server refused, or
   * the person took back when asked, is sent again only once it has changed, or with `again`.
   */
  readonly flush: (again?: 'again') => Promise<boolean>
  /** A fresh copy came from the server by another way. */
  readonly receive: (saved: T) => void
  /** Ends a conflict: the value to keep for each field in `conflicts`. */
  readonly resolve: (chosen: Partial<T>) => void
  /** Gives up what was typed. */
  readonly discard: () => void
  /** The page is gone: nothing more is sent, and what is not saved stays as a draft. */
  readonly stop: () => void
  /** The page is back. */
  readonly start: () => void
}

const RETRY = [2_000, 5_000, 15_000, 30_000]

const same = (a: unknown, b: unknown) => a === b || JSON.stringify(a) === JSON.stringify(b)

/**
 * Holds one record while a person edits it: keeps every keystroke on the device, saves after a
 * pause, tries again when the server is away, and finds out which fields are really in conflict
 * when somebody else saved first.
 */
export function createRecordEditor<T extends Versioned>(
  options: EditorOptions<T>,
): RecordEditor<T> {
  const { drafts, draftKey, pause = 800 } = options
  type Field = keyof T & string
  type Fields = Partial<Record<Field, unknown>>

  let saved = options.saved
  let edits: Fields = {}
  let base: Fields = {}
  let status: SaveStatus = 'saved'
  let error: AppError | null = null
  let conflicts: readonly FieldConflict<T>[] = []
  let restored = false
  let timer: ReturnType<typeof setTimeout> | null = null
  let running: Promise<boolean> | null = null
  let failures = 0
  /** The edits that were refused as they stand; leaving a field must not ask the same thing twice. */
  let refused: string | null = null
  let stopped = false

  const draft = drafts.read(draftKey)
  // Its save may still be on the way from a page that was just left: meeting one's own text again on
  // the server is no conflict.
  const found: Fields = { ...draft?.fields } as Fields
  /** The version the edits were made on; the server compares it. */
  let onVersion = saved.version
  if (draft !== null) {
    edits = draft.fields as Fields
    base = draft.base as Fields
    onVersion = draft.version
    restored = true
    drop((field) => same(edits[field], saved[field]))
  }

  const state = createStore(snapshot())

  function snapshot(): EditorState<T> {
    return {
      values: { ...saved, ...edits },
      saved,
      edited: Object.keys(edits) as Field[],
      status,
      error,
      conflicts,
      restored,
    }
  }

  function drop(settled: (field: Field) => boolean) {
    for (const field of Object.keys(edits) as Field[]) {
      if (!settled(field)) continue
      delete edits[field]
      delete base[field]
    }
    keep()
  }

  function keep() {
    // Another editor of the same record may have taken over the draft.
    if (stopped) return
    if (Object.keys(edits).length === 0) {
      onVersion = saved.version
      restored = false
      drafts.remove(draftKey)
    } else {
      drafts.write(draftKey, { version: onVersion, fields: edits, base })
    }
  }

  function tell(next: SaveStatus, why: AppError | null = null) {
    status = next
    error = why
    state.set(snapshot())
  }

  function schedule(after: number) {
    if (timer !== null) clearTimeout(timer)
    if (stopped) return
    timer = setTimeout(() => {
      timer = null
      void flush()
    }, after)
  }

  function set<K extends Field>(field: K, value: T[K]) {
    if (!(field in edits)) base[field] = saved[field]
    edits[field] = value
    // A field typed back to what is saved needs no saving, unless its earlier text is under way.
    if (running === null) drop((name) => name === field && same(edits[name], saved[name]))
    keep()
    if (conflicts.length > 0) return tell('conflict', error)
    if (Object.keys(edits).length === 0) return tell('saved')
    tell(running === null ? 'waiting' : 'saving')
    schedule(pause)
  }

  function flush(again?: 'again'): Promise<boolean> {
    if (timer !== null) clearTimeout(timer)
    timer = null
    if (running !== null) return running.then(() => flush(again))
    if (Object.keys(edits).length === 0) return Promise.resolve(true)
    if (conflicts.length > 0) return Promise.resolve(false)
    if (again === undefined && refused === JSON.stringify(edits)) return Promise.resolve(false)
    refused = null
    running = send().finally(() => {
      running = null
    })
    return running.then((fine) =>
      fine && Object.keys(edits).length > 0 && status === 'waiting' ? flush() : fine,
    )
  }

  async function send(): Promise<boolean> {
    const sent: Fields = { ...edits }
    tell('saving')
    try {
      saved = await options.save(sent as Partial<T>, onVersion)
    } catch (thrown) {
      return refuse(options.toAppError(thrown))
    }
    failures = 0
    if (stopped && same(drafts.read(draftKey)?.fields, sent)) drafts.remove(draftKey)
    onVersion = saved.version
    drop((field) => field in sent && same(edits[field], sent[field]))
    for (const field of Object.keys(edits) as Field[]) base[field] = saved[field]
    keep()
    tell(Object.keys(edits).length === 0 ? 'saved' : 'waiting')
    return true
  }

  function refuse(why: AppError): Promise<boolean> | boolean {
    if (stopped) return false
    const current = why.code === 'record.stale' ? currentOf<T>(why) : null
    if (current !== null && typeof current.version === 'number') return rebase(current, why)
    if (isUnreachable(why)) {
      tell('offline', why)
      schedule(RETRY[Math.min(failures++, RETRY.length - 1)]!)
    } else {
      refused = JSON.stringify(edits)
      tell('refused', why)
    }
    return false
  }

  /** Moves the edits onto a newer version; asks only about fields that both sides changed. */
  function rebase(current: T, why: AppError): Promise<boolean> | boolean {
    saved = current
    onVersion = current.version
    drop((field) => same(edits[field], current[field]))
    const fields = Object.keys(edits) as Field[]
    conflicts = fields
      .filter((field) => !same(current[field], base[field]))
      .filter((field) => !(field in found && same(current[field], found[field])))
      .map((field) => ({ field, mine: edits[field], theirs: current[field] }))
    for (const field of fields) base[field] = current[field]
    keep()
    if (conflicts.length > 0) {
      tell('conflict', why)
      return false
    }
    if (fields.length === 0) {
      tell('saved')
      return true
    }
    // A server under steady writes from elsewhere must not keep this loop spinning.
    if (failures++ > 5) {
      tell('refused', why)
      return false
    }
    return send()
  }

  function receive(fresh: T) {
    if (fresh === saved || fresh.version < saved.version) return
    if (Object.keys(edits).length > 0) return
    saved = fresh
    onVersion = fresh.version
    state.set(snapshot())
  }

  function resolve(chosen: Partial<T>) {
    conflicts = []
    for (const [field, value] of Object.entries(chosen)) edits[field as Field] = value
    drop((field) => same(edits[field], saved[field]))
    tell(Object.keys(edits).length === 0 ? 'saved' : 'waiting')
    void flush()
  }

  function discard() {
    if (timer !== null) clearTimeout(timer)
    timer = null
    conflicts = []
    edits = {}
    base = {}
    keep()
    tell('saved')
  }

  if (Object.keys(edits).length > 0) {
    tell('waiting')
    schedule(0)
  }

  return {
    state,
    set,
    flush,
    receive,
    resolve,
    discard,
    stop: () => {
      stopped = true
      if (timer !== null) clearTimeout(timer)
      timer = null
    },
    start: () => {
      if (!stopped) return
      stopped = false
      if (Object.keys(edits).length > 0 && conflicts.length === 0) schedule(pause)
    },
  }
}

/** What was typed and is not yet on the server, kept on this device. */
export interface Draft {
  /** The saved version it was typed on; 0 for a record that does not exist yet. */
  readonly version: number
  readonly fields: Readonly<Record<string, unknown>>
  /** What those fields held in that version, to tell a real conflict from a change elsewhere. */
  readonly base: Readonly<Record<string, unknown>>
}

export interface DraftStore {
  readonly read: (key: string) => Draft | null
  readonly write: (key: string, draft: Draft) => void
  readonly remove: (key: string) => void
}

const PREFIX = 'pawl.draft.'

function isDraft(value: unknown): value is Draft {
  if (typeof value !== 'object' || value === null) return false
  const { version, fields, base } = value as Record<string, unknown>
  return (
    typeof version === 'number' &&
    typeof fields === 'object' &&
    fields !== null &&
    typeof base === 'object' &&
    base !== null
  )
}

/**
 * Drafts of one person. Each person has their own, so that on a shared computer nobody is shown
 * what somebody else typed.
 */
export function draftStore(personId: string, storage: Storage): DraftStore {
  const name = (key: string) => `${PREFIX}${personId}.${key}`
  return {
    read: (key) => {
      try {
        const value: unknown = JSON.parse(storage.getItem(name(key)) ?? 'null')
        return isDraft(value) ? value : null
      } catch {
        return null
      }
    },
    write: (key, draft) => {
      try {
        storage.setItem(name(key), JSON.stringify(draft))
      } catch {
        // Storage is full or switched off: the text is still on the page and goes to the server.
      }
    },
    remove: (key) => {
      try {
        storage.removeItem(name(key))
      } catch {
        // Nothing was kept, so there is nothing to remove.
      }
    },
  }
}

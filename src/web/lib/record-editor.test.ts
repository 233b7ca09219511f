import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { AppError } from '../../errors.ts'
import { type Draft, draftStore } from './drafts.ts'
import { createRecordEditor } from './record-editor.ts'
import { issuesByField } from './refusals.ts'

interface Plan {
  readonly title: string
  readonly question: string
  readonly version: number
}
const PLAN: Plan = { title: 'Tray card', question: '', version: 1 }

function fakeStorage(): Storage {
  const kept = new Map<string, string>()
  return {
    get length() {
      return kept.size
    },
    clear: () => kept.clear(),
    getItem: (key) => kept.get(key) ?? null,
    key: (index) => [...kept.keys()][index] ?? null,
    removeItem: (key) => void kept.delete(key),
    setItem: (key, value) => void kept.set(key, value),
  }
}

/** A server that keeps one record and refuses a stale save, as the real one does. */
function fakeServer(start: Plan) {
  let current = start
  const saves: Partial<Plan>[] = []
  return {
    saves,
    failNext: null as AppError | null,
    current: () => current,
    elsewhere(changes: Partial<Plan>) {
      current = { ...current, ...changes, version: current.version + 1 }
    },
    async save(changes: Partial<Plan>, version: number): Promise<Plan> {
      await new Promise((resolve) => setTimeout(resolve, 50))
      if (this.failNext !== null) {
        const error = this.failNext
        this.failNext = null
        throw error
      }
      if (version !== current.version) {
        throw new AppError('record.stale', 'Changed.', 'Look.', { current, yours: changes })
      }
      saves.push(changes)
      current = { ...current, ...changes, version: version + 1 }
      return current
    },
  }
}

const refused = (code: string, details = {}) => new AppError(code, 'No.', 'Try again.', details)

describe('createRecordEditor', () => {
  let storage: Storage
  let server: ReturnType<typeof fakeServer>

  const edit = (saved: Plan = server.current()) =>
    createRecordEditor<Plan>({
      saved,
      save: (changes, version) => server.save(changes, version),
      draftKey: 'plan',
      drafts: draftStore('P1', storage),
      toAppError: (error) => error as AppError,
    })
  const kept = () => draftStore('P1', storage).read('plan')

  beforeEach(() => {
    vi.useFakeTimers()
    storage = fakeStorage()
    server = fakeServer(PLAN)
  })
  afterEach(() => vi.useRealTimers())

  it('keeps each change on the device at once and forgets it when the server has it', async () => {
    const editor = edit()
    editor.set('question', 'Does a card help?')
    expect(kept()).toEqual<Draft>({
      version: 1,
      fields: { question: 'Does a card help?' },
      base: { question: '' },
    })
    await vi.advanceTimersByTimeAsync(2_000)
    expect(server.current().question).toBe('Does a card help?')
    expect(kept()).toBeNull()
    expect(editor.state.get()).toMatchObject({ status: 'saved', edited: [] })
  })

  it('sends only what changed, once a pause', async () => {
    const editor = edit()
    for (const text of ['D', 'Do', 'Doe', 'Does it?']) {
      editor.set('question', text)
      await vi.advanceTimersByTimeAsync(100)
    }
    await vi.advanceTimersByTimeAsync(2_000)
    expect(server.saves).toEqual([{ question: 'Does it?' }])
  })

  it('goes on saving what is typed while a save is under way', async () => {
    const editor = edit()
    editor.set('question', 'First')
    const flushed = editor.flush()
    await vi.advanceTimersByTimeAsync(10)
    editor.set('question', 'First and second')
    await vi.advanceTimersByTimeAsync(2_000)
    expect(await flushed).toBe(true)
    expect(server.saves).toEqual([{ question: 'First' }, { question: 'First and second' }])
    expect(kept()).toBeNull()
  })

  it('returns to the saved text when that is typed back during a save', async () => {
    const editor = edit()
    editor.set('title', 'Changed')
    void editor.flush()
    await vi.advanceTimersByTimeAsync(10)
    editor.set('title', 'Tray card')
    await vi.advanceTimersByTimeAsync(2_000)
    expect(server.current().title).toBe('Tray card')
  })

  it('takes up what an earlier visit typed and did not get saved', async () => {
    const first = edit()
    first.set('question', 'Typed before the power cut')
    first.stop()

    const second = edit()
    expect(second.state.get()).toMatchObject({ restored: true, status: 'waiting' })
    expect(second.state.get().values.question).toBe('Typed before the power cut')
    await vi.advanceTimersByTimeAsync(1_000)
    expect(server.current().question).toBe('Typed before the power cut')
  })

  it('sends what is typed when the page is left, and leaves the draft of the next page alone', async () => {
    const first = edit()
    first.set('question', 'Typed, then left')
    void first.flush()
    first.stop()

    const second = edit()
    second.set('question', 'Typed, left, and typed on')
    await vi.advanceTimersByTimeAsync(60)
    expect(server.current().question).toBe('Typed, then left')
    expect(kept()?.fields).toEqual({ question: 'Typed, left, and typed on' })
    await vi.advanceTimersByTimeAsync(2_000)
    expect(server.current().question).toBe('Typed, left, and typed on')
    expect(second.state.get()).toMatchObject({ status: 'saved', conflicts: [] })
  })

  it('tidies up after a save that was acknowledged when the page had gone', async () => {
    const editor = edit()
    editor.set('question', 'Typed, then left')
    void editor.flush()
    editor.stop()
    await vi.advanceTimersByTimeAsync(2_000)
    expect(server.current().question).toBe('Typed, then left')
    expect(kept()).toBeNull()
  })

  it('tries again, with what was typed since, when the server is away', async () => {
    const editor = edit()
    server.failNext = refused('client.offline')
    editor.set('question', 'One')
    await vi.advanceTimersByTimeAsync(1_000)
    expect(editor.state.get().status).toBe('offline')
    expect(kept()?.fields).toEqual({ question: 'One' })
    await vi.advanceTimersByTimeAsync(5_000)
    expect(server.current().question).toBe('One')
    expect(editor.state.get().status).toBe('saved')
  })

  it('keeps what the server refuses, with the reason, and sends it after the next change', async () => {
    const editor = edit()
    server.failNext = refused('input.bad', {
      issues: [{ code: 'input.long', field: 'question', message: 'Too long.' }],
    })
    editor.set('question', 'Long')
    await vi.advanceTimersByTimeAsync(1_000)
    expect(editor.state.get().status).toBe('refused')
    expect(issuesByField(editor.state.get().error)).toEqual({ question: 'Too long.' })
    expect(editor.state.get().values.question).toBe('Long')
    editor.set('question', 'Short')
    await vi.advanceTimersByTimeAsync(1_000)
    expect(server.current().question).toBe('Short')
  })

  it('does not ask the same thing twice when a field is left, but does when asked to', async () => {
    const editor = edit()
    server.failNext = refused('care.looks_like_identifier')
    editor.set('question', 'Ask a@example.org')
    await vi.advanceTimersByTimeAsync(1_000)
    expect(await editor.flush()).toBe(false)
    expect(server.current().question).not.toBe('Ask a@example.org')
    expect(editor.state.get().status).toBe('refused')
    const sent = editor.flush('again')
    await vi.advanceTimersByTimeAsync(1_000)
    expect(await sent).toBe(true)
    expect(server.current().question).toBe('Ask a@example.org')
  })

  it('saves without a question when somebody else changed another field', async () => {
    const editor = edit()
    server.elsewhere({ title: 'Tray list' })
    editor.set('question', 'Mine')
    await vi.advanceTimersByTimeAsync(2_000)
    expect(server.current()).toMatchObject({ title: 'Tray list', question: 'Mine' })
    expect(editor.state.get()).toMatchObject({ status: 'saved', conflicts: [] })
  })

  describe('when somebody else changed the same field', () => {
    const clash = async () => {
      const editor = edit()
      server.elsewhere({ question: 'Theirs' })
      editor.set('question', 'Mine')
      await vi.advanceTimersByTimeAsync(2_000)
      return editor
    }

    it('saves nothing and shows both', async () => {
      const editor = await clash()
      expect(editor.state.get()).toMatchObject({
        status: 'conflict',
        conflicts: [{ field: 'question', mine: 'Mine', theirs: 'Theirs' }],
      })
      expect(server.current().question).toBe('Theirs')
      expect(await editor.flush()).toBe(false)
      expect(kept()?.fields).toEqual({ question: 'Mine' })
    })

    it.each([['Mine'], ['Theirs'], ['Both of us']])('saves what was chosen: %s', async (chosen) => {
      const editor = await clash()
      editor.resolve({ question: chosen })
      await vi.advanceTimersByTimeAsync(2_000)
      expect(server.current().question).toBe(chosen)
      expect(editor.state.get().status).toBe('saved')
      expect(kept()).toBeNull()
    })

    it('asks again when a third version has come in the meantime', async () => {
      const editor = await clash()
      server.elsewhere({ question: 'A third' })
      editor.resolve({ question: 'Mine' })
      await vi.advanceTimersByTimeAsync(2_000)
      expect(editor.state.get().conflicts).toEqual([
        { field: 'question', mine: 'Mine', theirs: 'A third' },
      ])
    })

    it('is asked also about a draft from before the change', async () => {
      const first = edit()
      first.set('question', 'Mine')
      first.stop()
      server.elsewhere({ question: 'Theirs' })
      const second = edit(server.current())
      await vi.advanceTimersByTimeAsync(2_000)
      expect(second.state.get().status).toBe('conflict')
    })
  })

  it('takes a fresh copy from the server only while nothing is typed', () => {
    const editor = edit()
    editor.receive({ ...PLAN, title: 'Newer', version: 2 })
    expect(editor.state.get().values.title).toBe('Newer')
    editor.set('title', 'Typed')
    editor.receive({ ...PLAN, title: 'Newest', version: 3 })
    expect(editor.state.get().values.title).toBe('Typed')
    editor.stop()
  })
})

describe('draftStore', () => {
  it('keeps the drafts of two people on one device apart', () => {
    const storage = fakeStorage()
    draftStore('P1', storage).write('plan', { version: 1, fields: { a: 'x' }, base: {} })
    expect(draftStore('P2', storage).read('plan')).toBeNull()
  })

  it('survives storage that is full or holds something else', () => {
    const storage = fakeStorage()
    storage.setItem('pawl.draft.P1.plan', '{"half')
    expect(draftStore('P1', storage).read('plan')).toBeNull()
    const full = {
      ...storage,
      setItem: () => {
        throw new DOMException('full', 'QuotaExceededError')
      },
    }
    expect(() =>
      draftStore('P1', full).write('plan', { version: 1, fields: {}, base: {} }),
    ).not.toThrow()
  })
})

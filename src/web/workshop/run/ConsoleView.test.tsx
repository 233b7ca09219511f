import { renderToStaticMarkup } from 'react-dom/server'
import { describe, expect, it } from 'vitest'
import { Router } from 'wouter'
import {
  openRound,
  ROOM_NOW,
  sampleRoom,
  secondsBefore,
  withTable,
} from '../../../../tests/support/sample-room.ts'
import type { RoomState, RoomView, TableState } from '../../../domain/workshop/room-state.ts'
import { AppError } from '../../../errors.ts'
import { ConsoleView } from './ConsoleView.tsx'
import { TablePanel } from './TablePanel.tsx'
import { ConsoleContext } from './use-console.ts'
import { isFreeKey } from './use-keys.ts'

const serverNow = () => Date.parse(ROOM_NOW)
const draw = (state: RoomState, error: AppError | null = null) =>
  renderToStaticMarkup(
    <Router ssrPath={`/workshops/${state.room.id}`}>
      <ConsoleView
        state={state}
        status={error === null ? 'live' : 'lost'}
        error={error}
        serverNow={serverNow}
        origin="https://pawl.example"
      />
    </Router>,
  )
const panel = (state: RoomState, table: TableState) =>
  renderToStaticMarkup(
    <Router ssrPath="/workshops/w">
      <ConsoleContext value={{ state, act: async () => true, busy: false, serverNow }}>
        <TablePanel table={table} />
      </ConsoleContext>
    </Router>,
  )
const textOf = (html: string) => html.replace(/<[^>]+>/g, ' ').replace(/\s+/g, ' ')
const buttons = (html: string) =>
  [...html.matchAll(/<button[^>]*>(.*?)<\/button>/g)].map((m) => textOf(m[1]!).trim())

const planning = (room: Partial<RoomView> = {}): RoomState => {
  const state = sampleRoom({ moment: 'predict', round: 3, ...room }, { as: 'lead' }, 2)
  return {
    ...state,
    tables: state.tables.map((t) => ({
      ...t,
      rounds: [
        ...t.rounds,
        t.place === 2
          ? { ...openRound(2, 3), stage: 'ready' as const, lockedAt: ROOM_NOW }
          : openRound(t.place, 3),
      ],
    })),
  }
}

describe('the console', () => {
  it('shows code, address and where the workshop leads', () => {
    const html = draw(sampleRoom())
    expect(html).toContain('>K7Q X3M<')
    expect(html).toMatch(/<a href="\/screen\/K7QX3M" target="_blank"/)
    for (const page of ['print', 'keying', 'wrap-up'])
      expect(html).toContain(`/workshops/${sampleRoom().room.id}/${page}"`)
  })

  it('says of each table where it is and how long since it moved', () => {
    const text = textOf(draw(planning()))
    expect(text).toMatch(/Kestrel planning 20 s ago/)
    expect(text).toMatch(/Heron locked 40 s ago/)
  })

  it('points out a table that has been quiet for long, but not one that is done', () => {
    const quiet = { lastMoveAt: secondsBefore(400) }
    const state = planning()
    expect(textOf(draw(withTable(state, 1, (t) => ({ ...t, ...quiet }))))).toContain(
      'quiet for 7 min',
    )
    const done = withTable(sampleRoom(), 1, (t) => ({ ...t, ...quiet }))
    expect(textOf(draw(done))).not.toContain('quiet for')
  })

  it('offers the next step as the one main button, and says who is not ready', () => {
    const html = draw(planning())
    expect(html.match(/class="button main"/g)).toHaveLength(1)
    expect(buttons(html)).toContain('Start round 3 for all in 5 s')
    expect(textOf(html)).toContain('1 of 6 tables has locked.')
  })

  it('can give more time while the time box runs', () => {
    const countdown = {
      kind: 'plan' as const,
      startedAt: secondsBefore(60),
      endsAt: secondsBefore(-95),
    }
    const html = draw(planning({ countdown }))
    expect(textOf(html)).toContain('1:35 left to plan and predict')
    expect(buttons(html)).toEqual(expect.arrayContaining(['+30 s', '+1 min', 'Take it away']))
  })

  it('reads out the talking point, what the room screen shows, and the hints of the kit', () => {
    const text = textOf(draw(sampleRoom({ moment: 'compare', talkingPoint: 1 })))
    expect(text).toContain('Say: Time against quality')
    expect(text).toContain('The room screen shows time against quality.')
    expect(text).toContain('Some tables move the card itself. Let them.')
  })

  it('lists removed tables apart, to bring them back', () => {
    const html = draw(withTable(sampleRoom(), 3, (t) => ({ ...t, removed: true })))
    expect(textOf(html)).toContain('Tables (5)')
    expect(buttons(html)).toContain('Bring Wren back')
  })

  it('says when it is closed, and opens again', () => {
    const html = draw(sampleRoom({ closedAt: ROOM_NOW }))
    expect(textOf(html)).toContain('The workshop is closed')
    expect(buttons(html)).toContain('Open it again')
  })

  it('keeps the class in view when the connection is lost or refused', () => {
    const html = draw(sampleRoom(), new AppError('room.not_yours', 'Not yours.', 'Ask.'))
    expect(textOf(html)).toContain('The connection is lost; it comes back by itself.')
    expect(textOf(html)).toContain('Not yours.')
    expect(textOf(html)).toContain('Kestrel')
  })

  it('has one h1 and a heading for every part', () => {
    const html = draw(planning())
    expect(html.match(/<h1/g)).toHaveLength(1)
    expect([...html.matchAll(/<h2[^>]*>(.*?)<\/h2>/g)].map((m) => m[1])).toEqual([
      'Round 3 of 4: predict',
      'Tables (6)',
      'Say: One change a round',
    ])
  })
})

describe('one table on the console', () => {
  const state = planning()

  it('can be nudged, renamed, gone on without, and removed', () => {
    const html = panel(state, state.tables[0]!)
    expect(html).toMatch(/<label[^>]*>Nudge Kestrel<\/label>/)
    expect(buttons(html)).toEqual(
      expect.arrayContaining([
        'Two minutes left.',
        'Go on without it in round 3',
        'Rename',
        'Remove Timer',
        'Remove Kestrel',
      ]),
    )
  })

  it('is not gone on without once it has locked', () => {
    const html = panel(state, state.tables[1]!)
    expect(buttons(html).some((text) => text.startsWith('Go on without'))).toBe(false)
  })

  it('can be waited for again', () => {
    const html = panel(state, { ...state.tables[0]!, excused: [3] })
    expect(buttons(html)).toContain('Wait for this table again')
  })

  it('lists its trials, of which a void one can count again', () => {
    const table = state.tables[0]!
    const spoiled = {
      ...table,
      rounds: table.rounds.map((r) => ({
        ...r,
        trials: r.trials.map((t) => (r.number === 1 ? { ...t, voidReason: 'Fire alarm' } : t)),
      })),
    }
    const html = panel(state, spoiled)
    expect(textOf(html)).toContain('Round 2: 1:11, 12 of 12 right')
    expect(buttons(html)).toContain('Make round 2 void')
    expect(textOf(html)).toContain('void: Fire alarm')
    expect(buttons(html)).toContain('Let it count again')
  })
})

describe('single keys', () => {
  const press = (over: object) =>
    isFreeKey({
      ctrlKey: false,
      metaKey: false,
      altKey: false,
      repeat: false,
      target: { closest: () => null },
      ...over,
    })

  it('work on the page, and never inside a field, a list or a dialog', () => {
    expect(press({})).toBe(true)
    expect(press({ target: { closest: () => ({}) } })).toBe(false)
  })

  it('leave combinations and held keys alone', () => {
    expect(press({ ctrlKey: true })).toBe(false)
    expect(press({ repeat: true })).toBe(false)
  })
})

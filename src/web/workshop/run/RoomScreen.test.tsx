import { renderToStaticMarkup } from 'react-dom/server'
import { describe, expect, it } from 'vitest'
import {
  openRound,
  ROOM_NOW,
  sampleRoom,
  secondsBefore,
} from '../../../../tests/support/sample-room.ts'
import type { RoomState, RoomView, RoundState } from '../../../domain/workshop/room-state.ts'
import { TALKING_POINTS } from '../../../domain/workshop/talking-points.ts'
import type { FeedStatus } from '../lib/room-feed.ts'
import { RoomScreen } from './RoomScreen.tsx'

const screen = { as: 'screen' } as const
const draw = (state: RoomState, status: FeedStatus = 'live') =>
  renderToStaticMarkup(
    <RoomScreen
      state={state}
      status={status}
      serverNow={() => Date.parse(ROOM_NOW)}
      origin="https://pawl.example"
    />,
  )
const textOf = (html: string) => html.replace(/<[^>]+>/g, ' ').replace(/\s+/g, ' ')
const heading = (html: string) => textOf(/<h1>(.*?)<\/h1>/.exec(html)?.[1] ?? '').trim()

/** Round 3 on top of two that are done, as each table's change of an open round says. */
const inRoundThree = (room: Partial<RoomView>, change: (place: number) => Partial<RoundState>) => {
  const state = sampleRoom({ round: 3, ...room }, screen, 2)
  return {
    ...state,
    tables: state.tables.map((t) => ({
      ...t,
      rounds: [...t.rounds, { ...openRound(t.place, 3), ...change(t.place) }],
    })),
  }
}

describe('the room screen', () => {
  it('shows code, address and tables while the class joins', () => {
    const html = draw(sampleRoom({ moment: 'join', round: 0 }, screen, 0))
    expect(heading(html)).toBe('Join your table')
    expect(html).toContain('>K7Q X3M<')
    expect(textOf(html)).toContain('pawl.example/t')
    expect(html).toMatch(/<svg class="qr" role="img" aria-label="QR code that opens [^"]+K7QX3M"/)
    for (const name of ['Kestrel', 'Swift']) expect(textOf(html)).toContain(name)
  })

  it.each(['join', 'predict', 'running', 'compare', 'debrief', 'wrap-up'] as const)(
    'names no person at the moment "%s"',
    (moment) => {
      const state = sampleRoom({ moment }, screen)
      const named = {
        ...state,
        tables: state.tables.map((t) => ({
          ...t,
          seats: t.seats.map((s) => ({ ...s, name: 'Zebedee' })),
        })),
      }
      expect(draw(named)).not.toContain('Zebedee')
    },
  )

  it('says who has locked, and shows no value before all have', () => {
    const state = inRoundThree({ moment: 'predict' }, (place) =>
      place <= 2 ? { stage: 'ready', lockedAt: ROOM_NOW, withheld: true } : {},
    )
    const html = draw(state)
    expect(textOf(html)).toContain('2 of 6 have locked.')
    expect(html).not.toContain('data-role="bracket"')
    expect(html.match(/data-stage="ready"/g)).toHaveLength(2)
  })

  it('waits for no table that is excused', () => {
    const state = inRoundThree({ moment: 'predict' }, (place) =>
      place < 6 ? { stage: 'ready', lockedAt: ROOM_NOW } : {},
    )
    const excused = {
      ...state,
      tables: state.tables.map((t) => (t.place === 6 ? { ...t, excused: [3] } : t)),
    }
    expect(heading(draw(state))).toBe('Round 3: plan and predict')
    expect(heading(draw(excused))).toBe('Round 3: all have locked')
  })

  it('shows the predicted ranges once all have locked', () => {
    const state = inRoundThree({ moment: 'predict' }, () => ({
      stage: 'ready',
      lockedAt: ROOM_NOW,
      predictions: {
        time: { low: 40, expected: 50, high: 60 },
        quality: null,
        confidence: 0.8,
        why: '',
      },
    }))
    const html = draw(state)
    expect(heading(html)).toBe('Round 3: all have locked')
    expect(html.match(/<g[^>]*data-role="bracket"/g)?.length).toBeGreaterThan(0)
  })

  it('counts down for all by the server clock', () => {
    const countdown = (seconds: number) => ({
      kind: 'start' as const,
      startedAt: secondsBefore(10),
      endsAt: secondsBefore(-seconds),
    })
    const at = (seconds: number) =>
      draw(inRoundThree({ moment: 'running', countdown: countdown(seconds) }, () => ({})))
    expect(heading(at(4))).toBe('Round 3 starts in')
    expect(at(4)).toMatch(/role="timer">4</)
    expect(heading(at(-42))).toBe('Round 3: running')
    expect(textOf(at(-42))).toContain('0:42')
  })

  it('says who is running and who has stopped', () => {
    const state = inRoundThree({ moment: 'running' }, (place) =>
      place === 1 ? { stage: 'inspect', seconds: 41.3 } : { stage: 'running' },
    )
    const text = textOf(draw(state))
    expect(text).toContain('5 running, 1 stopped.')
    expect(text).toContain('stopped 0:41.3')
  })

  it('compares all tables, and turns its pictures with the talking points', () => {
    const titles = TALKING_POINTS.compare.map((_, talkingPoint) =>
      heading(draw(sampleRoom({ moment: 'compare', talkingPoint }, screen))),
    )
    expect(titles).toEqual([
      'Round 3: times and predictions',
      'Round 3: time against quality',
      'Round 3: how far off we were',
      'Round 3: the spread between tables',
      'Round 3: the curve of the class',
    ])
    expect(heading(draw(sampleRoom({ moment: 'compare', talkingPoint: 5 }, screen)))).toBe(
      titles[0],
    )
  })

  it('describes its picture in words', () => {
    expect(draw(sampleRoom({}, screen))).toMatch(
      /<svg role="img" aria-label="Times of 6 tables up to round 3\. Kestrel: round 1 1:36/,
    )
  })

  it('says why there is no curve with two rounds', () => {
    const state = sampleRoom({ moment: 'compare', talkingPoint: 4 }, screen, 2)
    expect(textOf(draw(state))).toContain(
      'No curve yet: it takes three timed rounds of a table. Two so far.',
    )
  })

  it('puts a question over the picture in the debrief', () => {
    expect(heading(draw(sampleRoom({ moment: 'debrief' }, screen)))).toBe(
      'What surprised you in this round?',
    )
  })

  it('keeps the last picture when the connection is lost, and says so in one line', () => {
    const html = draw(sampleRoom({}, screen), 'lost')
    expect(heading(html)).toBe('Round 3: times and predictions')
    expect(html).toMatch(/role="status">The connection is lost\./)
    expect(draw(sampleRoom({}, screen))).toMatch(/role="status"><\/p>/)
  })

  it('ends when the workshop closes', () => {
    expect(heading(draw(sampleRoom({ closedAt: ROOM_NOW }, screen)))).toBe(
      'This workshop is closed',
    )
  })
})

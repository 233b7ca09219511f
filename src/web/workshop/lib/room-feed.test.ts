import { describe, expect, it } from 'vitest'
import { ROOM_NOW, sampleRoom, secondsBefore } from '../../../../tests/support/sample-room.ts'
import type { RoomChange, RoomState } from '../../../domain/workshop/room-state.ts'
import { AppError } from '../../../errors.ts'
import { createRoomFeed, type Source } from './room-feed.ts'

interface FakeSource extends Source {
  readyState: number
  readonly url: string
  readonly say: (kind: string, data?: unknown) => void
}

/** A server and a clock that do as the test says. */
function setUp(answers: (RoomState | Error)[] = []) {
  const sources: FakeSource[] = []
  const waits: { work: () => void; ms: number }[] = []
  let awake = () => {}
  let steady = 1000
  const feed = createRoomFeed('01J0000000000000000000W001', {
    open: (url) => {
      const heard: { kind: string; work: (event: { data?: string }) => void }[] = []
      const made: FakeSource = {
        url,
        readyState: 0,
        close() {
          made.readyState = 2
        },
        addEventListener: (kind, work) => heard.push({ kind, work }),
        say: (kind, data) => {
          for (const listener of heard)
            if (listener.kind === kind)
              listener.work(data === undefined ? {} : { data: JSON.stringify(data) })
        },
      }
      sources.push(made)
      return made
    },
    read: async () => {
      const answer = answers.shift() ?? new AppError('client.offline', 'The server is away.', '')
      if (answer instanceof Error) throw answer
      return answer
    },
    steady: () => steady,
    later: (work, ms) => waits.push({ work, ms }),
    forget: () => {},
    onAwake: (woken) => {
      awake = woken
      return () => {
        awake = () => {}
      }
    },
  })
  feed.start()
  return {
    feed,
    sources,
    waits,
    awake: () => awake(),
    pass: (ms: number) => {
      steady += ms
    },
  }
}
const settled = () => new Promise((resolve) => setTimeout(resolve))
const change = (seq: number): RoomChange => ({
  seq,
  now: ROOM_NOW,
  room: { ...sampleRoom().room, moment: 'debrief' },
  tables: [],
})

describe('the feed of a room', () => {
  it('shows the state, then each change on top of it', () => {
    const { feed, sources } = setUp()
    expect(feed.store.get()).toMatchObject({ state: null, status: 'connecting' })
    sources[0]!.say('state', sampleRoom())
    expect(feed.store.get()).toMatchObject({ status: 'live', state: { seq: 40 } })
    sources[0]!.say('change', change(41))
    const { state } = feed.store.get()
    expect(state?.seq).toBe(41)
    expect(state?.room.moment).toBe('debrief')
    expect(state?.tables).toHaveLength(6)
  })

  it('does a change once, however often it arrives', () => {
    const { feed, sources } = setUp()
    sources[0]!.say('state', sampleRoom())
    sources[0]!.say('change', change(41))
    const first = feed.store.get().state
    sources[0]!.say('change', change(41))
    expect(feed.store.get().state).toBe(first)
  })

  it('keeps the picture while the connection is lost, and leaves the retry to the browser', () => {
    const { feed, sources, waits } = setUp()
    sources[0]!.say('state', sampleRoom())
    sources[0]!.say('error')
    expect(feed.store.get()).toMatchObject({ status: 'lost', state: { seq: 40 } })
    expect(waits).toHaveLength(0)
    sources[0]!.say('open')
    expect(feed.store.get().status).toBe('live')
  })

  it('opens the feed again after a refusal, from the last change it has', async () => {
    const { feed, sources, waits } = setUp()
    sources[0]!.say('state', sampleRoom())
    sources[0]!.readyState = 2
    sources[0]!.say('error')
    await settled()
    expect(waits.map(({ ms }) => ms)).toEqual([500])
    waits[0]!.work()
    expect(sources[1]?.url).toBe('/api/rooms/01J0000000000000000000W001/feed?after=40')
    expect(feed.store.get().error).toBeNull()
  })

  it('waits longer each time, and never gives up', async () => {
    const { sources, waits } = setUp()
    for (let i = 0; i < 9; i++) {
      sources.at(-1)!.readyState = 2
      sources.at(-1)!.say('error')
      await settled()
      waits.at(-1)!.work()
    }
    expect(waits.map(({ ms }) => ms)).toEqual([500, 1000, 2000, 4000, 8000, 8000, 8000, 8000, 8000])
  })

  it('stays fresh by reading where only the feed does not get through', async () => {
    const { feed, sources } = setUp([{ ...sampleRoom(), seq: 55 }])
    sources[0]!.readyState = 2
    sources[0]!.say('error')
    await settled()
    expect(feed.store.get().state?.seq).toBe(55)
  })

  it('drops an answer that the feed has overtaken', async () => {
    const { feed, sources } = setUp([sampleRoom()])
    sources[0]!.say('state', sampleRoom())
    sources[0]!.readyState = 2
    sources[0]!.say('error')
    sources[0]!.say('change', change(41))
    await settled()
    expect(feed.store.get().state).toMatchObject({ seq: 41, room: { moment: 'debrief' } })
  })

  it('says why the room is refused', async () => {
    const gone = new AppError('room.not_here', 'This seat was removed.', 'Join again.')
    const { feed, sources } = setUp([gone])
    sources[0]!.readyState = 2
    sources[0]!.say('error')
    await settled()
    expect(feed.store.get().error).toBe(gone)
  })

  it('connects anew when the device wakes, and hears nothing of the old connection', () => {
    const { feed, sources, awake } = setUp()
    sources[0]!.say('state', sampleRoom())
    awake()
    expect(sources).toHaveLength(2)
    expect(sources[0]!.readyState).toBe(2)
    sources[0]!.say('change', change(99))
    expect(feed.store.get().state?.seq).toBe(40)
  })

  it('goes quiet when stopped, and can start again', () => {
    const { feed, sources, awake } = setUp()
    feed.stop()
    awake()
    expect(sources).toHaveLength(1)
    feed.start()
    expect(sources).toHaveLength(2)
  })

  it('knows the server clock whatever the device clock says, by the message that was least late', () => {
    const { feed, sources, pass } = setUp()
    sources[0]!.say('state', sampleRoom())
    pass(5000)
    expect(feed.clock.now()).toBe(Date.parse(ROOM_NOW) + 5000)
    // This one took two seconds on its way, so it says less than is known.
    sources[0]!.say('change', { ...change(41), now: secondsBefore(-3) })
    expect(feed.clock.now()).toBe(Date.parse(ROOM_NOW) + 5000)
    sources[0]!.say('change', { ...change(42), now: secondsBefore(-6) })
    expect(feed.clock.now()).toBe(Date.parse(ROOM_NOW) + 6000)
  })
})

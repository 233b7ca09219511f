import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { RoomState, RoundState } from '../../src/domain/workshop/room-state.ts'
import { complaintsOf, expectAccessible, launchBrowser } from '../support/browser.ts'
import { testFolder } from '../support/side-by-side.ts'
import {
  buildTablePage,
  newPhone,
  type OpenRoom,
  startTableServer,
  type TableServer,
} from '../support/table-server.ts'
import {
  debrief,
  heading,
  inspect,
  joinTable,
  planRound,
  start,
  stop,
} from '../support/table-steps.ts'

// One table plays on a phone-sized page in a real browser, against the real server: with a clock
// that is wrong, through a reload while the clock runs, and a whole round out of reach.

const MINUTES = 60_000
let browser: Browser
let server: TableServer

beforeAll(async () => {
  const webDir = await buildTablePage()
  server = await startTableServer({ dataDir: testFolder() }, webDir)
  browser = await launchBrowser()
})
afterAll(async () => {
  await browser?.close()
  await server?.stop()
})

const roundsOf = (state: RoomState, table: string): readonly RoundState[] =>
  state.tables.find(({ name }) => name === table)!.rounds
const recorded = (room: OpenRoom, table: string, number: number) => async () =>
  roundsOf(await room.state(), table).find((round) => round.number === number)

describe.each([
  ['right', 0],
  ['10 minutes fast', 10 * MINUTES],
  ['10 minutes slow', -10 * MINUTES],
])('a phone whose clock is %s', (_which, clockOff) => {
  it('times a round through a reload, and the next one out of reach', async () => {
    const room = await server.openRoom()
    const { context, page } = await newPhone(browser, { clockOff })
    const complaints = complaintsOf(page)
    const look = (where: string) => (clockOff === 0 ? expectAccessible(page, where) : null)
    await joinTable(page, server.address, room.code, 'Kestrel')

    await planRound(page, { strategy: 'Two hands, one tray' })
    await expect.poll(async () => (await recorded(room, 'Kestrel', 1)())?.stage).toBe('ready')
    await look('ready')
    await start(page)
    const began = performance.now()
    await page.waitForTimeout(1200)
    await look('running')
    await page.reload()
    await heading(page, 'The clock runs').waitFor()
    await page.waitForTimeout(800)
    await stop(page)
    const took = (performance.now() - began) / 1000
    await inspect(page, [true, false, true, true, true, true])
    await heading(page, 'What happened?').waitFor()
    await look('debrief')
    await expect.poll(async () => (await recorded(room, 'Kestrel', 1)())?.right).toBe(5)
    const first = await recorded(room, 'Kestrel', 1)()
    const [reading] = first!.trials[0]!.readings
    expect(reading).toMatchObject({ how: 'device-clock' })
    expect(reading!.note).toContain('reloaded')
    expect(Math.abs(reading!.seconds - took)).toBeLessThan(1)
    expect(first!.predictions!.time).toEqual({ low: 38, expected: 45, high: 55 })
    await debrief(page, 'Adapt', 'The card in the middle')
    await heading(page, 'How will you do it?').waitFor()
    await expect.poll(async () => (await recorded(room, 'Kestrel', 1)())?.stage).toBe('done')

    await context.setOffline(true)
    expect(await page.getByRole('textbox', { name: 'Your strategy' }).inputValue()).toBe(
      'Two hands, one tray\n\nThe card in the middle',
    )
    await planRound(page, {})
    await page.getByText(/Kept on this phone; \d+ things? to send/).waitFor()
    await start(page)
    await page.waitForTimeout(1500)
    await stop(page)
    await inspect(page, Array(6).fill(true))
    await debrief(page, 'Adopt')
    await planRound(page, { strategy: 'The same, without a word' })
    await page.reload()
    await heading(page, 'Your prediction is locked').waitFor()
    expect(roundsOf(await room.state(), 'Kestrel').at(-1)!.stage).toBe('plan')

    await context.setOffline(false)
    await expect.poll(async () => (await recorded(room, 'Kestrel', 3)())?.stage).toBe('ready')
    await page.getByText(/to send/).waitFor({ state: 'hidden' })
    const second = await recorded(room, 'Kestrel', 2)()
    expect(second).toMatchObject({ stage: 'done', right: 6, decision: { kind: 'adopt' } })
    expect(second!.trials).toHaveLength(1)
    expect(second!.trials[0]!.readings).toHaveLength(1)
    expect(second!.trials[0]!.readings[0]).toMatchObject({ how: 'steady-clock', note: '' })
    expect(second!.seconds).toBeGreaterThan(1.4)
    expect(second!.seconds).toBeLessThan(4)
    // In the order in which it happened, by the server's clock.
    const state = await room.state()
    expect(second!.lockedAt! < second!.trials[0]!.startedAt).toBe(true)
    expect(Math.abs(Date.parse(second!.lockedAt!) - Date.parse(state.now))).toBeLessThan(
      2 * MINUTES,
    )
    expect(
      complaints.filter((text) => !/ERR_INTERNET_DISCONNECTED|Failed to load/.test(text)),
    ).toEqual([])
    await context.close()
  })
})

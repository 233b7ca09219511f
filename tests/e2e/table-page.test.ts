import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest'
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
  eventually,
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
vi.setConfig({ testTimeout: 300_000 })

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
/** In the page: whatever is wider than the screen, or a control of less than 44 px. */
function tooWideOrSmall(): string[] {
  const wide = document.documentElement.scrollWidth > innerWidth ? ['wider than the screen'] : []
  const controls = document.querySelectorAll('button, summary, textarea, label:has(input), input')
  const small = [...controls].filter((control) => {
    if (control.matches('label input')) return false
    const { width, height } = control.getBoundingClientRect()
    return width > 0 && (height < 44 || width < 44)
  })
  return [...wide, ...small.map(({ outerHTML }) => outerHTML.slice(0, 100))]
}
const recorded = (room: OpenRoom, table: string, number: number) => async () =>
  roundsOf(await room.state(), table).find((round) => round.number === number)

describe.each([
  ['right', 0],
  ['10 minutes fast', 10 * MINUTES],
  ['10 minutes slow', -10 * MINUTES],
])('a phone whose clock is %s', (_which, clockOff) => {
  it('times a round through a reload, and the next one out of reach', async () => {
    const room = await server.openRoom()
    // The narrowest phone there is, for the one whose clock is right.
    const size = clockOff === 0 ? { width: 320, height: 568 } : {}
    const { context, page } = await newPhone(browser, { clockOff, ...size })
    const complaints = complaintsOf(page)
    const look = async (where: string) => {
      if (clockOff !== 0) return
      await expectAccessible(page, where)
      // Nothing sticks out sideways, and what has to be pressed is large enough for a thumb.
      expect(await page.evaluate(tooWideOrSmall), where).toEqual([])
    }
    await joinTable(page, server.address, room.code, 'Kestrel', look)

    await planRound(page, { strategy: 'Two hands, one tray' }, look)
    await eventually(async () => (await recorded(room, 'Kestrel', 1)())?.stage).toBe('ready')
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
    await inspect(page, [true, false, true, true, true, true], look)
    await eventually(async () => (await recorded(room, 'Kestrel', 1)())?.right).toBe(5)
    const first = await recorded(room, 'Kestrel', 1)()
    const [reading] = first!.trials[0]!.readings
    expect(reading).toMatchObject({ how: 'device-clock' })
    expect(reading!.note).toContain('reloaded')
    expect(Math.abs(reading!.seconds - took)).toBeLessThan(1)
    expect(first!.predictions!.time).toEqual({ low: 38, expected: 45, high: 55 })
    await debrief(page, 'Adapt', 'The card in the middle', look)
    await heading(page, 'How will you do it?').waitFor()
    await eventually(async () => (await recorded(room, 'Kestrel', 1)())?.stage).toBe('done')

    await context.setOffline(true)
    // The browser's pretended loss of the network has a gap while a page reloads; this has none.
    await context.route('**/api/**', (route) => route.abort('internetdisconnected'))
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

    await context.unroute('**/api/**')
    await context.setOffline(false)
    await eventually(async () => (await recorded(room, 'Kestrel', 3)())?.stage).toBe('ready')
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

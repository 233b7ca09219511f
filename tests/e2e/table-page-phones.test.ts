import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest'
import type { RoundState } from '../../src/domain/workshop/room-state.ts'
import { expectAccessible, launchBrowser } from '../support/browser.ts'
import { testFolder } from '../support/side-by-side.ts'
import {
  buildTablePage,
  newPhone,
  type OpenRoom,
  startTableServer,
  type TableServer,
} from '../support/table-server.ts'
import {
  eventually,
  heading,
  inspect,
  joinTable,
  planRound,
  start,
  stop,
} from '../support/table-steps.ts'

// Several phones of one table, and what goes wrong between a phone and its server.

vi.setConfig({ testTimeout: 300_000 })

let browser: Browser
let server: TableServer

beforeAll(async () => {
  server = await startTableServer({ dataDir: testFolder() }, await buildTablePage())
  browser = await launchBrowser()
})
afterAll(async () => {
  await browser?.close()
  await server?.stop()
})

const button = (page: Page, name: string | RegExp) => page.getByRole('button', { name })
async function roundOf(room: OpenRoom, number = 1): Promise<RoundState> {
  const { tables } = await room.state()
  return tables[0]!.rounds.find((round) => round.number === number)!
}

/** A second phone at the table Kestrel, for these parts only. */
async function joinAs(page: Page, room: OpenRoom, name: string, ...parts: RegExp[]) {
  await page.goto(`${server.address}/t/${room.code}`)
  await page.getByRole('radio', { name: /Kestrel/ }).check()
  const { joinNumber } = (await room.state()).tables[0]!
  await page.getByRole('textbox', { name: /^Number of the table/ }).fill(String(joinNumber))
  await page.getByRole('textbox', { name: /^First name/ }).fill(name)
  await button(page, 'Join').click()
  await heading(page, 'What does this phone do?').waitFor()
  for (const part of parts) await page.getByRole('checkbox', { name: part }).check()
  await button(page, 'That is it').click()
}

describe('two phones at one table', () => {
  it('start together at the end of the countdown, disagree, and say which time to keep', async () => {
    const room = await server.openRoom({ pace: 'together', timersAgreeWithin: 1 })
    const one = await newPhone(browser, { clockOff: 600_000 })
    const two = await newPhone(browser, { clockOff: -600_000, width: 320, height: 568 })
    await joinTable(one.page, server.address, room.code, 'Kestrel')
    await heading(one.page, 'Round 1 opens soon').waitFor()
    await joinAs(two.page, room, 'Second timer', /Times/, /Inspects/)
    await room.lead({ kind: 'round', round: 1 })
    await heading(two.page, 'The plan is being written').waitFor()
    await planRound(one.page, { strategy: 'One reads, one lays' })
    await heading(two.page, 'Your prediction is locked').waitFor()

    await room.lead({ kind: 'countdown', of: 'start', seconds: 3 })
    await heading(one.page, 'The clock runs').waitFor()
    await heading(two.page, 'The clock runs').waitFor()
    await button(two.page, /^Stop$/).waitFor()
    await one.page.waitForTimeout(1500)
    await stop(one.page)
    await two.page.waitForTimeout(3000)
    await stop(two.page)
    await heading(one.page, 'The timers do not agree').waitFor()
    await heading(two.page, 'The timers do not agree').waitFor()
    await expectAccessible(two.page, 'two times')
    const before = (await roundOf(room)).trials
    expect(before).toHaveLength(1)
    expect(before[0]).toMatchObject({ unsettled: true, seconds: null })
    const [quick] = before[0]!.readings.toSorted((a, b) => a.seconds - b.seconds)

    await two.page.getByRole('radio').first().check()
    await two.page.getByRole('textbox', { name: 'Why this one?' }).fill('I looked away')
    const kept = before[0]!.readings[0]!.seconds
    await button(two.page, 'Keep this time').click()
    await eventually(async () => (await roundOf(room)).seconds).toBe(kept)
    expect(quick!.seconds).toBeGreaterThan(1)
    expect(quick!.seconds).toBeLessThan(before[0]!.readings[1]!.seconds + 10)

    // Both inspect apart: an item is right where both say so.
    await inspect(one.page, [true, true, true, true, true, true])
    await inspect(two.page, [false, true, true, true, true, true])
    await eventually(async () => (await roundOf(room)).right).toBe(5)
    expect((await roundOf(room)).trials[0]!.inspections).toHaveLength(2)
    await one.context.close()
    await two.context.close()
  })
})

describe('two phones that are both out of reach', () => {
  it('time and inspect one trial, each by itself, and lose nothing when they are back', async () => {
    const room = await server.openRoom({ timersAgreeWithin: 60 })
    const one = await newPhone(browser)
    const two = await newPhone(browser, { width: 320, height: 568 })
    await joinTable(one.page, server.address, room.code, 'Kestrel')
    await joinAs(two.page, room, 'Second', /Times/, /Inspects/)
    await planRound(one.page, { strategy: 'Two hands' })
    await heading(two.page, 'Your prediction is locked').waitFor()
    await server.stop()
    await Promise.all([start(one.page), start(two.page)])
    await stop(one.page)
    await stop(two.page)
    await inspect(one.page, [true, true, true, true, true, true])
    // The second is in the middle of the checklist when the connection comes back.
    await button(two.page, 'Not right').click()
    await server.again()
    await eventually(async () => (await roundOf(room)).trials[0]?.readings.length).toBe(2)
    await eventually(() => two.page.getByText(/to send/).count()).toBe(0)
    for (let item = 1; item < 6; item++) {
      await heading(two.page, new RegExp(`Thing ${item + 1}`)).waitFor()
      await button(two.page, /^Right$/).click()
    }
    await button(two.page, 'That is the inspection').click()
    await eventually(async () => (await roundOf(room)).trials[0]?.inspections.length).toBe(2)
    expect((await roundOf(room)).trials).toHaveLength(1)
    expect((await roundOf(room)).right).toBe(5)
    expect(await two.page.getByText('Not taken.').count()).toBe(0)
    await one.context.close()
    await two.context.close()
  })
})

describe('a table that runs its round', () => {
  it('asks about what may point at a patient before anything can start', async () => {
    const room = await server.openRoom()
    const { page, context } = await newPhone(browser)
    await joinTable(page, server.address, room.code, 'Kestrel')
    await button(page, 'Next: your strategy').click()
    const words = 'As for NHS 943 476 5919'
    const planned = planRound(page, { strategy: words })
    await heading(page, 'Does this point at a patient?').waitFor()
    await expectAccessible(page, 'the question about a patient')
    expect((await room.state()).tables[0]!.rounds[0]?.strategy ?? '').not.toContain('943')
    await button(page, 'It points at nobody: go on').click()
    await planned
    await eventually(async () => (await roundOf(room)).strategy).toBe(words)
    await context.close()
  })

  it('voids a trial with its reason, takes that back, and times once for two pages', async () => {
    const room = await server.openRoom()
    const { page, context } = await newPhone(browser)
    await joinTable(page, server.address, room.code, 'Kestrel')
    await planRound(page, { strategy: 'Two hands' })
    await start(page)
    const second = await context.newPage()
    await second.goto(`${server.address}/t/${room.code}`)
    await heading(second, 'The clock runs').waitFor()
    await button(second, /^Stop$/).waitFor()
    await page.bringToFront()
    await stop(page)
    await heading(second, /Thing 1/).waitFor()
    await eventually(async () => (await roundOf(room)).trials[0]?.readings.length).toBe(1)
    await second.close()

    await inspect(page, [true, true, true, true, true, true])
    await button(page, 'Void this trial').click()
    await page.getByRole('textbox', { name: 'Why does it not count?' }).fill('The tray fell')
    await button(page, 'Void it').click()
    await page.getByText('Trial 1 is void: The tray fell').waitFor()
    await eventually(async () => (await roundOf(room)).stage).toBe('ready')
    await button(page, 'Take it back').click()
    await heading(page, 'What happened?').waitFor()
    await eventually(async () => (await roundOf(room)).stage).toBe('debrief')
    expect((await roundOf(room)).trials).toHaveLength(1)
    await context.close()
  })

  it('goes on while the server is away, and loses nothing', async () => {
    const room = await server.openRoom()
    const { page, context } = await newPhone(browser)
    await joinTable(page, server.address, room.code, 'Kestrel')
    await planRound(page, { strategy: 'Two hands' })
    await start(page)
    await eventually(async () => (await roundOf(room)).stage).toBe('running')
    await server.stop()
    await page.waitForTimeout(1000)
    await stop(page)
    await inspect(page, [true, true, true, true, true, true])
    await page.getByText('Kept on this phone; 2 things to send.').waitFor()
    await server.again()
    await eventually(async () => (await roundOf(room)).stage).toBe('debrief')
    expect((await roundOf(room)).trials[0]!.readings).toHaveLength(1)
    await context.close()
  })
})

describe('a phone in the hand of one person', () => {
  it('tries a task out with one number a prediction, and does everything', async () => {
    const room = await server.openRoom({ tryOut: true, predicts: 'single' })
    const { page, context } = await newPhone(browser)
    await page.goto(`${server.address}/t/${room.code}`)
    await page.getByRole('textbox', { name: 'Name of the table' }).fill('Alone')
    await button(page, 'Join').click()
    await button(page, 'Next: your strategy').click()
    await page.getByRole('textbox', { name: 'Your strategy' }).fill('Slowly')
    await button(page, 'Next: predict the time').click()
    await page.getByRole('textbox', { name: 'Most likely' }).fill('102')
    await button(page, 'Next: predict quality').click()
    // A stopwatch at 1:02 is called out as 102: asked about, and changed only by the answer.
    await heading(page, 'What is 102?').waitFor()
    await expectAccessible(page, 'an unclear number')
    await button(page, '1:02, that is 62 seconds').click()
    await heading(page, 'How many items will be right?').waitFor()
    await page.getByRole('textbox', { name: 'Most likely' }).fill('6')
    await button(page, 'Next: lock it').click()
    await button(page, 'Lock it').click()
    await page.getByText('Say in a few words why you expect this.').waitFor()
    await page.getByRole('textbox', { name: 'Why do you expect this?' }).fill('First try')
    await button(page, 'Lock it').click()
    await heading(page, 'Your prediction is locked').waitFor()
    await eventually(async () => (await roundOf(room))?.predictions?.time).toEqual({
      ...{ low: 62, expected: 62, high: 62 },
    })
    await button(page, 'Count down from 3, then start').click()
    await heading(page, 'The clock runs').waitFor()
    await context.close()
  })

  it('is asked how long it took where the clock went back while the page was gone', async () => {
    const room = await server.openRoom()
    const { page, context } = await newPhone(browser)
    await context.addInitScript(() => {
      const now = Date.now.bind(Date)
      // Read once: the page that is still open must not see its clock being set.
      const off = Number(localStorage.getItem('test.off') ?? 0)
      Date.now = () => now() + off
    })
    await joinTable(page, server.address, room.code, 'Kestrel')
    await planRound(page, { strategy: 'Two hands' })
    await page.evaluate(() => navigator.serviceWorker.ready.then(() => true))
    await start(page)
    await eventually(async () => (await roundOf(room)).stage).toBe('running')
    await page.waitForTimeout(1500)
    await context.setOffline(true)
    await page.evaluate(() => localStorage.setItem('test.off', '-120000'))
    await page.reload()
    await heading(page, 'The clock runs').waitFor()
    await stop(page)
    await heading(page, 'How long did it take?').waitFor()
    await expectAccessible(page, 'a time in doubt')
    await page.getByRole('textbox', { name: 'Or the time' }).fill('62 s')
    await button(page, 'Take this time').click()
    await heading(page, /Thing 1/).waitFor()
    await context.setOffline(false)
    await eventually(async () => (await roundOf(room)).trials[0]!.readings[0]).toMatchObject({
      ...{ seconds: 62, how: 'typed' },
    })
    await context.close()
  })
})

describe('a phone that has lost its seat', () => {
  it('takes it again by itself when the browser has lost its cookie, and sends what it kept', async () => {
    const room = await server.openRoom()
    const { page, context } = await newPhone(browser)
    await joinTable(page, server.address, room.code, 'Kestrel')
    await button(page, 'Next: your strategy').click()
    await context.clearCookies()
    await planRound(page, { strategy: 'Two hands' })
    await eventually(async () => (await roundOf(room))?.stage).toBe('ready')
    expect((await room.state()).tables).toHaveLength(1)
    await context.close()
  })

  it('says so plainly when the facilitator has removed it, and when the room is closed', async () => {
    const room = await server.openRoom()
    const { page, context } = await newPhone(browser)
    await joinTable(page, server.address, room.code, 'Kestrel')
    await heading(page, 'This is the task').waitFor()
    await eventually(async () => (await room.state()).tables[0]!.seats[0]?.roles.length).toBe(4)
    const seatId = (await room.state()).tables[0]!.seats[0]!.id
    await room.lead({ kind: 'remove-seat', seatId })
    await heading(page, 'This phone is not at the table any more').waitFor()
    await expectAccessible(page, 'a removed phone')
    // The phone asks by itself too, and could be back before the button is pressed.
    const asking = /\/api\/rooms\/\w{26}(?:\/feed)?(?:\?.*)?$/
    await page.route(asking, (route) => route.abort())
    await room.lead({ kind: 'restore-seat', seatId })
    await button(page, 'Try again').click()
    await heading(page, 'This is the task').waitFor()
    await page.unroute(asking)
    await room.lead({ kind: 'nudge', toTableId: null, text: 'Two minutes left' })
    await page.getByText('Two minutes left').waitFor()
    await room.lead({ kind: 'close' })
    await heading(page, 'Thank you').waitFor()
    await expectAccessible(page, 'a closed room')
    await context.close()
  })
})

import { rmSync } from 'node:fs'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, vi } from 'vitest'
import { trayFromACard } from '../../src/domain/workshop/kits/tray-from-a-card.ts'
import type { RoomState } from '../../src/domain/workshop/room-state.ts'
import { complaintsOf, expectAccessible, launchBrowser } from '../support/browser.ts'
import { networkBrowser } from '../support/network-browser.ts'
import { SAMPLE_SETTINGS } from '../support/sample-room.ts'
import { type ServerProcess, startServer } from '../support/server-process.ts'
import { testFolder } from '../support/side-by-side.ts'
import { story } from '../support/story.ts'

// A facilitator enters a table's whole paper sheet by keyboard alone, in under a minute.

vi.setConfig({ testTimeout: 120_000 })

const ROOM = '01J00000000000000000KEY001'
const UNIT = '01J00000000000000000KEY002'
const OWNER = { name: 'Ines Okonjo', email: 'ines@example.org', password: 'a long enough phrase' }

/** Keys a practised typist presses in a second; about 60 words a minute. From memory. */
const KEYS_PER_SECOND = 5
/** A whole sheet in under a minute. */
const MOST_KEYS = 60 * KEYS_PER_SECOND

/** Four rounds as tables write them on paper, cell by cell; what is carried over is only accepted. */
const SHEET: readonly (readonly string[])[] = [
  [
    'All dig in',
    '50 70 90',
    '8 10 12',
    '96',
    '11 5',
    'Box is a mess',
    'd',
    'Too slow',
    'Sort box first',
  ],
  ['', '60 75 90', '', '71 72', '12', 'Sorting helps', 'd', 'Held', 'One reads card'],
  ['', '45 55 65', '', '58', '11 ?', 'Reader waits', 'd', 'Held', 'Two lay out'],
  ['', '38 46 55', '', '44', '12', 'Less waiting', 'a', 'Fast and right'],
]

describe('keying a paper sheet', () => {
  const step = story()
  const folder = testFolder()
  let server: ServerProcess
  let browser: Browser
  let page: Page
  let complaints: string[]
  let send: Awaited<ReturnType<typeof networkBrowser>>['send']

  beforeAll(async () => {
    server = await startServer({ dataDir: folder }, 'built')
    ;({ send } = await networkBrowser(server.address))
    expect(await send('POST', '/api/owner', OWNER)).toMatchObject({ status: 200 })
    await send('POST', '/api/units', { id: UNIT, name: 'Workshops', parentId: null })
    const opened = await send('POST', '/api/rooms', {
      id: ROOM,
      name: 'Induction day',
      unitId: UNIT,
      kit: trayFromACard,
      settings: SAMPLE_SETTINGS,
    })
    expect(opened.reply).toMatchObject({ room: { id: ROOM } })
    browser = await launchBrowser()
    page = await browser.newPage({ viewport: { width: 1280, height: 900 }, locale: 'en-GB' })
    page.setDefaultTimeout(30_000)
    complaints = complaintsOf(page)
    await page.goto(`${server.address}/workshops/${ROOM}/keying`)
    await page.getByLabel('E-mail').fill(OWNER.email)
    await page.getByLabel('Password', { exact: true }).fill(OWNER.password)
    await page.getByRole('button', { name: 'Sign in' }).click()
    await page.getByLabel('Table').waitFor()
    await page.evaluate(() => {
      const counted = window as unknown as { keys: number }
      counted.keys = 0
      addEventListener('keydown', () => counted.keys++, true)
    })
  }, 60_000)
  afterAll(async () => {
    await browser?.close()
    await server?.stop()
    rmSync(folder, { recursive: true, force: true })
  })

  const room = async () => (await send('GET', `/api/rooms/${ROOM}`)).reply as unknown as RoomState
  const table = async (name: string) => (await room()).tables.find((t) => t.name === name)
  const enter = () => page.keyboard.press('Enter')
  const keys = () => page.evaluate(() => (window as unknown as { keys: number }).keys)
  const cell = (name: string) => page.locator(`input[name="${name}"]`)

  step('begins in the name of the table', async () => {
    expect(await page.getByLabel('Table').evaluate((el) => el === document.activeElement)).toBe(
      true,
    )
    await expectAccessible(page, 'keying, no table')
  })

  step('takes four rounds of a new table in under a minute of typing', async () => {
    await page.keyboard.type('Kestrel')
    await enter()
    await cell('1:strategy').waitFor()
    for (const [i, cells] of SHEET.entries()) {
      for (const text of cells) {
        // One key decides, and goes on by itself.
        await page.keyboard.type(text)
        if (!/^[adx]$/.test(text)) await enter()
        // The browser's two frames in which a cell comes or takes over the round before.
        await page.evaluate(
          () => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))),
        )
      }
      if (i === 0) await expectAccessible(page, 'keying, in the middle of a sheet')
    }
    await page.getByText('Kestrel is saved: 4 rounds.').waitFor()
    const pressed = await keys()
    // Fewer would mean that the sheet was not typed.
    expect(pressed).toBeGreaterThan(150)
    expect(pressed, `${pressed} keys at ${KEYS_PER_SECOND} a second`).toBeLessThan(MOST_KEYS)
  })

  step('has put every round into the record, once', async () => {
    const kestrel = (await table('Kestrel'))!
    expect(kestrel.firstRound).toBe(1)
    expect(kestrel.rounds.map((round) => round.stage)).toEqual(['done', 'done', 'done', 'done'])
    expect(kestrel.rounds.map((round) => round.trials.length)).toEqual([1, 1, 1, 1])
    expect(kestrel.rounds.map((round) => round.seconds)).toEqual([96, 71.5, 58, 44])
    expect(kestrel.rounds.map((round) => round.right)).toEqual([11, 12, 11, 12])
    expect(kestrel.rounds.map((round) => round.strategy)).toEqual([
      'All dig in',
      'Sort box first',
      'One reads card',
      'Two lay out',
    ])
    expect(kestrel.rounds[0]!.trials[0]!.inspections[0]!.marks).toEqual([
      1, 1, 1, 1, 0, 1, 1, 1, 1, 1, 1, 1,
    ])
    expect(kestrel.rounds[2]!.trials[0]!.inspections).toMatchObject([
      { rightCount: 11, marks: trayFromACard.checklist.map(() => null) },
    ])
    expect(kestrel.rounds[1]!.predictions).toMatchObject({
      time: { low: 60, expected: 75, high: 90 },
      quality: { low: 8 / 12, expected: 10 / 12, high: 1 },
    })
    const readings = kestrel.rounds.flatMap(({ trials }) => trials.flatMap((t) => t.readings))
    expect(readings.map(({ how }) => how)).toEqual(['paper', 'paper', 'paper', 'paper', 'paper'])
    expect(kestrel.rounds.map((round) => round.decision?.kind)).toEqual([
      'adapt',
      'adapt',
      'adapt',
      'adopt',
    ])
  })

  step('asks about 102, and takes one key for the answer', async () => {
    await page.keyboard.type('Heron')
    await enter()
    await cell('1:strategy').waitFor()
    for (const text of ['Split up', '102 115 130']) {
      await page.keyboard.type(text)
      await enter()
    }
    await page.getByText('102 and 115 and 130: minutes and seconds, or seconds?').waitFor()
    expect(await cell('1:time').evaluate((el) => el === document.activeElement)).toBe(true)
    await page.keyboard.press('m')
    await expect.poll(() => cell('1:time').inputValue()).toBe('1:02 1:15 1:30')
    await enter()
  })

  step('says at the cell what is wrong, and goes there', async () => {
    for (const text of ['11 12 13', '10 11 12']) {
      await page.keyboard.press('ControlOrMeta+a')
      await page.keyboard.type(text)
      await enter()
    }
    await page.keyboard.type('1:20 1:31')
    await enter()
    await page.getByText('The two timers differ by 0:11.').waitFor()
    await page.keyboard.type(' keep 1:20 second timer was late')
    await enter()
    await page.keyboard.type('11')
    await enter()
    await page.getByText('If the sheet does not say which, write 11 ?').waitFor()
    await expectAccessible(page, 'keying, with a problem')
  })

  step('loses nothing when the page goes away, nor when the server does', async () => {
    await page.reload()
    await page.getByLabel('Table').waitFor()
    await page.keyboard.type('heron')
    await enter()
    await page.getByText('What you typed earlier is here again').waitFor()
    expect(await cell('1:measured').inputValue()).toBe('1:20 1:31 keep 1:20 second timer was late')
    await cell('1:right').fill('11 of 12')
    await cell('1:learned').fill('Two clocks differ')
    await cell('1:decision').fill('adopt')
    await cell('1:reason').fill('Held')
    // The answer is lost on the way, not the question: the server has it, the page does not know.
    let lost = 0
    await page.route('**/moves', async (route) => {
      await route.fetch()
      lost++
      await route.abort()
    })
    await page.getByRole('button', { name: 'Save round 1' }).click()
    await expect.poll(() => lost).toBe(1)
    await page
      .getByText('The server does not answer.')
      .or(page.getByText(/^Saved/))
      .first()
      .waitFor()
    await page.unroute('**/moves')
    const again = page.getByRole('button', { name: 'Save round 1' })
    if (await again.isVisible()) await again.click()
    await page.getByText(/^Saved: 1:20.*11 of 12 right \(count only\)/).waitFor()
    const heron = (await table('heron'))!
    expect(heron.rounds[0]).toMatchObject({ stage: 'done', seconds: 80, right: 11 })
    expect(heron.rounds[0]!.trials).toHaveLength(1)
    expect(heron.rounds[0]!.trials[0]!.readings).toHaveLength(2)
    expect((await room()).tables).toHaveLength(2)
  })

  step('ends a sheet of fewer rounds, and does not save what was only carried over', async () => {
    await expect
      .poll(() => cell('2:strategy').evaluate((el) => el === document.activeElement))
      .toBe(true)
    // Kept the same after “adopt”.
    await expect.poll(() => cell('2:strategy').inputValue()).toBe('Split up')
    await page.keyboard.press('ControlOrMeta+Enter')
    await page.getByText('heron is saved: 1 round.').waitFor()
    const heron = (await table('heron'))!
    expect(heron.rounds.filter(({ lockedAt }) => lockedAt !== null)).toHaveLength(1)
    await page.getByText('1 of 4 rounds decided').waitFor()
  })

  step('had no complaint of the browser', async () => {
    expect(complaints.filter((text) => !/ERR_FAILED/.test(text))).toEqual([])
  })
})

import { rmSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, vi } from 'vitest'
import { makeId } from '../../src/domain/id.ts'
import type { MoveBody } from '../../src/domain/workshop/moves.ts'
import { MOMENTS } from '../../src/domain/workshop/room.ts'
import { TALKING_POINTS } from '../../src/domain/workshop/talking-points.ts'
import { complaintsOf, expectAccessible, Keyboard, launchBrowser } from '../support/browser.ts'
import { testFolder } from '../support/side-by-side.ts'
import { story } from '../support/story.ts'
import { type OpenRoom, startTableServer, type TableServer } from '../support/table-server.ts'

// A class of twelve tables on the wall, read from afar, and led by somebody who has only a keyboard.

vi.setConfig({ testTimeout: 180_000 })

const WEB = fileURLToPath(new URL('../../dist/web', import.meta.url))
const NAMES = [
  ...['Kestrel', 'Heron', 'Wren', 'Plover', 'Finch', 'Swift'],
  ...['Curlew', 'Avocet', 'Dunlin', 'Lapwing', 'Physiotherapist', 'Theatre Recovery'],
]
const ROUNDS = 3
const newId = () => makeId(Date.now(), crypto.getRandomValues(new Uint8Array(10)))
const near = (expected: number) => ({ low: expected - 8, expected, high: expected + 12 })

/** Every move of one table in one round, made for it by the facilitator. */
function roundOf(tableId: string, k: number, round: number): MoveBody[] {
  const trialId = newId()
  const seconds = Math.round((95 + ((k * 37) % 40)) * round ** -0.5)
  const plan = { strategy: 'Hand over in order.', confidence: 0.8, why: 'Less reaching.' }
  const moves: MoveBody[] = [
    {
      ...{ kind: 'lock', round, ...plan },
      time: near(seconds + (k % 4) * 6),
      quality: { low: 0.5, expected: 0.9, high: 1 },
    },
    { kind: 'start', round, trialId },
    {
      ...{ kind: 'stop', round, trialId, readingId: newId(), seconds },
      how: 'typed',
      note: '',
    },
    {
      ...{ kind: 'inspect', trialId, inspectionId: newId() },
      marks: Array.from({ length: 6 }, (_, i) => (i < k % 3 ? 0 : 1)),
    },
    {
      ...{
        kind: 'decide',
        round,
        surprises: '',
        learned: 'Order helps.',
        predictionReview: 'As we said.',
      },
      ...{ decision: 'adapt', reason: 'Quicker.', nextChange: 'Lie ready.' },
    },
  ]
  return moves.map((move) => Object.assign({ tableId }, move))
}

/** What stands in the window, and how large. */
const measure = (page: Page) =>
  page.evaluate(() => {
    const root = document.querySelector('.room-screen')!
    const sizes = [...root.querySelectorAll('*')]
      .filter((el) => el.closest('.hidden-text') === null)
      .filter((el) => [...el.childNodes].some((n) => n.nodeType === 3 && n.nodeValue?.trim()))
      .map((el) =>
        el.tagName === 'text'
          ? Number(el.getAttribute('font-size'))
          : Number.parseFloat(getComputedStyle(el).fontSize),
      )
    const { scrollWidth, scrollHeight } = document.documentElement
    const body = document.querySelector('.screen-body')!
    return {
      smallest: Math.min(...sizes),
      scrolls: scrollWidth > innerWidth || scrollHeight > innerHeight,
      overflows: body.scrollHeight > body.clientHeight + 1,
    }
  })

describe('the room screen and the console', () => {
  const step = story()
  let folder = ''
  let browser: Browser
  let server: TableServer
  let room: OpenRoom
  let screen: Page
  let desk: Page
  let keys: Keyboard
  const complaints: string[][] = []
  const onScreen = (name: string | RegExp) => screen.getByRole('heading', { name }).waitFor()
  const button = (name: string | RegExp) => desk.getByRole('button', { name })

  beforeAll(async () => {
    folder = testFolder()
    server = await startTableServer({ dataDir: folder }, WEB)
    room = await server.openRoom({ pace: 'together', rounds: 4 })
    browser = await launchBrowser()
    screen = await (await browser.newContext()).newPage()
    desk = await (await browser.newContext({ viewport: { width: 1280, height: 800 } })).newPage()
    for (const page of [screen, desk]) {
      page.setDefaultTimeout(30_000)
      complaints.push(complaintsOf(page))
    }
    keys = new Keyboard(desk)
  }, 120_000)
  afterAll(async () => {
    await browser?.close()
    await server?.stop()
    rmSync(folder, { recursive: true, force: true })
  }, 60_000)

  step('open without a sign-in on the wall, and with one on the desk', async () => {
    await screen.goto(`${server.address}/screen/${room.code.toLowerCase()}`)
    await onScreen('Join your table')
    await desk.goto(`${server.address}/workshops/${room.id}`)
    await keys.type(desk.getByRole('textbox', { name: 'E-mail' }), 'ines@example.org')
    await keys.type(desk.getByLabel('Password'), 'a long enough phrase')
    await keys.press(button('Sign in'))
    await desk.getByRole('heading', { name: /Invented class/ }).waitFor()
  })

  step('are led by keyboard alone, and every step can be taken back', async () => {
    await keys.press(button('Add a table without a phone'))
    await keys.type(desk.getByRole('textbox', { name: 'Name of the table' }), NAMES[0]!)
    await desk.keyboard.press('Enter')
    await screen.getByText(NAMES[0]!).waitFor()
    await keys.press(button('Begin round 1: plan and predict'))
    await onScreen('Round 1: plan and predict')
    await keys.press(button('Undo'))
    await onScreen('Join your table')
    await keys.press(button('Begin round 1: plan and predict'))
    await onScreen('Round 1: plan and predict')
    await keys.press(button('More for Kestrel'))
    await keys.type(
      desk.getByRole('textbox', { name: 'Nudge Kestrel' }),
      'n and p are letters here',
    )
    await desk.keyboard.press('Enter')
    await desk.getByText('On its phones: “n and p are letters here”').waitFor()
    expect((await room.state()).room.talkingPoint).toBe(0)
    await keys.press(button('Less for Kestrel'))
    await desk.keyboard.press('n')
    await expect.poll(async () => (await room.state()).room.talkingPoint).toBe(1)
    await keys.reach(desk.getByRole('checkbox', { name: 'Single keys' }))
    await desk.keyboard.press('Space')
    await keys.reach(button('Next point'), true)
    await desk.keyboard.press('n')
    await desk.waitForTimeout(300)
    expect((await room.state()).room.talkingPoint).toBe(1)
  })

  step('start a round for all, counted down by one clock', async () => {
    await room.lead(
      ...NAMES.slice(1).map((name): MoveBody => ({ kind: 'add-table', newTableId: newId(), name })),
    )
    await keys.select(desk.getByRole('combobox', { name: 'Count in' }), '3 s')
    await keys.press(button(/^Start round 1 for all in 3 s/))
    await onScreen('Round 1 starts in')
    await onScreen('Round 1: running')
    await expectAccessible(desk, 'the console')
  })

  step('follow twelve tables through three rounds', async () => {
    const { tables } = await room.state()
    expect(tables).toHaveLength(NAMES.length)
    for (let round = 1; round <= ROUNDS; round++) {
      await room.lead({ kind: 'round', round })
      for (const [k, table] of tables.entries()) await room.lead(...roundOf(table.id, k, round))
    }
    await room.lead({ kind: 'moment', moment: 'compare' }, { kind: 'talking-point', index: 0 })
    await onScreen('Round 3: times and predictions')
    await screen.getByText(/predicted ranges held/).waitFor()
  })

  step(
    'keep twelve tables, the nudge for all and the notes on a laptop, or a key away',
    async () => {
      await room.lead({ kind: 'moment', moment: 'predict' })
      await desk.getByRole('heading', { name: 'Round 3 of 4: predict' }).waitFor()
      const nudge = desk.getByRole('textbox', { name: 'Nudge all tables' })
      const notes = desk.getByRole('textbox', { name: 'My notes' })
      for (const part of [nudge, notes, desk.getByText(NAMES.at(-1)!)]) {
        const box = (await part.boundingBox())!
        expect(box.y + box.height, 'above the fold of 800 pixels').toBeLessThanOrEqual(800)
      }
      await keys.reach(desk.getByRole('checkbox', { name: 'Single keys' }))
      await desk.keyboard.press('Space')
      await keys.reach(button('Next point'), true)
      for (const [key, field] of [
        ['a', nudge],
        ['m', notes],
      ] as const) {
        await desk.keyboard.press(key)
        expect(await field.evaluate((el) => el === document.activeElement), key).toBe(true)
        await desk.keyboard.press('Escape')
      }
      expect(await nudge.inputValue()).toBe('')
    },
  )

  step('fit every moment into the window, in letters that carry ten metres', async () => {
    for (const [width, height] of [
      [1920, 1080],
      [1366, 768],
      [3840, 2160],
    ] as const) {
      await screen.setViewportSize({ width, height })
      for (const moment of MOMENTS) {
        await room.lead({ kind: 'moment', moment })
        await screen.locator(`[data-moment="${moment}"]`).waitFor()
        for (const [index, point] of TALKING_POINTS[moment].entries()) {
          if (point.picture === null && index > 0) continue
          await room.lead({ kind: 'talking-point', index })
          await expect
            .poll(async () => (await measure(screen)).smallest / height, { timeout: 10_000 })
            .toBeGreaterThan(27.9 / 1080)
          const where = `${moment} ${index} at ${width} × ${height}`
          expect(await measure(screen), where).toMatchObject({ scrolls: false, overflows: false })
          if (width === 1920) await expectAccessible(screen, where)
        }
      }
    }
  })

  step('stay readable while the server is away, and come back by themselves', async () => {
    await room.lead({ kind: 'moment', moment: 'compare' }, { kind: 'talking-point', index: 0 })
    await onScreen('Round 3: times and predictions')
    await server.stop()
    await screen.getByText(/The connection is lost/).waitFor()
    await desk.getByText('The connection is lost; it comes back by itself.').waitFor()
    await onScreen('Round 3: times and predictions')
    // A step that does not get through is shown, and sent again as the same step.
    await button('Debrief round 3').click()
    await desk.getByText('The server does not answer.').waitFor()
    await server.again()
    await screen.getByText(/The connection is lost/).waitFor({ state: 'detached' })
    await button('Send it again').click()
    await onScreen('What surprised you in this round?')
  })

  step('say clearly what is wrong with a code', async () => {
    await screen.goto(`${server.address}/screen/777777`)
    await screen.getByText('No workshop has the code “777777”.').waitFor()
    await expectAccessible(screen, 'a wrong code')
    await screen.getByRole('textbox', { name: 'Code of the workshop' }).fill(room.code)
    await screen.getByRole('button', { name: 'Open the room screen' }).click()
    await onScreen('What surprised you in this round?')
    await button('Close the workshop').click()
    await onScreen('This workshop is closed')
    expect(complaints.flat().filter((text) => !/ERR_|Failed to load/.test(text))).toEqual([])
  })
})

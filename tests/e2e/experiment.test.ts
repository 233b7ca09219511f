import { rmSync } from 'node:fs'
import type { Browser, Locator, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, vi } from 'vitest'
import { PUBLISHED_EXPERIMENTS } from '../reference/factorial-experiments.ts'
import { complaintsOf, expectAccessible, Keyboard, launchBrowser } from '../support/browser.ts'
import { runsOf } from '../support/experiment-records.ts'
import { type ServerProcess, startServer } from '../support/server-process.ts'
import { testFolder } from '../support/side-by-side.ts'
import { story } from '../support/story.ts'

// Several changes at once as a team does them, by keyboard alone: the changes and predictions, the
// design, the lock, the run sheet, what was found. The responses are published ones (Box, Hunter &
// Hunter 1978, tables 10.1 to 10.4), so the page must find what the authors found.

vi.setConfig({ testTimeout: 180_000 })

const PLANT = PUBLISHED_EXPERIMENTS[1]!
const CHANGES = [
  { name: 'Temperature', low: '160 degrees', high: '180 degrees', way: 'higher', size: '20' },
  { name: 'Concentration', low: '20 percent', high: '40 percent', way: 'higher', size: '5' },
  { name: 'Catalyst', low: 'old lot', high: 'new lot', way: 'no different', size: null },
] as const

describe('several changes at once', () => {
  const step = story()
  const folder = testFolder()
  let browser: Browser
  let server: ServerProcess
  let page: Page
  let keys: Keyboard
  let complaints: string[]

  beforeAll(async () => {
    server = await startServer({ dataDir: folder }, 'built')
    browser = await launchBrowser()
    page = await (
      await browser.newContext({ viewport: { width: 1280, height: 900 }, locale: 'en-US' })
    ).newPage()
    page.setDefaultTimeout(30_000)
    complaints = complaintsOf(page)
    keys = new Keyboard(page)
  }, 60_000)
  afterAll(async () => {
    await browser?.close()
    await server?.stop()
    rmSync(folder, { recursive: true, force: true })
  })

  const link = (name: string | RegExp) => page.getByRole('link', { name })
  const button = (name: string | RegExp) => page.getByRole('button', { name })
  const field = (label: string | RegExp, within: Page | Locator = page) =>
    within.getByRole('textbox', { name: label })
  const seen = (text: string | RegExp) => page.getByText(text).first().waitFor()

  async function expectFit(where: string): Promise<void> {
    for (const [width, colorScheme] of [
      [360, 'dark'],
      [1280, 'light'],
    ] as const) {
      await page.setViewportSize({ width, height: 900 })
      await page.emulateMedia({ colorScheme })
      await expectAccessible(page, `${where} at ${width} px, ${colorScheme}`)
      const found = await page.evaluate(() => document.documentElement.scrollWidth)
      expect(found, `width of ${where}`).toBeLessThanOrEqual(width)
    }
  }

  step('opens a plan in a project of one’s own', async () => {
    await page.goto(server.address)
    await keys.type(field('Your name'), 'Ines Okonjo')
    await keys.type(field('E-mail'), 'ines@example.org')
    await keys.type(page.getByLabel('Password', { exact: true }), 'a long enough phrase')
    await keys.press(button('Make the account'))
    await keys.type(field('Name of the unit'), 'Pilot plant')
    await keys.type(field('Name of the project'), 'More from each batch')
    await keys.press(button('Start the project'))
    await keys.press(link('Several changes at once'))
    await keys.type(field('What it is about'), 'Three changes to a batch')
    await keys.press(button('Open the plan'))
    await page.getByRole('heading', { name: 'Three changes to a batch', level: 1 }).waitFor()
  })

  step('names three changes, predicts each, and chooses a design', async () => {
    await keys.type(field('Question'), 'Which of these changes raise the yield?')
    await keys.type(field('Response'), 'the yield')
    await keys.type(field('Unit'), 'grams')
    await keys.choose(page.getByRole('group', { name: 'Which way is better?' }), 'Higher')
    for (const [i, change] of CHANGES.entries()) {
      await keys.press(button(i === 0 ? 'Add a change' : 'Add another change'))
      const card = page.locator('.factor').nth(i)
      await keys.type(field('Change', card), change.name)
      await keys.type(field('One way', card), change.low)
      await keys.type(field('The other way', card), change.high)
      await keys.select(
        card.getByLabel(
          `With “${change.high}” in place of “${change.low}”, we expect the yield to be`,
        ),
        change.way,
      )
      if (change.size !== null) await keys.type(field(/^By how much/, card), change.size)
    }
    await keys.select(page.getByLabel('Run each combination'), 'twice')
    await keys.type(field(/^Guess: how far runs differ/), '3')
    await seen(/it stands out four times in five from about [\d.]+ grams on\./)
    await keys.choose(page.getByRole('group', { name: 'Which combinations' }), /^All 8/)
    await seen('This plan takes 16 runs.')
  })

  step('is told what is missing before the lock, and on Today', async () => {
    await keys.press(button('Lock and start'))
    await seen('2 things are still missing:')
    await keys.choose(page.getByRole('group', { name: /local policy call/ }), /^An exercise/)
    await keys.choose(page.getByRole('group', { name: /harm someone/ }), 'No')
    await expectFit('a plan of several changes')
    await keys.press(link('Today'))
    await seen('The plan is not locked: predict, then lock it to draw the order of the runs.')
    await keys.press(link(/Predict and lock/))
    await keys.press(button('Lock and start'))
    await seen(/^No run is in\./)
  })

  step('fills the run sheet from response to response with Enter', async () => {
    await keys.press(link('Run sheet'))
    const rows = page.locator('.run')
    await expect.poll(() => rows.count()).toBe(16)
    const left = new Map<string, number[]>()
    for (const { levels, response } of runsOf(3, '', PLANT.responses))
      left.set(levels, [...(left.get(levels) ?? []), response!])
    const responses: number[] = []
    for (const row of await rows.all()) {
      const ways = await row.locator('dd').allTextContents()
      const levels = ways.map((way, i) => (way === CHANGES[i]!.high ? '+' : '-')).join('')
      responses.push(left.get(levels)!.shift()!)
    }
    await keys.reach(field('Response of run 1'))
    for (const response of responses.slice(0, 15)) {
      await page.keyboard.type(String(response))
      await page.keyboard.press('Enter')
    }
    await seen('15 of 16 runs are in.')
    await expectFit('a run sheet')
    await keys.press(link('Today'))
    await seen('One run is still to do: run 16.')
    await keys.press(link(/^Fill in the run sheet/))
    await keys.press(button('Go to run 16'))
    await expect
      .poll(() => field('Response of run 16').evaluate((el) => el === document.activeElement))
      .toBe(true)
    await page.keyboard.type(String(responses[15]))
    await page.keyboard.press('Enter')
    await keys.press(link('See what was found'))
  })

  step('reads what the authors found, in words and in pictures', async () => {
    await seen('These stand out from chance: Temperature; Temperature with Catalyst.')
    await seen(
      /^Temperature: with “180 degrees” in place of “160 degrees”, the yield was 23 grams higher on average, the better way\./,
    )
    await seen(
      /^Temperature and Catalyst depend on each other\. With “old lot”, .* 13 grams higher;/,
    )
    await seen(/^May matter: Concentration \(5 grams lower\)\./)
    await seen(
      'Concentration: the team said 5 grams higher. The runs gave 5 grams lower, which does not fit.',
    )
    await seen('Catalyst: the team said no difference. The runs fit that, to within')
    await seen(/^Next: Try this in a test of change: /)

    const plot = page.getByRole('group', { name: 'Effects by size (half-normal plot)' })
    await keys.reach(plot.locator('[data-point][tabindex="0"]'))
    await page.keyboard.press('End')
    await seen('Temperature: size 23, 7 of 7 by size, stands out even among so many.')
    await page.keyboard.press('t')
    const table = page.getByRole('table', { name: /half-normal plot/ })
    await table.getByRole('row', { name: /^Temperature 23 / }).waitFor()
    const pair = page.getByRole('group', { name: 'Temperature with Catalyst', exact: true })
    await keys.reach(pair.locator('[data-point][tabindex="0"]'))
    await seen(/^Temperature “160 degrees”, Catalyst “old lot”: mean 57/)
    await expectFit('what several changes found')
  })

  step('writes what was learned, after which nothing waits', async () => {
    await keys.press(link('Today'))
    await keys.press(link(/^Read what was found/))
    await keys.type(field(/^What was learned/), 'Heat first; the new lot only when it is hot.')
    await keys.press(link('Today'))
    await seen('Nothing waits for you.')
  })

  step('met no exception, console error or blocked resource on the way', async () => {
    expect(complaints).toEqual([])
  })
})

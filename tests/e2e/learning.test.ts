import { rmSync } from 'node:fs'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, vi } from 'vitest'
import { complaintsOf, expectAccessible, Keyboard, launchBrowser } from '../support/browser.ts'
import { type ServerProcess, startServer } from '../support/server-process.ts'
import { testFolder } from '../support/side-by-side.ts'
import { story } from '../support/story.ts'

// What a coach looks at once there is a record: predictions and how they came out, exercises apart,
// the effect of a project, and a decision that waits. By keyboard alone, on the invented hospital.

vi.setConfig({ testTimeout: 180_000 })

describe('what the record teaches', () => {
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
  const field = (label: string | RegExp) => page.getByRole('textbox', { name: label })
  const seen = (text: string | RegExp) => page.getByText(text).first().waitFor()

  /** At phone width too, in both sets of colours. */
  async function expectFit(where: string): Promise<void> {
    for (const [width, colorScheme] of [
      [1280, 'dark'],
      [360, 'light'],
      [1920, 'dark'],
      [1280, 'light'],
    ] as const) {
      await page.setViewportSize({ width, height: 900 })
      await page.emulateMedia({ colorScheme })
      await expectAccessible(page, `${where} at ${width} px, ${colorScheme}`)
      const found = await page.evaluate(() => document.documentElement.scrollWidth)
      expect(found, `width of ${where}`).toBeLessThanOrEqual(width)
    }
  }

  step('takes the invented hospital in', async () => {
    await page.goto(server.address)
    await keys.type(field('Your name'), 'Ines Okonjo')
    await keys.type(field('E-mail'), 'ines@example.org')
    await keys.type(page.getByLabel('Password', { exact: true }), 'a long enough phrase')
    await keys.press(page.getByRole('button', { name: 'Make the account' }))
    await keys.press(page.getByRole('button', { name: 'Add the example' }))
    await page.getByRole('heading', { name: /^Discharge summaries/, level: 1 }).waitFor()
  })

  step('shows how the predictions of everybody came out, and exercises apart', async () => {
    await keys.press(link('Predictions'))
    await seen('No locked prediction has an outcome yet.')
    await keys.select(page.getByLabel('Whose predictions'), 'Everybody')
    await seen(/^\d+ of \d+ outcomes fell inside the stated range/)
    await page.getByRole('img', { name: /^Predicted ranges over their outcomes/ }).waitFor()
    const listed = () => page.getByRole('list').filter({ hasText: 'Locked on' }).textContent()
    expect(await listed()).toContain('Draft on the round')
    expect(await listed()).not.toContain('One lays, one reads')
    await expectFit('a filled predictions page')
    await keys.select(page.getByLabel('Which tests'), 'Exercises')
    await expect.poll(listed).toContain('One lays, one reads')
    expect(await listed()).not.toContain('Draft on the round')
    await expectAccessible(page, 'the predictions of exercises')
  })

  step('reads the effect of a project point by point', async () => {
    await page.goto(`${server.address}/projects`)
    await keys.press(link(/^Discharge summaries/).first())
    await keys.press(link('Effect over time'))
    await page.getByRole('heading', { name: 'Effect over time' }).waitFor()
    await keys.reach(page.locator('[data-point][tabindex="0"]').first())
    await page.keyboard.press('End')
    await seen(/; line before, carried on .* \(95 % interval/)
    await page.keyboard.press('Home')
    await expect
      .poll(() => page.locator('.chart-readout').first().textContent())
      .not.toContain('carried on')
    await expectFit('an effect page')
  })

  step('decides otherwise than the figures suggest, with a reason or without', async () => {
    await keys.press(link('Today'))
    await keys.press(link(/A second triage nurse from noon to six/).first())
    await seen('The figures suggest:')
    const different = field(/^Why not as the figures suggest/)
    await keys.choose(page.getByRole('group', { name: /What does the team do/ }), /^Adopt/)
    expect(await different.count()).toBe(0)
    await keys.choose(page.getByRole('group', { name: /What does the team do/ }), /^Abandon/)
    await different.waitFor()
    await expectFit('a decision that differs')
    await keys.type(field('Reason'), 'The second nurse is needed on the ward.')
    // Left empty: the decision is recorded all the same, and nobody asks again.
    await keys.press(page.getByRole('button', { name: 'Abandon and close the test' }))
    await seen('The team decided otherwise.')
    expect(await page.getByText('Why the team decided otherwise').count()).toBe(0)
    await expectAccessible(page, 'a closed test')
  })

  step('met no exception, console error or blocked resource on the way', async () => {
    expect(complaints).toEqual([])
  })
})

import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, vi } from 'vitest'
import { VIENNA_MONTHS } from '../reference/vienna-maternity.ts'
import { complaintsOf, expectAccessible, Keyboard, launchBrowser } from '../support/browser.ts'
import { onBothEngines } from '../support/engines.ts'
import { type ServerProcess, startServer } from '../support/server-process.ts'
import { story } from '../support/story.ts'

// The main job as a new user does it, by keyboard alone, on real data: births and deaths of the
// Vienna maternity clinic (Semmelweis 1861), with the start of chlorine handwashing as the change.
// axe looks at every page on the way.

vi.setConfig({ testTimeout: 180_000 })

const CSV = ['date,births,deaths', ...VIENNA_MONTHS.map((m) => `${m.at},${m.births},${m.deaths}`)]

/** Pages that the story itself does not come by. */
const PATHS = [
  '/',
  '/projects',
  '/people',
  '/predictions',
  '/about-charts',
  '/settings',
  '/settings/password',
  '/nowhere',
]

onBothEngines('the main job', ({ place }) => {
  const step = story()
  let browser: Browser
  let server: ServerProcess
  let page: Page
  let keys: Keyboard
  let complaints: string[]
  let firstTest = ''

  beforeAll(async () => {
    server = await startServer(await place(), 'built')
    browser = await launchBrowser()
    const context = await browser.newContext({
      viewport: { width: 1280, height: 900 },
      locale: 'en-US',
    })
    page = await context.newPage()
    page.setDefaultTimeout(30_000)
    complaints = complaintsOf(page)
    keys = new Keyboard(page)
  }, 60_000)
  afterAll(async () => {
    await browser?.close()
    await server?.stop()
  })

  const button = (name: string | RegExp) => page.getByRole('button', { name })
  const link = (name: string | RegExp) => page.getByRole('link', { name })
  const field = (label: string | RegExp) => page.getByRole('textbox', { name: label })
  const group = (legend: string | RegExp) => page.getByRole('group', { name: legend })
  const heading = (name: string | RegExp) => page.getByRole('heading', { name })
  const seen = (text: string | RegExp) => page.getByText(text).first().waitFor()

  step('makes the owner account on the first visit', async () => {
    await page.goto(server.address)
    await heading('Make your account').waitFor()
    // What the first page load costs, in all, as it came over the wire.
    const bytes = await page.evaluate(() =>
      [...performance.getEntriesByType('navigation'), ...performance.getEntriesByType('resource')]
        .map((entry) => (entry as PerformanceResourceTiming).transferSize)
        .reduce((sum, size) => sum + size, 0),
    )
    expect(bytes).toBeGreaterThan(50_000)
    expect(bytes).toBeLessThan(300_000)
    await expectAccessible(page, 'the first visit')
    await keys.type(field('Your name'), 'Ines Okonjo')
    await keys.type(field('E-mail'), 'ines@example.org')
    await keys.type(page.getByLabel('Password', { exact: true }), 'a long enough phrase')
    await keys.press(button('Make the account'))
    await heading('Today').waitFor()
    await expectAccessible(page, 'Today, empty')
  })

  step('starts a project and a measure', async () => {
    await keys.type(field('Name of the unit'), 'First clinic')
    await keys.type(field('Name of the project'), 'Deaths after childbirth')
    await keys.type(field(/^Aim/), 'Halve the deaths of mothers by the end of the year.')
    await keys.press(button('Start the project'))
    await heading('Deaths after childbirth').waitFor()
    await expectAccessible(page, 'a new project')

    await keys.press(link('Add a measure'))
    await heading('New measure').waitFor()
    await keys.type(field('Name'), 'Mothers who died')
    await keys.choose(group('What is it for?'), /^Outcome/)
    await keys.choose(group('Which way is better?'), /^Down/)
    await keys.choose(group('One observation is'), /^So many of so many/)
    await keys.type(field(/^What the items are/), 'births')
    await expectAccessible(page, 'a new measure')
    await keys.press(button('Make the measure'))
    await heading('Mothers who died').waitFor()
    await expectAccessible(page, 'a measure without data')
  })

  step('imports nothing from a file with a mistake, and says where it is', async () => {
    await keys.press(button('Import a file'))
    await keys.reach(field('Cells'))
    // More deaths than births in the third row of data.
    await page.keyboard.insertText(CSV.with(3, '1841-03-01,277,1200').join('\n'))
    await page.getByRole('cell', { name: '4', exact: true }).waitFor()
    await seen(/1 problem found/)
    await expectAccessible(page, 'an import with a problem')
    await keys.press(button('Import'))
    await seen(/Nothing can be imported yet/)
    const { observations } = await api<{ observations: unknown[] }>(`/api/measures/${idOf(page)}`)
    expect(observations).toEqual([])
  })

  step('imports the file once it is right', async () => {
    await keys.reach(field('Cells'), true)
    await page.keyboard.press('ControlOrMeta+a')
    await page.keyboard.insertText(CSV.join('\n'))
    await seen('98 rows read without a problem.')
    await expectAccessible(page, 'an import that is right')
    await keys.press(button('Import 98 rows'))
    await page.getByRole('dialog').waitFor({ state: 'detached' })
    // One phase over everything: 2,202 deaths in 26,166 births.
    await seen(/8\.4 %/)
    await expectAccessible(page, 'a measure with data')
  })

  step('moves along the chart and opens its table by keyboard', async () => {
    await keys.reach(page.locator('[data-point][tabindex="0"]').first())
    await page.keyboard.press('End')
    await page.keyboard.press('ArrowLeft')
    await seen(/Feb(ruary)? (1, )?1849|1849-02/)
    await keys.press(button('Show as table'))
    await page.getByRole('table').filter({ hasText: '1847' }).first().waitFor()
    await expectAccessible(page, 'the table of a chart')
  })

  step('plans a test and says what is missing before the lock', async () => {
    await keys.press(link('Deaths after childbirth'))
    await keys.press(button('New test of change'))
    await keys.type(field('What will be tried'), 'Chlorine at the door')
    await keys.press(button('Open the test'))
    await button('Lock and start').waitFor()
    await keys.press(button('Lock and start'))
    await seen(/things are still missing/)
    await expectAccessible(page, 'a plan that is not ready')

    await keys.type(field('Question'), 'Do fewer mothers die when hands are washed in chlorine?')
    await keys.type(field('Change'), 'Everyone washes in chlorinated lime before each examination.')
    await keys.type(field('Where'), 'First clinic, all wards')
    await keys.date(page.getByLabel('First day'), '1847-06-01')
    await keys.date(page.getByLabel('Last day'), '1848-05-31')

    await keys.press(button('Predict Mothers who died'))
    await keys.type(field('Lowest'), '1')
    // 1 could be 1 % or all: the page asks, and changes nothing by itself.
    await keys.type(field('Lowest'), '1 %')
    await keys.type(field('Expected'), '4 %')
    await keys.type(field('Highest'), '7 %')
    await keys.type(field('Why'), 'Hands carry matter from the dissecting room.')

    await keys.choose(group('What does local policy call this test?'), 'Quality improvement')
    await keys.choose(group('Is the local approval on record?'), /^On record/)
    await keys.type(field('Where it is recorded'), 'Register of the clinic, May 1847')
    await keys.choose(group(/Could this test harm someone/), /^No$/)
    await seen('Everything is there.')
    await expectAccessible(page, 'a plan that is ready')
  })

  step(
    'sees in the planner when the chart would show it, as words, a fan and a table',
    async () => {
      await seen(/If Mothers who died goes from 8\.4 % to 4 % and stays there, the chart shows it/)
      await seen(/^Every rule of this chart is counted, on 40,000 simulated charts/)
      await keys.press(page.locator('.planner-more > summary'))
      await page.getByRole('img', { name: 'What may come after the test begins' }).waitFor()
      await page.getByRole('table', { name: /Chance that the chart has shown a signal/ }).waitFor()
      await seen(/The baseline is the running phase: 8\.4 %, from 98 points/)
      await expectAccessible(page, 'a plan with the fan')
    },
  )

  step('asks about text that looks like an identifier before it is saved', async () => {
    await keys.type(field('Who'), 'Midwives; ask midwife@example.org')
    await page.keyboard.press('Tab')
    const dialog = page.getByRole('dialog')
    await dialog.waitFor()
    await dialog.getByText('midwife@example.org').first().waitFor()
    await expectAccessible(page, 'the question about an identifier')
    await page.keyboard.press('Escape')
    await dialog.waitFor({ state: 'detached' })
    await keys.reach(field('Who'), true)
    await keys.type(field('Who'), 'Students and midwives')
    await page.keyboard.press('Tab')
    await seen(/^Saved/)
  })

  step('locks the prediction for good', async () => {
    await keys.press(button('Lock and start'))
    await seen(/^Locked on/)
    firstTest = idOf(page)
    await expectAccessible(page, 'a locked plan')
    expect(await field('Question').count()).toBe(0)
    const { cycle, predictions } = await api<{
      cycle: { version: number }
      predictions: { id: string; version: number }[]
    }>(`/api/cycles/${idOf(page)}`)
    const answer = await page.evaluate(
      async ([id, prediction, version]) => {
        const session = await (await fetch('/api/session')).json()
        const reply = await fetch(`/api/cycles/${id}/predictions/${prediction}`, {
          method: 'DELETE',
          headers: { 'content-type': 'application/json', 'x-pawl-csrf': session.csrf },
          body: JSON.stringify({ version }),
        })
        return [reply.status, (await reply.json()).code]
      },
      [idOf(page), predictions[0]!.id, predictions[0]!.version] as const,
    )
    expect(answer).toEqual([409, 'cycle.locked'])
    expect(cycle.version).toBeGreaterThan(1)
  })

  step('does, and studies what came out before it asks for words', async () => {
    await keys.date(page.getByLabel('Really ran from'), '1847-06-01')
    await keys.date(page.getByLabel('to', { exact: true }), '1848-05-31')
    await keys.type(field('What happened'), 'A basin stood at each door. Students grumbled.')
    await keys.press(button('Finish and study'))
    await heading(/Mothers who died: came out as predicted/).waitFor()
    // Semmelweis 1861: 73 deaths in 3,309 births from June 1847 to May 1848; 2,060 in 19,571 before.
    await seen('73 of 3,309 births (2.2 %); the team said 1 % to 7 % (80 % sure).')
    await seen(/Before the test it was 11 % \(76 observations/)
    await seen(/dated before the prediction was locked/)
    await expectAccessible(page, 'a Study')

    await keys.press(button('Save study'))
    await seen(/Study does not say yet/)
    await keys.type(field(/^Was the prediction right/), 'Yes: it fell to a quarter, as we said.')
    await keys.type(field('What was learned'), 'Clean hands matter more than clean air.')
    await keys.press(button('Save study'))
    await group('What does the team do with the change?').waitFor()
    await expectAccessible(page, 'a test that waits for its decision')
  })

  step('decides to adapt, and carries the plan over with the differences marked', async () => {
    await keys.choose(group('What does the team do with the change?'), /^Adapt/)
    await keys.type(field('Reason'), 'It held for a year. Instruments are not washed yet.')
    await keys.type(field('What the next test will change'), 'Instruments are washed too.')
    // The figures suggest something else, so the reason may be given; it need not.
    await keys.type(field(/^Why not as the figures suggest/), 'Instruments carry it as well.')
    await expectAccessible(page, 'a decision that differs from the figures')
    await keys.press(button('Adapt and plan the next test'))
    await seen(/^Carried over from/)
    await expectAccessible(page, 'the next test')
    await seen(/Was in test 1:/)
    expect(await field('Change').inputValue()).toContain('Instruments are washed too.')
    expect(await field('Question').inputValue()).toBe(
      'Do fewer mothers die when hands are washed in chlorine?',
    )
    expect(await field('Why').inputValue()).toBe('')
    await keys.press(link('The whole ramp'))
    await seen(/1 adapted/)
    await expectAccessible(page, 'a ramp')
  })

  step('starts a phase with the test that explains it, and shows both centres', async () => {
    await keys.press(link('Deaths after childbirth'))
    await keys.press(link('Mothers who died'))
    await heading('Mothers who died').waitFor()
    await keys.press(button('Start a phase'))
    await keys.date(page.getByLabel('First day'), '1847-06-01')
    await keys.type(field('Reason'), 'Hands are washed in chlorine from the middle of May 1847.')
    await keys.select(page.getByLabel(/Test of change that explains it/), 'Test 1')
    await keys.press(button('Start the phase'))
    // Semmelweis 1861: pooled 10.5 % of births before, 2.2 % after.
    await seen(/2\.2 %/)
    await seen(/11 %|10\.5 %/)
    await expectAccessible(page, 'a measure with two phases')
  })

  step(
    'reads the effect point by point, and the decision beside what the figures said',
    async () => {
      await keys.press(link('Deaths after childbirth'))
      await keys.press(link('Effect over time'))
      await heading('Mothers who died: better than its earlier line carried on.').waitFor()
      await keys.reach(page.locator('[data-point][tabindex="0"]').first())
      await page.keyboard.press('End')
      await seen(/Mar(ch)? (1, )?1849|1849-03/)
      await seen(/; fitted line .*; line before, carried on .* \(95 % interval/)
      await expectAccessible(page, 'the effect of a test')
      await page.goBack()
      await keys.press(page.locator(`main a[href="/tests/${firstTest}"]`).first())
      await seen('The team decided otherwise.')
      await seen('Instruments carry it as well.')
      await expectAccessible(page, 'a closed test')
    },
  )

  for (const path of PATHS)
    step(`has nothing for axe to find on ${path}, nor at phone width`, async () => {
      await page.goto(server.address + path)
      await page.getByRole('heading', { level: 1 }).waitFor()
      await expectAccessible(page, path)
      await page.setViewportSize({ width: 360, height: 780 })
      await expectAccessible(page, `${path} at 360 px`)
      const width = await page.evaluate(() => document.documentElement.scrollWidth)
      expect(width).toBeLessThanOrEqual(360)
      await page.setViewportSize({ width: 1280, height: 900 })
    })

  step('signs out and in again', async () => {
    await page.goto(server.address)
    await keys.press(button('Ines Okonjo'))
    await keys.press(button('Sign out'))
    await heading('Sign in').waitFor()
    await expectAccessible(page, 'sign-in')
    await keys.type(field('E-mail'), 'ines@example.org')
    await keys.type(page.getByLabel('Password', { exact: true }), 'a long enough phrase')
    await keys.press(button('Sign in'))
    await heading('Today').waitFor()
  })

  step('met no exception, console error or blocked resource on the way', async () => {
    expect(complaints).toEqual([])
  })

  function api<T>(path: string): Promise<T> {
    return page.evaluate(async (p) => (await fetch(p)).json(), path)
  }
})

const idOf = (page: Page) => new URL(page.url()).pathname.split('/').at(-1)!

import { rmSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import type { Browser, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest'
import { complaintsOf, expectAccessible, Keyboard, launchBrowser } from '../support/browser.ts'
import { PASSWORD, startTestServer, type TestServer } from '../support/server-client.ts'
import { testFolder, testPort } from '../support/side-by-side.ts'
import { openWorkshop, type Phone, type Workshop, wholeRound } from '../support/workshop-client.ts'

// The wrap-up of a workshop in a real browser: on a screen, on a phone, on paper, and by keyboard
// alone from a table's page to a plan on a ward.

vi.setConfig({ testTimeout: 240_000 })

const ROOT = fileURLToPath(new URL('../..', import.meta.url))

/** Builds the pages from the source into a folder of their own. */
async function buildPages(webDir: string): Promise<void> {
  const { build } = await import('vite')
  const { NODE_ENV } = process.env
  // Otherwise the test runner's own setting would put a developer's extras into it.
  process.env['NODE_ENV'] = 'production'
  await build({
    configFile: join(ROOT, 'vite.config.ts'),
    logLevel: 'silent',
    build: { outDir: webDir, emptyOutDir: true },
  })
  process.env['NODE_ENV'] = NODE_ENV
}

const NAMES = ['Kestrel', 'Wren', 'Heron', 'Plover', 'Finch', 'Swift']

describe('the wrap-up in a browser', () => {
  const folder = testFolder()
  let server: TestServer
  let browser: Browser
  let address: string
  let room: Workshop
  let open: Workshop
  let kestrel: Phone

  beforeAll(async () => {
    const webDir = join(folder, 'web')
    await buildPages(webDir)
    server = await startTestServer(
      { dataDir: join(folder, 'data'), databaseUrl: undefined },
      { webDir },
    )
    await server.as('owner')
    await server.as('member')
    room = await openWorkshop(server)
    for (const [t, name] of NAMES.entries()) {
      const phone = await room.join(name, 'Ana')
      if (t === 0) kestrel = phone
      for (const [i, seconds] of [100, 80, 70].entries())
        await phone.move(...wholeRound(i + 1, seconds + 6 * t))
    }
    await room.leads({ kind: 'close' })
    open = await openWorkshop(server)
    await (await open.join('Dunnock')).move(...wholeRound(1))
    address = await server.app.listen({ host: '127.0.0.1', port: Number(testPort()) })
    browser = await launchBrowser()
  }, 120_000)
  afterAll(async () => {
    await browser?.close()
    await server?.close()
    rmSync(folder, { recursive: true, force: true })
  })

  /** A page on which somebody is signed in, and all it complained about. */
  async function signedIn(email: string, look: { width: number; dark: boolean }) {
    const context = await browser.newContext({
      viewport: { width: look.width, height: 900 },
      colorScheme: look.dark ? 'dark' : 'light',
      locale: 'en-GB',
    })
    const page = await context.newPage()
    const complaints = complaintsOf(page)
    await page.goto(address)
    await page.getByLabel('E-mail').fill(email)
    await page.getByLabel('Password', { exact: true }).fill(PASSWORD)
    await page.keyboard.press('Enter')
    await page.getByRole('heading', { name: 'Today' }).waitFor()
    return { context, page, complaints }
  }
  const visit = async (page: Page, path: string, heading: string | RegExp) => {
    await page.goto(address + path)
    await page.getByRole('heading', { level: 1, name: heading }).waitFor()
    await page.waitForLoadState('networkidle')
  }
  const member = 'member-2@saltmarsh.example'

  it.each([
    { width: 1280, dark: true },
    { width: 360, dark: false },
  ])('reads well and is accessible at $width pixels (dark: $dark)', async (look) => {
    const { context, page, complaints } = await signedIn(member, look)
    for (const [path, heading] of [
      [`/workshops/${room.id}/wrap-up`, 'Wrap-up: Morning class'],
      [`/workshops/${room.id}/tables/${kestrel.tableId}`, 'Kestrel'],
      [`/workshops/${room.id}/ward?table=${kestrel.tableId}`, 'Take this to the ward'],
      [`/predictions?workshop=${room.id}&table=${kestrel.tableId}`, 'Predictions'],
    ] as const) {
      await visit(page, path, heading)
      await expectAccessible(page, `${path} at ${look.width}`)
      const beyond = await page.evaluate(
        () => document.documentElement.scrollWidth - window.innerWidth,
      )
      expect(beyond, path).toBeLessThanOrEqual(0)
    }
    await visit(page, `/workshops/${room.id}/wrap-up`, 'Wrap-up: Morning class')
    // Every table has its two pictures; each says in words what it shows.
    for (const name of NAMES)
      expect(await page.getByRole('img', { name, exact: true }).count()).toBe(2)
    expect(await page.getByText('For a typical table, twice as many rounds').count()).toBe(1)
    expect(complaints).toEqual([])
    await context.close()
  })

  it.each(['A4', 'Letter'])(
    'prints on %s, dark on white and without the buttons',
    async (format) => {
      const { context, page } = await signedIn(member, { width: 1280, dark: true })
      await visit(page, `/workshops/${room.id}/tables/${kestrel.tableId}`, 'Kestrel')
      const pdf = await page.pdf({ format })
      const pages = pdf.toString('latin1').match(/\/Type\s*\/Page\b/g)?.length ?? 0
      expect(pages).toBeGreaterThanOrEqual(2)
      expect(pages).toBeLessThanOrEqual(5)
      await page.emulateMedia({ media: 'print' })
      const look = await page.evaluate(() => ({
        ink: getComputedStyle(document.body).color,
        button: document.querySelector('.page-head .button')?.checkVisibility() ?? false,
        ward: [...document.querySelectorAll('a')]
          .filter((a) => a.textContent === 'Take this to the ward')
          .some((a) => a.checkVisibility()),
      }))
      expect(look).toEqual({ ink: 'rgb(20, 33, 31)', button: false, ward: false })
      await context.close()
    },
  )

  it('keeps an open workshop from a member, and says to a coach that it is open', async () => {
    const path = `/workshops/${open.id}/wrap-up`
    const low = await signedIn(member, { width: 1280, dark: false })
    await visit(low.page, path, 'This page cannot be shown')
    expect(await low.page.getByText(/is still open/).count()).toBe(1)
    await low.context.close()
    const coach = await signedIn('coach-4@saltmarsh.example', { width: 1280, dark: false })
    await visit(coach.page, path, 'Wrap-up: Morning class')
    expect(await coach.page.getByText(/The workshop is still open/).count()).toBe(1)
    await coach.context.close()
  })

  it('takes a change from a table to a ward by keyboard alone', async () => {
    const { context, page, complaints } = await signedIn(member, { width: 1280, dark: false })
    const keys = new Keyboard(page)
    await visit(page, `/workshops/${room.id}/tables/${kestrel.tableId}`, 'Kestrel')
    await keys.press(page.getByRole('link', { name: 'Take this to the ward' }))
    await page.getByRole('heading', { name: 'Take this to the ward' }).waitFor()
    const field = (name: RegExp) => page.getByRole('textbox', { name })
    await keys.type(field(/^Name of the project/), 'Trays on bay 2')
    await keys.type(field(/^What is to get better/), 'Set-up before a line')
    await keys.type(field(/^By when/), 'June')
    await page.getByText('does not say yet: how much, for whom and from which baseline').waitFor()
    await keys.type(field(/^Question of the first test/), 'Does a reader save time?')
    await keys.press(page.getByRole('button', { name: 'Open the project' }))
    // What the table said is offered, and not taken as it stands.
    const change = field(/^Change to test on the ward/)
    await expect.poll(() => change.getAttribute('aria-invalid')).toBe('true')
    expect(await change.inputValue()).toBe('The reader points.')
    await keys.type(change, 'One nurse reads the list aloud for one tray.')
    await keys.press(page.getByRole('button', { name: 'Open the project' }))
    await page.waitForURL(/\/tests\//)
    await page.getByRole('heading', { level: 1 }).waitFor()
    await page
      .getByText(/The idea comes from the workshop/)
      .first()
      .waitFor()
    expect(complaints).toEqual([])
    await context.close()
  })
})

import { rmSync } from 'node:fs'
import type { Browser, BrowserContext, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, vi } from 'vitest'
import type { KitReply, RoomBrief } from '../../src/api/workshop-contract.ts'
import { SHIPPED_KITS } from '../../src/domain/workshop/kits/shipped-kits.ts'
import { trayFromACard } from '../../src/domain/workshop/kits/tray-from-a-card.ts'
import type { RoomState } from '../../src/domain/workshop/room-state.ts'
import { complaintsOf, expectAccessible, Keyboard, launchBrowser } from '../support/browser.ts'
import { networkBrowser } from '../support/network-browser.ts'
import { type ServerProcess, startServer } from '../support/server-process.ts'
import { testFolder } from '../support/side-by-side.ts'
import { story } from '../support/story.ts'

// A facilitator reads the kits, writes one from a copy, prepares a workshop with it and prints its
// sheets. Every control is reached by keyboard; long forms are filled in at once.

vi.setConfig({ testTimeout: 180_000 })

const OWNER = { name: 'Ines Okonjo', email: 'ines@example.org', password: 'a long enough phrase' }
/** The longest checklist and texts about as long as a line and a half of a sheet. */
const LONG_KIT = {
  ...trayFromACard,
  name: 'Twenty items',
  checklist: Array.from(
    { length: 20 },
    (_, i) => `The thing with the number ${i + 1} lies in its own place, the right way round.`,
  ),
  score: [
    { atLeast: 1, score: 3, label: 'All' },
    { atLeast: 0.9, score: 2, label: 'Nearly' },
    { atLeast: 0, score: 1, label: 'Fewer' },
  ],
}

/** Pages of a PDF, by its page objects. */
const pagesOf = (pdf: Buffer) => pdf.toString('latin1').match(/\/Type\s*\/Page\b/g)?.length ?? 0

describe('preparing a workshop', () => {
  const step = story()
  const folder = testFolder()
  let server: ServerProcess
  let browser: Browser
  let context: BrowserContext
  let page: Page
  let keys: Keyboard
  let complaints: string[]
  let send: Awaited<ReturnType<typeof networkBrowser>>['send']
  let roomId = ''

  beforeAll(async () => {
    server = await startServer({ dataDir: folder }, 'built')
    ;({ send } = await networkBrowser(server.address))
    expect(await send('POST', '/api/owner', OWNER)).toMatchObject({ status: 200 })
    browser = await launchBrowser()
    context = await browser.newContext({ viewport: { width: 1280, height: 900 }, locale: 'en-GB' })
    page = await context.newPage()
    page.setDefaultTimeout(30_000)
    complaints = complaintsOf(page)
    keys = new Keyboard(page)
    await page.goto(server.address)
    await page.getByLabel('E-mail').fill(OWNER.email)
    await page.getByLabel('Password', { exact: true }).fill(OWNER.password)
    await page.getByRole('button', { name: 'Sign in' }).click()
    await page.getByRole('heading', { name: 'Today' }).waitFor()
  }, 90_000)
  afterAll(async () => {
    await browser?.close()
    await server?.stop()
    rmSync(folder, { recursive: true, force: true })
  })

  const button = (name: string | RegExp) => page.getByRole('button', { name })
  const link = (name: string | RegExp) => page.getByRole('link', { name })
  const field = (label: string | RegExp, exact = false) =>
    page.getByRole('textbox', { name: label, exact })
  const heading = (name: string | RegExp) => page.getByRole('heading', { name })
  const ownKits = async () => (await send('GET', '/api/kits')).reply['kits'] as KitReply[]
  const rooms = async () => (await send('GET', '/api/rooms')).reply['rooms'] as RoomBrief[]

  step('finds six kits and reads one', async () => {
    await keys.press(link('Workshops'))
    await heading('Workshops').waitFor()
    await expectAccessible(page, 'Workshops, none yet')
    await keys.press(link('Kits'))
    await heading('Kits').waitFor()
    expect(await page.locator('.kit-list > li').count()).toBe(6)
    await expectAccessible(page, 'Kits')
    await keys.press(link('Built by ear'))
    await heading('Built by ear').waitFor()
    await page.getByText('A cube stands on the table in F4, and E4 is empty.').waitFor()
    const words = await page.locator('.kit-card desc').textContent()
    expect(words).toContain('A card of 6 columns, A to F, and 4 rows.')
    expect(words).toContain('D3 to F3: Long block.')
    await expectAccessible(page, 'a kit')
  })

  step('says what a kit still lacks, and shows where two things lie on each other', async () => {
    await keys.press(link('Copy and change'))
    await heading('Copy of Built by ear').waitFor()
    await keys.type(field('Name of the kit'), 'Blocks by ear')
    await field('In one sentence').fill(' ')
    await field('Items', true).fill('One only')
    // The flat block moves from A2 onto the roller in D2.
    const column = page.getByRole('combobox', { name: 'Column of Flat block' })
    await keys.select(column, 'C')
    await page.getByText('It lies on “').first().waitFor()
    await keys.press(button('Save the kit'))
    await page.getByText('The checklist has 1 item: write 6 to 20.').waitFor()
    await page.getByText('Say in one sentence what a table does.').waitFor()
    await expectAccessible(page, 'a kit with problems')
    expect(await ownKits()).toEqual([])
  })

  step('keeps what was typed when the page goes away', async () => {
    await page.reload()
    await page.getByText('What you typed earlier is here again').waitFor()
    expect(await field('Name of the kit').inputValue()).toBe('Blocks by ear')
  })

  step('takes a thing away and puts it back', async () => {
    await keys.press(button('Take away Flat block'))
    expect(await page.getByLabel(/^Thing \d+$/).count()).toBe(10)
    await keys.press(button('Put “Flat block” back'))
    expect(await page.getByLabel(/^Thing \d+$/).count()).toBe(11)
    await keys.select(page.getByRole('combobox', { name: 'Column of Flat block' }), 'A')
  })

  step('saves the kit once it is whole, and changes it', async () => {
    await field('In one sentence').fill('Build what only one can see.')
    const items = Array.from({ length: 7 }, (_, n) => `Block ${n + 1} stands right.`)
    await field('Items', true).fill(items.join('\n'))
    await field(/^Items right ?, step 2$/).fill('6')
    await keys.press(button('Save the kit'))
    await heading('Blocks by ear').waitFor()
    const [made] = await ownKits()
    expect(made).toMatchObject({ version: 1, kit: { name: 'Blocks by ear' } })
    expect(made!.kit.score.map(({ atLeast }) => atLeast)).toEqual([1, 6 / 7, 0])
    await keys.press(link('Change'))
    await heading('Change Blocks by ear').waitFor()
    await keys.type(field('Name of the kit'), 'Blocks by voice')
    await keys.press(button('Save the changes'))
    await heading('Blocks by voice').waitFor()
    expect((await ownKits())[0]).toMatchObject({ version: 2, kit: { name: 'Blocks by voice' } })
  })

  step('removes it, and brings it back with Undo', async () => {
    await keys.press(button('Remove'))
    await page.getByText('“Blocks by voice” is removed.').waitFor()
    expect(await ownKits()).toEqual([])
    await keys.press(button('Undo'))
    await link('Blocks by voice').waitFor()
    expect((await ownKits()).map(({ kit }) => kit.name)).toEqual(['Blocks by voice'])
  })

  step('opens a room with everything as it was chosen', async () => {
    await keys.press(link('Blocks by voice'))
    await keys.press(link('Prepare a workshop with it'))
    await heading('Prepare a workshop').waitFor()
    await expectAccessible(page, 'Prepare a workshop')
    await keys.type(field('Name').first(), ' ')
    await keys.press(button('Open the room'))
    await page.getByText('Give the workshop a name.').waitFor()
    await keys.type(field('Name').first(), 'Induction day')
    await keys.select(page.getByRole('combobox', { name: 'Rounds' }), '3')
    await keys.choose(page.getByRole('group', { name: 'Tables predict' }), /One number/)
    await keys.type(field(/For planning and predicting/), '130')
    await page.getByText('130: did you mean 1:30 or 130 seconds?').waitFor()
    await keys.press(button('1:30'))
    await keys.reach(page.getByRole('checkbox', { name: 'Who may speak, and when?' }))
    await page.keyboard.press('Space')
    await keys.press(button('Open the room'))
    await page.waitForURL(/\/workshops\/[0-9A-Z]{26}$/)
    roomId = page.url().split('/').at(-1)!
    const state = (await send('GET', `/api/rooms/${roomId}`)).reply as unknown as RoomState
    expect(state.room).toMatchObject({ name: 'Induction day', kit: { name: 'Blocks by voice' } })
    expect(state.room.settings).toMatchObject({
      rounds: 3,
      predicts: 'single',
      planSeconds: 90,
      trialSeconds: null,
      prompts: [0, 1, 2, 3],
      tryOut: false,
    })
    expect((await rooms())[0]).toMatchObject({ unitName: 'Workshops', closedAt: null })
  })

  step('shows the open workshop with its code, here and on Today', async () => {
    const [{ code } = { code: '' }] = await rooms()
    expect(code).toMatch(/^[0-9A-Z]{6}$/)
    await page.goto(`${server.address}/workshops`)
    await page.getByText(code).waitFor()
    await expectAccessible(page, 'Workshops, one open')
    await page.goto(server.address)
    await page.getByText('The workshop “Induction day” is open').waitFor()
    await expectAccessible(page, 'Today with an open workshop')
  })

  step('opens a room and its table for somebody who tries it out alone', async () => {
    await page.goto(`${server.address}/workshops/new`)
    const opened = context.waitForEvent('page')
    await keys.press(button('Try it out alone'))
    const table = await opened
    await table.waitForURL(/\/t\/[0-9A-Z]{6}/)
    await page.waitForURL(/\/workshops\/[0-9A-Z]{26}$/)
    expect((await rooms()).map(({ tryOut }) => tryOut).sort()).toEqual([false, true])
    await table.close()
  })

  step('prints each sheet on a page of its own, on A4 and on Letter', async () => {
    await page.goto(`${server.address}/workshops/${roomId}/print`)
    await button('Print 6 pages').waitFor()
    await expectAccessible(page, 'printing a workshop')
    for (const format of ['A4', 'Letter'])
      expect(pagesOf(await page.pdf({ format })), format).toBe(6)
  })

  step('prints every kit that comes with Pawl on the pages it says', async () => {
    for (const { key } of SHIPPED_KITS) {
      await page.goto(`${server.address}/workshops/kits/${key}/print`)
      await button('Print 6 pages').waitFor()
      for (const format of ['A4', 'Letter'])
        expect(pagesOf(await page.pdf({ format })), `${key} on ${format}`).toBe(6)
    }
  })

  step('holds the longest checklist on one page, too', async () => {
    const id = '01J00000000000000000KT2001'
    expect(await send('POST', '/api/kits', { id, kit: LONG_KIT })).toMatchObject({ status: 200 })
    await page.goto(`${server.address}/workshops/kits/${id}/print`)
    await button('Print 6 pages').waitFor()
    for (const format of ['A4', 'Letter'])
      expect(pagesOf(await page.pdf({ format })), format).toBe(6)
  })

  step('had no complaint of the browser', async () => {
    expect(complaints).toEqual([])
  })
})

import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, it, vi } from 'vitest'
import { makeId } from '../../src/domain/id.ts'
import { launchBrowser } from '../support/browser.ts'
import { networkBrowser } from '../support/network-browser.ts'
import { startServer } from '../support/server-process.ts'
import { testFolder } from '../support/side-by-side.ts'
import { listenTo, type Spoken } from '../support/spoken.ts'
import {
  buildTablePage,
  newPhone,
  startTableServer,
  type TableServer,
} from '../support/table-server.ts'

// What somebody hears who does not see the page: a round on a phone and a lock on the ward, through
// the accessibility tree. What a real screen reader made of it is in docs/accessibility.md.

vi.setConfig({ testTimeout: 120_000 })

let browser: Browser
let server: TableServer

beforeAll(async () => {
  server = await startTableServer({ dataDir: testFolder() }, await buildTablePage())
  browser = await launchBrowser()
}, 60_000)
afterAll(async () => {
  await browser?.close()
  await server?.stop()
})

const soon = <T>(read: () => T | Promise<T>) => expect.poll(read, { timeout: 20_000 })
const linesOf = async (spoken: Spoken) => (await spoken.read()).join('\n')

it('says each step of a round on a phone, what the clock does, and nothing over and over', async () => {
  const room = await server.openRoom()
  const { context, page } = await newPhone(browser)
  const spoken = await listenTo(page)
  const button = (name: string | RegExp) => page.getByRole('button', { name })
  /** By key, as whoever has no mouse: what is pressed has the focus. */
  const press = async (name: string | RegExp) => {
    await button(name).focus()
    await page.keyboard.press('Enter')
  }
  const type = async (label: string, text: string) => {
    await page.getByRole('textbox', { name: label }).focus()
    await page.keyboard.insertText(text)
  }
  /** The heading of the step is read out, and the window carries its name. */
  const hear = async (title: string) => {
    await soon(() => spoken.focused()).toBe(`heading 1: ${title}`)
    expect(await page.title()).toBe(`${title} – Pawl`)
  }

  await page.goto(`${server.address}/t/${room.code}`)
  await hear('Which table are you at?')
  expect(await spoken.read()).toEqual([
    'Invented class',
    'heading 1: Which table are you at?',
    expect.stringMatching(/\w/),
    'group: Table',
    'Table',
    'radio: A new table, checked',
    'A new table',
    'Name of the table',
    'text field: Name of the table',
    'First name or role, if you like',
    'text field: First name or role, if you like',
    'button: Join',
    'button: Another code',
  ])
  await type('Name of the table', 'Kestrel')
  await press('Join')
  await hear('What does this phone do?')
  await press('It does everything')
  await hear('This is the task')
  await press('Next: your strategy')
  await hear('How will you do it?')
  await type('Your strategy', 'Two hands, one tray')
  await press('Next: predict the time')
  await hear('How long will it take?')
  await press('Next: predict quality')
  await soon(() => spoken.focused()).toBe(
    'text field: At least, invalid, Fill in the lowest, such as 0:45.',
  )
  for (const [label, text] of [
    ['At least', '38'],
    ['Most likely', '0:45'],
    ['At most', '1:02'],
  ] as const)
    await type(label, text)
  await press('Next: predict quality')
  await hear('How many items will be right?')
  for (const label of ['At least', 'Most likely', 'At most']) await type(label, '6')
  await press('Next: lock it')
  await hear('Lock your prediction')
  // Not "zero thirty-eight", which is a time of day.
  expect(await spoken.read()).toContain('38 seconds to 1 minute 2 seconds, all 6 items right.')
  await press('Lock it')
  await soon(() => spoken.focused()).toMatch(
    /^text field: Why do you expect this\?, invalid, Say in a few words/,
  )
  await type('Why do you expect this?', 'Shorter ways')
  await press('Lock it')
  await hear('Your prediction is locked')

  await spoken.heard()
  await press('Count down from 3, then start')
  await soon(() => spoken.heard()).toEqual(['The clock starts at zero.'])
  await hear('The clock runs')
  await page.waitForTimeout(1500)
  expect(await linesOf(spoken)).toMatch(/^timer: Clock: \d seconds?$/m)
  expect(await spoken.heard()).toEqual([])
  await press(/^Stop$/)
  const { checklist } = (await room.state()).room.kit
  await hear(checklist[0]!)
  await soon(() => spoken.heard()).toEqual([
    expect.stringMatching(/^The clock stopped at [\d.]+ seconds?\.$/),
  ])
  for (const item of [...checklist.slice(1), '5 of 6 right']) {
    await press(item === '5 of 6 right' ? 'Not right' : /^Right$/)
    await hear(item)
  }
  await press('That is the inspection')
  await hear('What happened?')
  expect(await linesOf(spoken)).toMatch(
    /^It took [\d.]+ seconds?; you said 38 seconds to 1 minute 2 seconds\. That is quicker/m,
  )
  await page.getByText('The same in words').focus()
  await page.keyboard.press('Enter')
  await soon(() => linesOf(spoken)).toMatch(
    /^Round 1: predicted 38 seconds to 1 minute 2 seconds, all 6 items right; got [\d.]+ seconds?, 5 of 6/m,
  )
  await press('Next: talk it over')
  await hear('Talk it over')
  await type('Was the prediction right?', 'No')
  await type('What did you learn?', 'The way is short')
  await press('Next: decide')
  await hear('What do you do with it?')
  await press('Decide')
  await soon(() => spoken.focused()).toBe('group: Decision, Choose one of the three.')
  await page.getByRole('radio', { name: 'Adopt do it this way from now on' }).focus()
  await page.keyboard.press('Space')
  await type('Because', 'It is quick')
  await press('Decide')
  await hear('How will you do it?')
  expect((await spoken.read())[0]).toMatch(/^Table Kestrel · round 2 of \d$/)

  await spoken.heard()
  await room.lead({ kind: 'nudge', toTableId: null, text: 'Two minutes left.' })
  await soon(() => spoken.heard()).toEqual(['Two minutes left. Seen'])
  await press('Seen')
  // What was pressed is gone, and the focus is not.
  await soon(() => spoken.focused()).toBe('main:')
  await server.stop()
  await soon(() => spoken.heard()).toContain(
    'No connection at the moment; the page goes on without it.',
  )
  await server.again()
  await context.close()
})

it('says on the ward what a lock lacks, and that it is locked', async () => {
  const ward = await startServer({ dataDir: testFolder() }, 'built')
  const by = await networkBrowser(ward.address)
  const id = () => makeId(Date.now(), crypto.getRandomValues(new Uint8Array(10)))
  const [unitId, projectId, measureId, cycleId] = [id(), id(), id(), id()]
  const send = async (method: string, path: string, body: object) => {
    const { status, reply } = await by.send(method, path, body)
    expect(status, `${method} ${path}: ${JSON.stringify(reply)}`).toBe(200)
  }
  const who = { email: 'ines@example.org', password: 'a long enough phrase' }
  await send('POST', '/api/owner', { name: 'Ines Okonjo', ...who })
  await send('POST', '/api/units', { id: unitId, name: 'Ward 4', parentId: null })
  await send('POST', '/api/projects', { id: projectId, unitId, name: 'Summaries', aim: '' })
  await send('POST', '/api/measures', {
    ...{ id: measureId, projectId, name: 'Sent in a day', role: 'process', better: 'up', per: 1 },
    ...{ dataKind: 'classified', valueFormat: 'number', unitLabel: 'summaries', goal: null },
    ...{ operationalDefinition: '', collectionPlan: '', chartKind: 'auto', ruleSet: 'auto' },
  })
  await send('POST', '/api/cycles', {
    ...{ id: cycleId, projectId, title: 'Draft on the round', buildsOnId: null },
  })
  await send('PUT', `/api/cycles/${cycleId}/predictions/${id()}`, {
    ...{ measureId, expected: 0.7, low: 0.6, high: 0.8, confidence: 0.8, why: 'As before.' },
    version: null,
  })
  await send('PATCH', `/api/cycles/${cycleId}/plan`, {
    ...{ version: 1, change: 'Draft on the round.', determination: 'improvement' },
    ...{ approval: 'on-record', approvalNote: 'Register, entry 3.', couldHarm: 'no' },
    ...{ plannedFrom: '2026-03-02', plannedTo: '2026-03-08' },
  })

  const page = await (await browser.newContext({ locale: 'en-GB' })).newPage()
  const spoken = await listenTo(page)
  await page.goto(`${ward.address}/tests/${cycleId}`)
  await page.getByRole('textbox', { name: 'E-mail' }).fill(who.email)
  await page.getByLabel('Password').fill(who.password)
  await page.keyboard.press('Enter')
  await page.getByRole('heading', { name: 'Draft on the round' }).waitFor()
  expect(await page.title()).toBe('Draft on the round – Pawl')
  const lines = await spoken.read()
  expect(lines).toContain('link: Plan, open now')
  expect(lines.join('\n')).toMatch(/^group: Sent in a day process$/m)
  expect(lines.filter((line) => /field: (Lowest|Expected|Highest)/.test(line))).toEqual([
    expect.stringMatching(/"60 ?%"/),
    expect.stringMatching(/"70 ?%"/),
    expect.stringMatching(/"80 ?%"/),
  ])

  const lock = page.getByRole('button', { name: 'Lock and start' })
  await lock.focus()
  await page.keyboard.press('Enter')
  await soon(() => spoken.focused()).toMatch(/One thing is still missing/)
  await spoken.heard()
  const question = page.getByRole('textbox', { name: 'Question' })
  await question.focus()
  await page.keyboard.type('Does it work?', { delay: 20 })
  await soon(() => spoken.heard()).toEqual([expect.stringMatching(/^Saved \d/)])
  await lock.focus()
  await page.keyboard.press('Enter')
  await soon(() => spoken.focused()).toBe('heading 2: Do')
  expect(await spoken.heard()).toEqual(['The prediction is locked.'])
  expect(await linesOf(spoken)).toMatch(/^Locked on .* by Ines Okonjo\.$/m)
  await page.context().close()
  await ward.stop()
})

import type { Page } from 'playwright-core'
import { expect } from 'vitest'

const button = (page: Page, name: string | RegExp) => page.getByRole('button', { name })
const box = (page: Page, name: string | RegExp) => page.getByRole('textbox', { name })
/** What a busy machine may take to get something from a phone to the record. */
export const eventually = <T>(read: () => T | Promise<T>) => expect.poll(read, { timeout: 40_000 })

/** Looks at each step on the way. */
type Look = (where: string) => Promise<void> | void
const away: Look = () => {}
export const heading = (page: Page, name: string | RegExp) =>
  page.getByRole('heading', { level: 1, name })

/** Joins a new table; the phone does everything. */
export async function joinTable(
  page: Page,
  address: string,
  code: string,
  table: string,
  look = away,
) {
  await page.goto(`${address}/t/${code}`)
  await heading(page, 'Which table are you at?').waitFor()
  await look('the choice of a table')
  await box(page, 'Name of the table').fill(table)
  // As the key of a phone's keyboard that sends a form does.
  await box(page, 'Name of the table').press('Enter')
  await heading(page, 'What does this phone do?').waitFor()
  await look('the parts of a phone')
  await button(page, 'It does everything').click()
}

/** Strategy, both predictions and the lock. */
export async function planRound(
  page: Page,
  { strategy, time = ['38', '0:45', '0:55'], items = ['5', '6', '6'] }: PlannedRound,
  look = away,
) {
  await heading(page, /This is the task|How will you do it/).waitFor()
  const read = button(page, 'Next: your strategy')
  await look('task or strategy')
  if (await read.isVisible()) await read.click()
  await heading(page, 'How will you do it?').waitFor()
  await look('the strategy')
  if (strategy !== undefined) await box(page, 'Your strategy').fill(strategy)
  await button(page, 'Next: predict the time').click()
  await heading(page, 'How long will it take?').waitFor()
  await look('the predicted time')
  for (const [i, label] of ['At least', 'Most likely', 'At most'].entries())
    await box(page, label).fill(time[i]!)
  await button(page, 'Next: predict quality').click()
  await heading(page, 'How many items will be right?').waitFor()
  await look('the predicted items')
  for (const [i, label] of ['At least', 'Most likely', 'At most'].entries())
    await box(page, label).fill(items[i]!)
  await button(page, 'Next: lock it').click()
  await heading(page, 'Lock your prediction').waitFor()
  await look('the lock')
  await box(page, 'Why do you expect this?').fill('Shorter ways')
  await button(page, 'Lock it').click()
  await heading(page, 'Your prediction is locked').waitFor()
}
export interface PlannedRound {
  readonly strategy?: string
  readonly time?: readonly [string, string, string]
  readonly items?: readonly [string, string, string]
}

export async function start(page: Page) {
  await button(page, /^Start$/).click()
  await heading(page, 'The clock runs').waitFor()
}
export const stop = (page: Page) => button(page, /^Stop$/).click()

/** Goes through the checklist; `answers` say of each item whether it is right. */
export async function inspect(page: Page, answers: readonly boolean[], look = away) {
  for (const [i, right] of answers.entries()) {
    await page.getByText(`Item ${i + 1} of ${answers.length}`).waitFor()
    if (i === 0) await look('an item of the checklist')
    await button(page, right ? /^Right$/ : /^Not right$/).click()
  }
  await look('the whole inspection')
  await button(page, 'That is the inspection').click()
}

export async function debrief(
  page: Page,
  decision: 'Adopt' | 'Adapt' | 'Abandon',
  nextChange = '',
  look = away,
) {
  await heading(page, 'What happened?').waitFor()
  await look('what happened')
  await button(page, 'Next: talk it over').click()
  await look('the debrief')
  await box(page, 'Was the prediction right?').fill('Inside the range')
  await box(page, 'What did you learn?').fill('The card has to lie in the middle')
  await button(page, 'Next: decide').click()
  await page.getByRole('radio', { name: decision }).check()
  await look('the decision')
  await box(page, 'Because').fill('It was quicker and whole')
  if (nextChange !== '') await box(page, 'What will you change next?').fill(nextChange)
  await button(page, 'Decide').click()
}

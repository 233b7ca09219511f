import type { Browser, BrowserContext, Page } from 'playwright-core'
import type { DecisionKind } from '../../src/domain/record.ts'
import { complaintsOf } from './browser.ts'

export interface PlanTyped {
  readonly strategy: string
  /** Low, expected and high, as typed. */
  readonly time: readonly [string, string, string]
  readonly items: readonly [number, number, number]
}

/** A phone at a table of the workshop, as somebody taps it. */
export class Phone {
  readonly context: BrowserContext
  page: Page
  private readonly heard: string[][] = []

  private constructor(context: BrowserContext, page: Page) {
    this.context = context
    this.page = page
  }

  /** @param skewMinutes By how much its clock of day is wrong. */
  static async open(browser: Browser, skewMinutes = 0): Promise<Phone> {
    const context = await browser.newContext({
      viewport: { width: 360, height: 740 },
      hasTouch: true,
      locale: 'en-GB',
    })
    if (skewMinutes !== 0)
      await context.addInitScript((ms) => {
        const RealDate = Date
        const now = () => RealDate.now() + ms
        globalThis.Date = new Proxy(RealDate, {
          construct: (target, args) =>
            args.length === 0
              ? new target(now())
              : new target(...(args as ConstructorParameters<typeof Date>)),
          get: (target, key) => (key === 'now' ? now : Reflect.get(target, key)),
        })
      }, skewMinutes * 60_000)
    const phone = new Phone(context, await context.newPage())
    phone.watch()
    return phone
  }

  private watch() {
    this.page.setDefaultTimeout(30_000)
    this.heard.push(complaintsOf(this.page))
  }

  /** What its pages complained about, but for a server that they could not reach. */
  get complaints(): string[] {
    return this.heard.flat().filter((complaint) => !complaint.includes('net::ERR_'))
  }

  /** The page is gone in an instant, as when the system ends it; then it is opened again. */
  async killAndReopen(): Promise<void> {
    const url = this.page.url()
    const next = await this.context.newPage()
    await this.page.goto('chrome://crash').catch(() => {})
    await this.page.close()
    this.page = next
    this.watch()
    await this.page.goto(url)
  }

  button = (name: string | RegExp) => this.page.getByRole('button', { name })
  field = (name: string | RegExp) => this.page.getByRole('textbox', { name })
  heading = (name: string | RegExp) => this.page.getByRole('heading', { name })
  tap = (name: string | RegExp) => this.button(name).tap()

  /** Waits for a heading; where it does not come, says what stands there instead. */
  async see(name: string | RegExp): Promise<void> {
    try {
      await this.heading(name).first().waitFor()
    } catch (error) {
      const text = await this.page.locator('main').textContent()
      throw new Error(`${(error as Error).message}\nThe phone shows: ${text}`)
    }
  }

  async join(address: string, code: string, table: string): Promise<void> {
    await this.page.goto(`${address}/t/${code}`)
    await this.see('Which table are you at?')
    const fresh = this.page.getByRole('radio', { name: 'A new table' })
    if (!(await fresh.isChecked())) await fresh.check({ force: true })
    await this.field('Name of the table').fill(table)
    await this.tap('Join')
    await this.see('What does this phone do?')
    await this.tap('It does everything')
  }

  async answerConfidence(value: number): Promise<void> {
    await this.see('How confident are you?')
    await this.page.getByRole('radio', { name: String(value), exact: true }).check({ force: true })
    await this.tap('Answer')
  }

  async plan({ strategy, time, items }: PlanTyped): Promise<void> {
    // Before the first round the task itself comes first.
    await this.see(/^This is the task$|^How will you do it/)
    if (await this.heading('This is the task').isVisible()) await this.tap('Next: your strategy')
    await this.see('How will you do it?')
    await this.field('Your strategy for this round').fill(strategy)
    await this.tap('Next: predict the time')
    await this.see('How long will it take?')
    await this.fillRange(time)
    await this.tap('Next: predict quality')
    await this.see('How many items will be right?')
    await this.fillRange(items.map(String))
    await this.tap('Next: lock it')
    await this.see('Lock your prediction')
    await this.field('Why do you expect this?').fill('It is what we saw before.')
  }
  private async fillRange(values: readonly string[]) {
    const labels = ['At least', 'Most likely', 'At most']
    for (const [i, label] of labels.entries()) await this.field(label).fill(values[i]!)
  }
  async lock(): Promise<void> {
    await this.tap('Lock it')
    await this.see('Your prediction is locked')
  }

  async start(): Promise<void> {
    await this.button('Start').first().tap()
    await this.see('The clock runs')
  }
  async stop(): Promise<void> {
    await this.tap('Stop')
  }

  /** @param wrong Items that are not right, from 0. */
  async inspect(items: number, wrong: readonly number[]): Promise<void> {
    for (let item = 0; item < items; item++) {
      await this.page.getByText(`Item ${item + 1} of ${items}`).waitFor()
      await this.button(wrong.includes(item) ? 'Not right' : /^Right$/).tap()
    }
    await this.tap('That is the inspection')
  }

  async decide(kind: DecisionKind, nextChange = ''): Promise<void> {
    await this.see('What happened?')
    await this.tap('Next: talk it over')
    await this.field(/^Was the prediction right/).fill('About right.')
    await this.field('What did you learn?').fill('Handing over early saves a pause.')
    await this.tap('Next: decide')
    const label = { adopt: 'Adopt', adapt: 'Adapt', abandon: 'Abandon' }[kind]
    await this.page.getByRole('radio', { name: new RegExp(`^${label}`) }).check({ force: true })
    await this.field('Because').fill('It was quicker and nothing was missing.')
    if (kind === 'adapt') await this.field('What will you change next?').fill(nextChange)
    await this.tap('Decide')
  }

  /** What this browser may ask the server, in the page's own name. */
  async api<T>(path: string): Promise<{ status: number; reply: T }> {
    return this.page.evaluate(async (url) => {
      const response = await fetch(url)
      return { status: response.status, reply: await response.json() }
    }, path) as Promise<{ status: number; reply: T }>
  }
}

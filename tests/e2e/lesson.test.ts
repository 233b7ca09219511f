import type { Browser, BrowserContext, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, vi } from 'vitest'
import type { RoomState, RoundState, TableState } from '../../src/domain/workshop/room-state.ts'
import { openDatabase } from '../../src/storage/database.ts'
import { verify } from '../../src/storage/verify.ts'
import { expectAccessible, launchBrowser } from '../support/browser.ts'
import { onBothEngines } from '../support/engines.ts'
import { networkBrowser } from '../support/network-browser.ts'
import { Phone, type PlanTyped } from '../support/phone.ts'
import { type ServerProcess, startServer } from '../support/server-process.ts'
import { story } from '../support/story.ts'

// A whole lesson in real browsers: a console, a room screen and four tables on phones whose clocks
// of day are wrong. One is out of reach for a whole round, one is ended in the middle of a trial,
// and the server is killed in the middle of a round. At the end every trial is there, once.

vi.setConfig({ testTimeout: 240_000 })

const OWNER = { name: 'Ines Okonjo', email: 'ines@example.org', password: 'a long enough phrase' }
const TABLES = ['Kestrel', 'Heron', 'Wren', 'Plover'] as const
type Name = (typeof TABLES)[number]
/** Minutes by which the phones' clocks are wrong: 10 either way. */
const SKEW: Readonly<Record<Name, number>> = { Kestrel: 10, Heron: -10, Wren: 0, Plover: 3 }
/** What each table has predicted for each round, typed in several ways. */
const plan = (name: Name, round: number): PlanTyped => ({
  strategy: `${name} stands closer together, way ${round}.`,
  time: round === 1 ? ['0:01', '30 s', '2:00'] : ['1 s', '0:20', '1:30'],
  items: [5, 6, 6],
})

onBothEngines('a lesson', ({ place }) => {
  const step = story()
  let browser: Browser
  let server: ServerProcess
  let where: Awaited<ReturnType<typeof place>>
  let desk: BrowserContext
  let console_: Page
  let screen: Page
  let phones: Record<Name, Phone>
  let roomId = ''
  let code = ''
  let items = 0
  /** Seconds each trial took by the test's own clock, by table and round. */
  const took = new Map<string, number>()

  beforeAll(async () => {
    where = await place()
    server = await startServer(where, 'built')
    browser = await launchBrowser()
    const visitor = await networkBrowser(server.address)
    expect((await visitor.send('POST', '/api/owner', OWNER)).status).toBe(200)
    desk = await browser.newContext({ viewport: { width: 1280, height: 900 }, locale: 'en-GB' })
    console_ = await desk.newPage()
    console_.setDefaultTimeout(30_000)
    const room = await browser.newContext({ viewport: { width: 1920, height: 1080 } })
    screen = await room.newPage()
    screen.setDefaultTimeout(30_000)
  }, 60_000)
  afterAll(async () => {
    await browser?.close()
    await server?.stop()
  })

  const each = <T>(
    work: (phone: Phone, name: Name) => Promise<T>,
    names: readonly Name[] = TABLES,
  ) => Promise.all(names.map((name) => work(phones[name], name)))
  const press = (name: string | RegExp) => console_.getByRole('button', { name }).click()
  const onScreen = (title: string | RegExp) =>
    screen.getByRole('heading', { name: title }).waitFor()
  const room = async () => {
    const { reply } = await facilitator<RoomState>(`/api/rooms/${roomId}`)
    return reply
  }
  const facilitator = <T>(path: string) =>
    console_.evaluate(async (url) => {
      const response = await fetch(url)
      return { status: response.status, reply: await response.json() }
    }, path) as Promise<{ status: number; reply: T }>
  const tableIn = (state: RoomState, name: Name): TableState =>
    state.tables.find((table) => table.name === name)!
  const roundOf = (state: RoomState, name: Name, round: number): RoundState | undefined =>
    tableIn(state, name).rounds.find(({ number }) => number === round)
  /** Until the server has it, whatever the phone had to wait for. */
  const recorded = (what: string, test: (state: RoomState) => boolean) =>
    expect
      .poll(async () => test(await room()), { message: what, timeout: 60_000, interval: 300 })
      .toBe(true)
  const lockedIn = (round: number, names: readonly Name[]) =>
    recorded(`round ${round} is locked`, (state) =>
      names.every((name) => roundOf(state, name, round)?.lockedAt != null),
    )
  const decidedIn = (round: number, names: readonly Name[]) =>
    recorded(`round ${round} is decided`, (state) =>
      names.every((name) => roundOf(state, name, round)?.decision != null),
    )

  /** Lets the clock run for a while and stops it. */
  async function runFor(phone: Phone, name: Name, round: number, ms: number): Promise<void> {
    await phone.heading('The clock runs').waitFor()
    const begun = performance.now()
    await phone.page.waitForTimeout(ms)
    await phone.stop()
    took.set(`${name} ${round}`, (performance.now() - begun) / 1000)
  }
  const wrongItems = (name: Name, round: number) => (name === 'Plover' && round === 1 ? [1] : [])
  async function finish(phone: Phone, name: Name, round: number): Promise<void> {
    await phone.inspect(items, wrongItems(name, round))
    await phone.decide(round === 1 ? 'adapt' : 'adopt', 'Pass with both hands.')
  }

  step('is prepared at the console', async () => {
    await console_.goto(`${server.address}/workshops/new`)
    await console_.getByRole('textbox', { name: 'E-mail' }).fill(OWNER.email)
    await console_.getByLabel('Password').fill(OWNER.password)
    await press('Sign in')
    await console_.getByRole('heading', { name: 'Prepare a workshop' }).waitFor()
    await expectAccessible(console_, 'preparing a workshop')
    await console_
      .getByRole('combobox', { name: 'Kit' })
      .selectOption({ label: 'Every pair of hands' })
    await console_.getByRole('combobox', { name: 'Rounds' }).selectOption('3')
    await press('Open the room')
    await console_.waitForURL(/\/workshops\/[0-9A-Z]{26}$/)
    roomId = console_.url().split('/').at(-1)!
    const state = await room()
    code = state.room.code
    items = state.room.kit.checklist.length
    expect(code).toMatch(/^[A-Z0-9]{6}$/)
    expect(items).toBeGreaterThanOrEqual(6)
  })

  step('is joined from phones without an account', async () => {
    await screen.goto(`${server.address}/screen/${code}`)
    await onScreen('Join your table')
    await expectAccessible(screen, 'the room screen, joining')
    const opened = await Promise.all(TABLES.map((name) => Phone.open(browser, SKEW[name])))
    phones = Object.fromEntries(TABLES.map((name, i) => [name, opened[i]!])) as typeof phones
    // One after the other, so that each finds the tables before it.
    for (const name of TABLES) await phones[name].join(server.address, code, name)
    await each((phone) => phone.answerConfidence(4))
    for (const name of TABLES) await screen.getByText(name).first().waitFor()
    await expectAccessible(console_, 'the console')
  })

  step('keeps predictions to their table until all have locked', async () => {
    await press('Begin round 1: plan and predict')
    await onScreen(/Round 1: plan and predict/)
    await phones.Kestrel.heading('This is the task').waitFor()
    await expectAccessible(phones.Kestrel.page, 'the task on a phone')
    await each((phone, name) => phone.plan(plan(name, 1)))
    await phones.Kestrel.lock()
    await lockedIn(1, ['Kestrel'])
    const { reply } = await phones.Heron.api<RoomState>(`/api/rooms/${roomId}`)
    expect(roundOf(reply, 'Kestrel', 1)).toMatchObject({
      withheld: true,
      predictions: null,
      strategy: null,
    })
    expect(JSON.stringify(reply)).not.toContain(plan('Kestrel', 1).strategy)
    const { projectId } = tableIn(reply, 'Kestrel')
    for (const path of [
      `/api/projects/${projectId}`,
      `/api/cycles/${roundOf(reply, 'Kestrel', 1)!.cycleId}`,
      `/api/calibration/projects/${projectId}`,
    ])
      expect((await phones.Heron.api(path)).status, path).toBe(401)
    await each((phone) => phone.lock(), ['Heron', 'Wren', 'Plover'])
    await lockedIn(1, TABLES)
    const { reply: after } = await phones.Heron.api<RoomState>(`/api/rooms/${roomId}`)
    expect(roundOf(after, 'Kestrel', 1)!.predictions!.time).toEqual({
      low: 1,
      expected: 30,
      high: 120,
    })
    await onScreen(/Round 1: all have locked/)
    await expectAccessible(screen, 'the room screen, all locked')
  })

  step('cannot change a locked prediction, whatever the phone sends', async () => {
    const status = await phones.Heron.page.evaluate(async (id) => {
      const { csrf } = await (await fetch('/api/session')).json()
      const range = { low: 0.5, expected: 1, high: 1 }
      const move = { kind: 'lock', round: 1, strategy: 'Another.', why: 'x', confidence: 0.8 }
      const made = '01J0000000000000000000HER0'
      const response = await fetch(`/api/rooms/${id}/moves`, {
        method: 'POST',
        headers: { 'content-type': 'application/json', 'x-pawl-csrf': csrf },
        body: JSON.stringify({
          moves: [{ ...move, id: made, ageMs: 0, time: { ...range, high: 9 }, quality: range }],
        }),
      })
      return (await response.json()).results[0].outcome as string
    }, roomId)
    expect(status).toBe('refused')
    expect(roundOf(await room(), 'Heron', 1)!.predictions!.time!.expected).toBe(30)
  })

  step('plays the first round together', async () => {
    await press(/^Start round 1 for all/)
    await each(async (phone, name) => {
      await runFor(phone, name, 1, 1500 + 700 * TABLES.indexOf(name))
      await phone.page.getByText(`Item 1 of ${items}`).waitFor()
    })
    await expectAccessible(phones.Wren.page, 'the inspection on a phone')
    await press('Compare round 1')
    await onScreen(/Round 1: times and predictions/)
    await each((phone, name) => finish(phone, name, 1))
    await decidedIn(1, TABLES)
    await expectAccessible(screen, 'the room screen, comparing')
  })

  step('goes on with one table out of reach and one phone that was ended', async () => {
    await phones.Wren.heading('Round 2 opens soon').waitFor()
    await phones.Wren.context.setOffline(true)
    // An open stream may outlive the browser's going out of reach; a reload does not.
    await phones.Wren.page.reload()
    await phones.Wren.heading('Round 2 opens soon').waitFor()
    await press('Debrief round 1')
    await press('Begin round 2: plan and predict')
    const near = TABLES.filter((name) => name !== 'Wren')
    const wren = (async () => {
      const phone = phones.Wren
      await phone.tap('Plan round 2 now')
      await phone.plan(plan('Wren', 2))
      await phone.lock()
      await phone.start()
      await runFor(phone, 'Wren', 2, 2500)
      await finish(phone, 'Wren', 2)
      await phone.page
        .getByText(/on this phone/i)
        .first()
        .waitFor()
    })()
    await each(async (phone, name) => {
      await phone.plan(plan(name, 2))
      await phone.lock()
    }, near)
    await lockedIn(2, near)
    await press(/^Start round 2 for all/)
    await Promise.all([
      wren,
      ...near.map(async (name) => {
        const phone = phones[name]
        if (name !== 'Plover') await runFor(phone, name, 2, 1500)
        else {
          await phone.heading('The clock runs').waitFor()
          const begun = performance.now()
          await phone.page.waitForTimeout(1000)
          await phone.killAndReopen()
          await phone.heading('The clock runs').waitFor()
          await phone.stop()
          took.set('Plover 2', (performance.now() - begun) / 1000)
        }
        await finish(phone, name, 2)
      }),
    ])
    await decidedIn(2, near)
    // Its decision in round 1 opened the next round; of what it did since, the server knows nothing.
    expect(roundOf(await room(), 'Wren', 2)).toMatchObject({ lockedAt: null, trials: [] })
    // Back in reach, it sends what it did, in order and once.
    await phones.Wren.context.setOffline(false)
    await decidedIn(2, TABLES)
  })

  step('goes on after the server was killed in the middle of a round', async () => {
    await press(/^Compare round 2/)
    await press('Debrief round 2')
    await press('Begin round 3: plan and predict')
    await each(async (phone, name) => {
      await phone.plan(plan(name, 3))
      if (name !== 'Heron') await phone.lock()
    })
    await lockedIn(3, ['Kestrel', 'Wren', 'Plover'])
    await phones.Kestrel.start()
    const kestrel = runFor(phones.Kestrel, 'Kestrel', 3, 4000)
    await phones.Wren.start()
    await runFor(phones.Wren, 'Wren', 3, 800)
    const { address } = server
    await server.kill()
    // Nothing answers now; the phones go on.
    const done = Promise.all([
      kestrel.then(() => finish(phones.Kestrel, 'Kestrel', 3)),
      finish(phones.Wren, 'Wren', 3),
      phones.Heron.lock().then(async () => {
        await phones.Heron.start()
        await runFor(phones.Heron, 'Heron', 3, 1200)
        await finish(phones.Heron, 'Heron', 3)
      }),
      phones.Plover.page.waitForTimeout(2500),
    ])
    await done
    server = await startServer(where, 'built', [], new URL(address).port)
    expect(server.address).toBe(address)
    await phones.Plover.start()
    await runFor(phones.Plover, 'Plover', 3, 1000)
    await finish(phones.Plover, 'Plover', 3)
    await decidedIn(3, TABLES)
  })

  step('is wrapped up, and the screens have come back by themselves', async () => {
    await console_.getByRole('button', { name: 'Compare', exact: true }).click()
    await onScreen(/Round 3: times and predictions/)
    for (const name of TABLES) await screen.getByText(name).first().waitFor()
    await press('Debrief round 3')
    await console_.getByRole('button', { name: 'Wrap up' }).last().click()
    await each((phone) => phone.answerConfidence(7))
    await each((phone) => phone.heading('That was the last round').waitFor())
    await recorded('every phone has answered twice', ({ tables }) =>
      tables.every(({ seats }) => seats.every(({ confidenceAfter }) => confidenceAfter === 7)),
    )
    await console_.goto(`${server.address}/workshops/${roomId}/wrap-up`)
    await console_.getByText('Kestrel').first().waitFor()
    await expectAccessible(console_, 'the wrap-up')
  })

  step('has every trial once, with its locked prediction and a right time', async () => {
    const { tables } = await room()
    expect(tables.map(({ name }) => name)).toEqual(TABLES)
    for (const name of TABLES) {
      const { rounds } = tables.find((table) => table.name === name)!
      expect(rounds.map(({ number }) => number)).toEqual([1, 2, 3])
      for (const { number, trials, predictions, lockedAt, seconds, right, decision } of rounds) {
        const at = `${name}, round ${number}`
        expect(trials, at).toHaveLength(1)
        const [trial] = trials
        expect(trial!.readings, at).toHaveLength(1)
        expect(trial!.inspections, at).toHaveLength(1)
        expect(Date.parse(lockedAt!), at).toBeLessThanOrEqual(Date.parse(trial!.startedAt))
        const [low, expected, high] = number === 1 ? [1, 30, 120] : [1, 20, 90]
        expect(predictions!.time, at).toEqual({ low, expected, high })
        // The clocks of day were 10 minutes off; the test's own clock was not.
        expect(Math.abs(seconds! - took.get(`${name} ${number}`)!), at).toBeLessThan(5)
        expect(right, at).toBe(items - wrongItems(name, number).length)
        expect(decision!.kind, at).toBe(number === 1 ? 'adapt' : 'adopt')
        const reloaded = name === 'Plover' && number === 2
        expect(trial!.readings[0]!.how, at).toBe(reloaded ? 'device-clock' : 'steady-clock')
      }
    }
    for (const name of TABLES) {
      expect(phones[name].complaints, name).toEqual([])
      await phones[name].context.close()
    }
    await server.stop()
    const db = await openDatabase(where)
    expect((await db.snapshot(verify)).findings).toEqual([])
    await db.close()
  })
})

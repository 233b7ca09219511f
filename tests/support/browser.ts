import { existsSync } from 'node:fs'
import AxeBuilder from '@axe-core/playwright'
import { type Browser, chromium, type Locator, type Page } from 'playwright-core'
import { expect } from 'vitest'

const PATHS = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome']

/** A real Chromium, from CHROMIUM or the usual places. */
export async function launchBrowser(): Promise<Browser> {
  const executablePath = process.env['CHROMIUM'] ?? PATHS.find((path) => existsSync(path))
  if (executablePath === undefined)
    throw new Error('These tests need Chromium: apt-get install -y chromium, or set CHROMIUM.')
  return chromium.launch({
    executablePath,
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
    ],
  })
}

/** Everything the page complained about: exceptions, console errors, refused resources. */
export function complaintsOf(page: Page): string[] {
  const complaints: string[] = []
  page.on('pageerror', (error) => complaints.push(`exception: ${error.message}`))
  page.on('console', (message) => {
    // A refused save answers 4xx, which Chromium also reports here; the page shows it itself.
    if (message.type() === 'error' && !/status of 4\d\d/.test(message.text()))
      complaints.push(`console: ${message.text()}`)
  })
  return complaints
}

/** axe finds nothing against WCAG 2.2 A and AA, nor its best practices. */
export async function expectAccessible(page: Page, where: string): Promise<void> {
  // Pawl has no frames; without this mode axe opens a page of its own and takes the focus away.
  const { violations } = await new AxeBuilder({ page }).setLegacyMode().analyze()
  const found = violations.map(
    (v) => `${v.id}: ${v.help}\n${v.nodes.map((n) => `  ${n.target.join(' ')}`).join('\n')}`,
  )
  expect(found, `axe on ${where}`).toEqual([])
}

const FURTHEST = 250

/** A person who has only a keyboard: reaches things with Tab and never touches a mouse. */
export class Keyboard {
  readonly page: Page
  constructor(page: Page) {
    this.page = page
  }

  /** Tab until the element has the focus; fails where Tab never gets there. */
  async reach(target: Locator, backwards = false): Promise<void> {
    await target.first().waitFor({ state: 'visible' })
    for (let i = 0; i < FURTHEST; i++) {
      if (await hasFocus(target)) {
        await expectVisibleFocus(this.page)
        return
      }
      await this.page.keyboard.press(backwards ? 'Shift+Tab' : 'Tab')
    }
    throw new Error(`Tab does not reach ${target} in ${FURTHEST} steps.`)
  }

  /** Reaches a button or link and presses Enter. */
  async press(target: Locator): Promise<void> {
    await this.reach(target)
    await this.page.keyboard.press('Enter')
  }

  /** Reaches a field and types into it, in place of what it held. */
  async type(target: Locator, text: string): Promise<void> {
    await this.reach(target)
    await this.page.keyboard.press('ControlOrMeta+a')
    await this.page.keyboard.type(text)
  }

  /** Reaches a group of radio buttons and moves to the one with this label by arrow keys. */
  async choose(group: Locator, label: string | RegExp): Promise<void> {
    const wanted = group.getByRole('radio', { name: label })
    await this.reach(group.getByRole('radio'))
    for (let i = 0; i < 12; i++) {
      if (await hasFocus(wanted)) {
        await this.page.keyboard.press('Space')
        await expect.poll(() => wanted.isChecked()).toBe(true)
        return
      }
      await this.page.keyboard.press('ArrowDown')
    }
    throw new Error(`Arrow keys do not reach ${label}.`)
  }

  /** Reaches a native select and picks the option that begins with the text, by typing it. */
  async select(target: Locator, text: string): Promise<void> {
    await this.reach(target)
    await this.page.keyboard.type(text)
    await expect
      .poll(() => target.evaluate((el) => (el as HTMLSelectElement).selectedOptions[0]?.text))
      .toContain(text)
  }

  /** Reaches a native date field and types a day into it, `YYYY-MM-DD`, in the browser's order. */
  async date(target: Locator, day: string): Promise<void> {
    await this.reach(target)
    const [year, month, date] = day.split('-')
    await this.page.keyboard.type(`${month}${date}${year}`)
    await expect.poll(() => target.inputValue()).toBe(day)
  }
}

async function hasFocus(target: Locator): Promise<boolean> {
  return target.evaluateAll((elements) => elements.some((el) => el === document.activeElement))
}

/** WCAG 2.4.7: whoever moves by keyboard sees where they are. */
async function expectVisibleFocus(page: Page): Promise<void> {
  const shown = () =>
    page.evaluate(() => {
      const el = document.activeElement
      if (el === null || el === document.body) return false
      const drawn = (box: Element) => {
        const style = getComputedStyle(box)
        const outlined = style.outlineStyle !== 'none' && Number.parseFloat(style.outlineWidth) > 0
        return outlined || style.boxShadow !== 'none'
      }
      // Inside a chart the mark is drawn: a ring and a line at the point, an outline at the tooth.
      if (el instanceof SVGElement && !(el instanceof SVGSVGElement))
        return [...el.children].some((part) => {
          const { stroke, strokeWidth } = getComputedStyle(part)
          return stroke !== 'none' && Number.parseFloat(strokeWidth) >= 2
        })
      // It may be on the element or, for a hidden radio button, on the box around it.
      for (let box: Element | null = el; box !== null; box = box.parentElement) {
        if (drawn(box)) return true
        if (box.matches('form, section, main, body, dialog')) break
      }
      return false
    })
  const what = await page.evaluate(() => document.activeElement?.outerHTML.slice(0, 160))
  await expect.poll(shown, { message: `focus is visible on ${what}`, timeout: 5000 }).toBe(true)
}

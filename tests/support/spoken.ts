import type { CDPSession, Page } from 'playwright-core'

// A page as somebody hears it who does not see it: Chromium's own accessibility tree, which is what
// a screen reader is given, in reading order, one line for each thing; and what is announced without
// being asked for.

interface AxNode {
  readonly nodeId: string
  readonly ignored: boolean
  readonly role?: { readonly value: string }
  readonly name?: { readonly value: string }
  readonly description?: { readonly value: string }
  readonly value?: { readonly value: unknown }
  readonly properties?: readonly {
    readonly name: string
    readonly value: { readonly value?: unknown }
  }[]
  readonly childIds?: readonly string[]
}

/** Roles that are said with their name, in place of what is inside. */
const SAID: Readonly<Record<string, string>> = {
  ...{ button: 'button', link: 'link', checkbox: 'checkbox', radio: 'radio', option: 'option' },
  ...{ textbox: 'text field', combobox: 'list to choose from', spinbutton: 'number field' },
  ...{ heading: 'heading', image: 'image', img: 'image', timer: 'timer', Date: 'date field' },
  ...{ DisclosureTriangle: 'disclosure', columnheader: 'column', rowheader: 'row', cell: 'cell' },
}
/** Roles that are said, when they have a name, before what is inside. */
const ENTERED: Readonly<Record<string, string>> = {
  ...{ group: 'group', radiogroup: 'group', dialog: 'dialog', alertdialog: 'dialog' },
  ...{ navigation: 'navigation', region: 'region', figure: 'figure', table: 'table', form: 'form' },
}
/** Roles that begin a line of their own. */
const BLOCKS = new Set(['paragraph', 'listitem', 'status', 'alert', 'LabelText', 'Legend', 'term'])

export interface Spoken {
  /** The whole page in reading order. */
  read(): Promise<string[]>
  /** What has the focus. */
  focused(): Promise<string>
  /** Announcements since the last call: live regions, in the order in which they came. */
  heard(): Promise<string[]>
}

/** Listens to a page from its next load on. */
export async function listenTo(page: Page): Promise<Spoken> {
  const cdp = await page.context().newCDPSession(page)
  await cdp.send('Accessibility.enable')
  await page.addInitScript(recordAnnouncements)
  return {
    async read() {
      const nodes = await treeOf(cdp)
      const lines: string[] = []
      const root = nodes.values().next().value
      if (root !== undefined) readInto(root, nodes, lines)
      return lines.map(tidy).filter((line) => line !== '')
    },
    async focused() {
      for (const node of (await treeOf(cdp)).values())
        if (property(node, 'focused') === true && node.role?.value !== 'RootWebArea')
          return tidy(lineOf(node))
      return ''
    },
    heard: () => page.evaluate(() => (window as unknown as Recorder).pawlHeard?.splice(0) ?? []),
  }
}

async function treeOf(cdp: CDPSession): Promise<ReadonlyMap<string, AxNode>> {
  const { nodes } = (await cdp.send('Accessibility.getFullAXTree')) as unknown as {
    nodes: readonly AxNode[]
  }
  return new Map(nodes.map((node) => [node.nodeId, node]))
}

const property = (node: AxNode, name: string) =>
  node.properties?.find((p) => p.name === name)?.value.value
/** Spaces once, and none before a stop: the tree has the pieces of a sentence, not what is between. */
const tidy = (text: string) =>
  text
    .replace(/\s+/g, ' ')
    .replace(/ (?=[.,;:?!])/g, '')
    .trim()

/** Role, name, state and value of one thing, as a reader says them. */
function lineOf(node: AxNode): string {
  const role = node.role?.value ?? ''
  const is = (name: string, yes: string, no = '') => {
    const value = property(node, name)
    return value === undefined ? '' : value === true || value === 'true' ? yes : no
  }
  const level = property(node, 'level')
  const { value } = node.value ?? {}
  const states = [
    is('checked', 'checked', 'not checked'),
    is('pressed', 'pressed', 'not pressed'),
    is('expanded', 'expanded', 'collapsed'),
    is('disabled', 'unavailable'),
    is('invalid', 'invalid'),
    is('required', 'required'),
  ].filter((state) => state !== '')
  return [
    `${SAID[role] ?? ENTERED[role] ?? role}${level === undefined ? '' : ` ${level}`}: ${node.name?.value ?? ''}`,
    ...(typeof value === 'string' && value !== '' ? [`"${value}"`] : []),
    ...states,
    ...(node.description?.value ? [node.description.value] : []),
  ].join(', ')
}

function readInto(node: AxNode, nodes: ReadonlyMap<string, AxNode>, lines: string[]): void {
  const role = node.ignored ? '' : (node.role?.value ?? '')
  const inside = () => {
    for (const id of node.childIds ?? []) {
      const child = nodes.get(id)
      if (child !== undefined) readInto(child, nodes, lines)
    }
  }
  if (role === 'StaticText') {
    lines.push(`${lines.pop() ?? ''} ${node.name?.value ?? ''}`)
  } else if (role in SAID) {
    lines.push(lineOf(node), '')
  } else if (role in ENTERED && node.name?.value) {
    lines.push(lineOf(node), '')
    inside()
    lines.push('')
  } else if (BLOCKS.has(role)) {
    lines.push('')
    inside()
    lines.push('')
  } else inside()
}

interface Recorder {
  pawlHeard?: string[]
}

/**
 * In the page: keeps what live regions say. As readers do, a region is heard when it changes, not
 * when it comes with its text already in it; an alert is heard then too.
 */
function recordAnnouncements(): void {
  const heard: string[] = []
  ;(window as unknown as Recorder).pawlHeard = heard
  const LIVE = '[aria-live="polite"], [aria-live="assertive"], [role="status"], [role="alert"]'
  const textOf = (node: Node): string => {
    if (node instanceof Element && node.closest('[aria-hidden="true"]') !== null) return ''
    if (node.nodeType === Node.TEXT_NODE) return node.textContent ?? ''
    return [...node.childNodes].map(textOf).join(' ')
  }
  const say = (node: Node) => {
    const text = textOf(node).replace(/\s+/g, ' ').trim()
    if (text !== '' && heard.at(-1) !== text) heard.push(text)
  }
  new MutationObserver((changes) => {
    const changed = new Set<Node>()
    const fresh = new Set<Node>()
    for (const { type, target, addedNodes } of changes) {
      if (type === 'characterData') changed.add(target)
      for (const node of addedNodes) {
        fresh.add(node)
        changed.add(node)
      }
    }
    for (const node of changed) {
      if (!node.isConnected) continue
      const element = node instanceof Element ? node : node.parentElement
      if (element?.closest('[aria-hidden="true"]')) continue
      const region = (fresh.has(node) ? node.parentElement : element)?.closest(LIVE)
      if (region instanceof Element && ![...fresh].some((n) => n !== node && n.contains(region)))
        // A status and an alert are said whole, another region only as far as it changed.
        say(region.hasAttribute('role') ? region : node)
      else if (node instanceof Element) {
        const alerts = node.matches('[role="alert"]')
          ? [node]
          : node.querySelectorAll('[role="alert"]')
        for (const alert of alerts) say(alert)
      }
    }
  }).observe(document, { subtree: true, childList: true, characterData: true })
}

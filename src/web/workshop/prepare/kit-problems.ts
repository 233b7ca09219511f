import type { Issue } from '../../../domain/issue.ts'
import type { Kit } from '../../../domain/workshop/kit.ts'
import { kitIssues } from '../../../domain/workshop/kit-issues.ts'

/** Lists typed with one entry a line: their issues name the line. */
const LISTS = ['bring', 'task', 'checklist', 'prompts', 'hints', 'variations']

/** The editor asks for items, where the kit holds shares. */
const IN_ITEMS: Readonly<Record<string, (items: number) => string>> = {
  'kit.score_share': (n) => `Write a number of items from 0 to ${n}, or “all”.`,
  'kit.score_end': () => 'The last step takes what is left: write 0.',
}

/** What is wrong with a kit as typed, the first issue of each field of the form. */
export function kitProblems(kit: Kit): Readonly<Record<string, string>> {
  const found: Record<string, string> = {}
  for (const issue of kitIssues(kit)) {
    const [head = '', line] = issue.field.split(':')
    const inList = LISTS.includes(head) && line !== undefined
    const field = inList ? head : issue.field
    found[field] ??= inList ? `Line ${Number(line) + 1}: ${issue.message}` : worded(issue, kit)
  }
  return found
}

function worded({ code, field, message }: Issue, kit: Kit): string {
  if (code === 'kit.score_order' && field.endsWith(':atLeast'))
    return 'Each step asks for fewer items than the one above.'
  return IN_ITEMS[code]?.(kit.checklist.length) ?? message
}

/** Issues that are shown while the card is drawn, before anybody asks to save. */
export const isAboutLayout = (field: string) => /^card:place:\d+:(column|row)$/.test(field)

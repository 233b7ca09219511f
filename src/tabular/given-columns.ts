import { type ColumnRole, ROLES } from './guess-columns.ts'
import type { IssueList } from './issue-list.ts'
import type { TableOptions } from './types.ts'

/** The columns somebody named or numbered; what cannot be found is an issue that lists the names. */
export function givenColumns(
  { columns = {} }: TableOptions,
  header: readonly string[],
  hasHeader: boolean,
  issues: IssueList,
  line: number,
): Partial<Record<ColumnRole, number>> {
  const given: Partial<Record<ColumnRole, number>> = {}
  for (const role of ROLES) {
    const wanted = columns[role]?.trim()
    if (wanted === undefined || wanted === '') continue
    const same = (a: string) => a.toLowerCase() === wanted.toLowerCase()
    const byName = header.flatMap((name, i) => (hasHeader && same(name) ? [i] : []))
    const number = /^\d+$/.test(wanted) ? Number(wanted) - 1 : -1
    if (byName.length > 1) {
      issues.say(
        line,
        wanted,
        'import.column_twice',
        `${byName.length} columns are called "${wanted}", expected one. Give its number from the left instead.`,
      )
    } else if (byName.length === 1) given[role] = byName[0]!
    else if (number >= 0 && number < header.length) given[role] = number
    else {
      const there = header.map((name) => `"${name}"`).join(', ')
      issues.say(
        line,
        wanted,
        'import.no_such_column',
        `There is no column "${wanted}", expected one of ${there}, or its number from the left.`,
      )
    }
  }
  return given
}

import type { ImportIssue } from '../api/import-contract.ts'

/** As many as somebody can work through before trying again. */
const MOST_ISSUES = 500

/** Collects what is wrong with a table; past a limit it only counts. */
export interface IssueList {
  readonly say: (row: number, column: string | null, code: string, message: string) => void
  readonly any: () => boolean
  /** In the order of the lines. */
  readonly list: () => ImportIssue[]
}

export function issueList(): IssueList {
  const issues: (ImportIssue & { readonly row: number })[] = []
  let more = 0
  let firstMore = 0
  return {
    say: (row, column, code, message) => {
      if (issues.length < MOST_ISSUES) issues.push({ row, column, code, message })
      else if (more++ === 0) firstMore = row
    },
    any: () => issues.length > 0,
    list: () => {
      const sorted: ImportIssue[] = [...issues].sort((a, b) => a.row - b.row)
      if (more === 0) return sorted
      const message = `There ${more === 1 ? 'is 1 more problem' : `are ${more} more problems`} like these. Correct the ones above first.`
      return [...sorted, { row: firstMore, column: null, code: 'import.more_issues', message }]
    },
  }
}

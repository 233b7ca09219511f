import { describe, expect, it } from 'vitest'
import { kitIssues } from '../../../domain/workshop/kit-issues.ts'
import { SHIPPED_KITS } from '../../../domain/workshop/kits/shipped-kits.ts'
import { draftOf, EMPTY_DRAFT, freeCell, kitOf } from './kit-draft.ts'

describe('a kit as it is typed', () => {
  it.each(SHIPPED_KITS)('gives $key back as it was', ({ kit }) => {
    expect(kitOf(draftOf(kit))).toEqual(kit)
  })

  it('reads one entry a line and drops blank lines', () => {
    const draft = { ...EMPTY_DRAFT, bring: ' A tray \n\n  Two cups\n' }
    expect(kitOf(draft).bring).toEqual(['A tray', 'Two cups'])
  })

  it('keeps “all” as all, whatever the number of items becomes', () => {
    const draft = draftOf(SHIPPED_KITS[0]!.kit)
    expect(draft.score[0]!.items).toBe('all')
    const shorter = kitOf({
      ...draft,
      checklist: draft.checklist.split('\n').slice(0, 11).join('\n'),
    })
    expect(shorter.score.map(({ atLeast }) => atLeast)).toEqual([1, 10 / 11, 0])
  })

  it('says what an empty kit lacks, and nothing about what is there', () => {
    const fields = kitIssues(kitOf(EMPTY_DRAFT)).map(({ field }) => field)
    expect(fields).toContain('name')
    expect(fields).toContain('checklist')
    expect(fields).toContain('card:places')
    expect(fields).not.toContain('clockStarts')
    expect(fields).not.toContain('score')
    expect(fields).not.toContain('score:1:atLeast')
  })

  it('does not take a word for a number of items', () => {
    const draft = draftOf(SHIPPED_KITS[0]!.kit)
    const score = draft.score.map((step, i) => (i === 1 ? { ...step, items: 'most' } : step))
    expect(kitIssues(kitOf({ ...draft, score })).map(({ code }) => code)).toEqual([
      'kit.score_share',
    ])
  })

  it('finds the first free cell of the card for the next thing', () => {
    const at = (column: number, row: number, columns = 1) =>
      ({ label: 'x', column, row, columns, rows: 1, shape: 'box' }) as const
    expect(freeCell({ columns: 3, rows: 2, places: [] })).toEqual({ column: 0, row: 0 })
    expect(freeCell({ columns: 3, rows: 2, places: [at(0, 0, 3)] })).toEqual({ column: 0, row: 1 })
    expect(freeCell({ columns: 1, rows: 1, places: [at(0, 0)] })).toEqual({ column: 0, row: 0 })
  })
})

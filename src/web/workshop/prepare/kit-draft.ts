import type { CardPlace, Kit, ScoreStep } from '../../../domain/workshop/kit.ts'
import { threeSteps } from '../../../domain/workshop/kits/three-steps.ts'

/** A step of the score as it is typed: items right in place of a share. */
export interface StepDraft {
  /** A number of items, or `all`. */
  readonly items: string
  readonly score: string
  readonly label: string
}

/** A kit as it is typed: lists are text with one entry a line. */
export interface KitDraft {
  readonly name: string
  readonly summary: string
  readonly bring: string
  readonly task: string
  readonly clockStarts: string
  readonly clockStops: string
  readonly columns: number
  readonly rows: number
  readonly places: readonly CardPlace[]
  readonly note: string
  readonly checklist: string
  readonly score: readonly StepDraft[]
  readonly prompts: string
  readonly hints: string
  readonly variations: string
}

const linesOf = (text: string): string[] =>
  text
    .split('\n')
    .map((line) => line.trim())
    .filter((line) => line !== '')
const textOf = (lines: readonly string[]) => lines.join('\n')

/** What is typed for a kit that is there already. */
export function draftOf(kit: Kit): KitDraft {
  const items = kit.checklist.length
  return {
    name: kit.name,
    summary: kit.summary,
    bring: textOf(kit.bring),
    task: textOf(kit.task),
    clockStarts: kit.clockStarts,
    clockStops: kit.clockStops,
    columns: kit.card.columns,
    rows: kit.card.rows,
    places: kit.card.places,
    note: kit.card.note,
    checklist: textOf(kit.checklist),
    score: kit.score.map((step) => ({
      items: step.atLeast === 1 ? 'all' : String(Math.ceil(step.atLeast * items - 1e-9)),
      score: String(step.score),
      label: step.label,
    })),
    prompts: textOf(kit.prompts),
    hints: textOf(kit.hints),
    variations: textOf(kit.variations),
  }
}

/** What is typed for a kit that somebody begins from nothing. */
export const EMPTY_DRAFT: KitDraft = {
  name: '',
  summary: '',
  bring: '',
  task: '',
  clockStarts: 'The clock starts when ',
  clockStops: 'The clock stops when ',
  columns: 4,
  rows: 3,
  places: [],
  note: '',
  checklist: '',
  // Of the smallest checklist; the middle step is for its writer to move.
  score: threeSteps(6).map((step) => ({
    items: step.atLeast === 1 ? 'all' : String(Math.round(step.atLeast * 6)),
    score: String(step.score),
    label: step.atLeast === 1 ? step.label : '',
  })),
  prompts: '',
  hints: '',
  variations: '',
}

/** The kit that is typed; `kitIssues` says what is still wrong with it. */
export function kitOf(draft: KitDraft): Kit {
  const checklist = linesOf(draft.checklist)
  return {
    name: draft.name.trim(),
    summary: draft.summary.trim(),
    bring: linesOf(draft.bring),
    task: linesOf(draft.task),
    clockStarts: draft.clockStarts.trim(),
    clockStops: draft.clockStops.trim(),
    card: {
      columns: draft.columns,
      rows: draft.rows,
      places: draft.places.map((place) => ({ ...place, label: place.label.trim() })),
      note: draft.note.trim(),
    },
    checklist,
    score: draft.score.map((step) => stepOf(step, checklist.length)),
    prompts: linesOf(draft.prompts),
    hints: linesOf(draft.hints),
    variations: linesOf(draft.variations),
  }
}

function stepOf({ items, score, label }: StepDraft, of: number): ScoreStep {
  const typed = items.trim().toLowerCase()
  const count = typed === '' ? Number.NaN : Number(typed)
  return {
    // Without a checklist there is no share yet; the missing checklist is said elsewhere.
    atLeast: typed === 'all' ? 1 : of === 0 ? Math.min(count, 0.99) : count / of,
    score: score.trim() === '' ? Number.NaN : Number(score),
    label: label.trim(),
  }
}

/** The first free cell, in reading order; the last cell where none is free. */
export function freeCell(draft: Pick<KitDraft, 'columns' | 'rows' | 'places'>) {
  for (let row = 0; row < draft.rows; row++)
    for (let column = 0; column < draft.columns; column++) {
      const taken = draft.places.some(
        (p) =>
          column >= p.column &&
          column < p.column + p.columns &&
          row >= p.row &&
          row < p.row + p.rows,
      )
      if (!taken) return { column, row }
    }
  return { column: draft.columns - 1, row: draft.rows - 1 }
}

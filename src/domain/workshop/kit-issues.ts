import type { Issue } from '../issue.ts'
import type { CardPlace, Kit, KitCard, ScoreStep } from './kit.ts'

/** How much a kit holds; the editor says these numbers and the server refuses beyond them. */
export const KIT_LIMITS = {
  /** Longest name, in characters. */
  name: 60,
  /** Longest text of any other field or line. */
  text: 400,
  label: 40,
  /** Lines of a list such as what to bring. */
  lines: 20,
  checklist: [6, 20],
  /** Cells of the card, each way. */
  cells: 12,
  places: 30,
  /** Common practice is three steps; a fourth and fifth are allowed. */
  steps: [2, 5],
} as const

/**
 * What stands in the way of using a kit; empty when nothing does.
 *
 * Fields are named `name`, `checklist`, `checklist:2`, `card:columns`, `card:place:3:row`,
 * `score:1:atLeast` and so on, counted from 0, so that a form can show each beside its field.
 *
 * @param kit The kit as typed; not blank-trimmed.
 * @returns One issue a missing or wrong thing, in the order of the form.
 *
 * @example
 * kitIssues({ name: '', summary: 's', bring: ['b'], task: ['t'], clockStarts: 'a', clockStops: 'b', card: { columns: 2, rows: 2, places: [{ label: 'A', column: 0, row: 0, columns: 1, rows: 1, shape: 'box' }], note: 'n' }, checklist: ['a', 'b', 'c', 'd', 'e', 'f'], score: [{ atLeast: 1, score: 1, label: 'all' }, { atLeast: 0, score: 0, label: 'less' }], prompts: [], hints: [], variations: [] }).map((issue) => issue.field) // => ['name']
 */
export function kitIssues(kit: Kit): Issue[] {
  const issues: Issue[] = []
  const ask: Ask = (code, field, message) => issues.push({ code: `kit.${code}`, field, message })
  const text = (field: string, value: string, missing: string, most: number = KIT_LIMITS.text) => {
    if (value.trim() === '') ask('empty', field, missing)
    else if (value.length > most)
      ask('too_long', field, `Use ${most} characters at most; there are ${value.length}.`)
  }
  const lines = (field: string, list: readonly string[], missing: string | null) => {
    if (list.length === 0 && missing !== null) ask('empty', field, missing)
    if (list.length > KIT_LIMITS.lines)
      ask('too_many', field, `Keep to ${KIT_LIMITS.lines} lines; there are ${list.length}.`)
    for (const [i, line] of list.entries())
      text(`${field}:${i}`, line, 'Write this line, or take it away.')
  }

  text('name', kit.name, 'Give the kit a name.', KIT_LIMITS.name)
  text('summary', kit.summary, 'Say in one sentence what a table does.')
  lines('bring', kit.bring, 'Say what to bring.')
  lines('task', kit.task, 'Say what the table is asked to do.')
  text('clockStarts', kit.clockStarts, 'Say what one can see or hear when the clock starts.')
  text('clockStops', kit.clockStops, 'Say what one can see or hear when the clock stops.')
  cardIssues(kit.card, ask)
  checklistIssues(kit.checklist, ask)
  lines('checklist', kit.checklist, null)
  scoreIssues(kit.score, ask)
  lines('prompts', kit.prompts, null)
  lines('hints', kit.hints, null)
  lines('variations', kit.variations, null)
  return issues
}

type Ask = (code: string, field: string, message: string) => void

function checklistIssues(checklist: readonly string[], ask: Ask) {
  const [least, most] = KIT_LIMITS.checklist
  const n = checklist.length
  if (n < least || n > most)
    ask(
      'checklist_size',
      'checklist',
      `The checklist has ${n} ${n === 1 ? 'item' : 'items'}: write ${least} to ${most}.`,
    )
  const seen = new Map<string, number>()
  for (const [i, item] of checklist.entries()) {
    const key = item.trim().toLowerCase()
    const first = seen.get(key)
    if (key !== '' && first !== undefined)
      ask(
        'checklist_twice',
        `checklist:${i}`,
        `This is item ${first + 1} again; an item counts once.`,
      )
    else seen.set(key, i)
  }
}

function scoreIssues(score: readonly ScoreStep[], ask: Ask) {
  const [least, most] = KIT_LIMITS.steps
  if (score.length < least || score.length > most) {
    ask('score_steps', 'score', `Give the quality score ${least} to ${most} steps.`)
    return
  }
  for (const [i, step] of score.entries()) {
    const above = score[i - 1]
    if (step.label.trim() === '') ask('empty', `score:${i}:label`, 'Say what this step means.')
    else if (step.label.length > KIT_LIMITS.text)
      ask('too_long', `score:${i}:label`, `Use ${KIT_LIMITS.text} characters at most.`)
    if (!(step.atLeast >= 0 && step.atLeast <= 1))
      ask('score_share', `score:${i}:atLeast`, 'Give a share from 0 % to 100 %.')
    else if (above !== undefined && step.atLeast >= above.atLeast)
      ask(
        'score_order',
        `score:${i}:atLeast`,
        'Each step needs a smaller share than the one above.',
      )
    else if (i === score.length - 1 && step.atLeast !== 0)
      ask('score_end', `score:${i}:atLeast`, 'The last step takes what is left: its share is 0 %.')
    if (!Number.isFinite(step.score)) ask('score_number', `score:${i}:score`, 'Give a number.')
    else if (above !== undefined && step.score >= above.score)
      ask('score_order', `score:${i}:score`, 'Each step scores less than the one above.')
  }
}

function cardIssues(card: KitCard, ask: Ask) {
  const whole = (n: number, least: number) => Number.isInteger(n) && n >= least
  for (const way of ['columns', 'rows'] as const)
    if (!whole(card[way], 1) || card[way] > KIT_LIMITS.cells)
      ask('card_size', `card:${way}`, `Give the card 1 to ${KIT_LIMITS.cells} ${way}.`)
  if (card.note.length > KIT_LIMITS.text)
    ask('too_long', 'card:note', `Use ${KIT_LIMITS.text} characters at most.`)
  if (card.places.length === 0) ask('empty', 'card:places', 'Put at least one thing on the card.')
  if (card.places.length > KIT_LIMITS.places)
    ask('too_many', 'card:places', `Keep to ${KIT_LIMITS.places} things on the card.`)

  for (const [i, place] of card.places.entries()) {
    const field = (part: string) => `card:place:${i}:${part}`
    if (place.label.trim() === '') ask('empty', field('label'), 'Say what lies here.')
    else if (place.label.length > KIT_LIMITS.label)
      ask('too_long', field('label'), `Use ${KIT_LIMITS.label} characters at most.`)
    const sound = (['column', 'row', 'columns', 'rows'] as const).filter((part) => {
      const least = part === 'column' || part === 'row' ? 0 : 1
      if (whole(place[part], least)) return true
      ask('place_number', field(part), 'Give a whole number, 1 or more.')
      return false
    })
    if (sound.length < 4) continue
    if (place.column + place.columns > card.columns)
      ask('place_outside', field('column'), 'It sticks out of the card on the right.')
    if (place.row + place.rows > card.rows)
      ask('place_outside', field('row'), 'It sticks out of the card at the bottom.')
    const under = card.places.findIndex((other, j) => j < i && overlap(place, other))
    if (under !== -1)
      ask('place_overlap', field('column'), `It lies on “${card.places[under]!.label.trim()}”.`)
  }
}

function overlap(a: CardPlace, b: CardPlace): boolean {
  return (
    a.column < b.column + b.columns &&
    b.column < a.column + a.columns &&
    a.row < b.row + b.rows &&
    b.row < a.row + a.rows
  )
}

import { Button } from '../../ui/Button.tsx'
import { ErrorNotice } from '../../ui/Notice.tsx'
import { TextField } from '../../ui/TextField.tsx'
import {
  type CellName,
  isAsked,
  readCell,
  recordedOf,
  roundLine,
  type SheetRules,
} from './sheet.ts'
import type { SheetEditing } from './use-sheet.ts'

export interface RoundCellsProps {
  readonly round: number
  readonly sheet: SheetEditing
  readonly rules: SheetRules
  /** Problems that are shown, by cell. */
  readonly problems: Readonly<Partial<Record<CellName, string>>>
  readonly onSave: () => void
}

/** Name of a cell's input in the form, by which the keyboard finds its way. */
export const cellId = (round: number, cell: CellName) => `${round}:${cell}`

/** One round of the sheet: its cells while it is keyed, one line once it is saved. */
export function RoundCells({ round, sheet, rules, problems, onSave }: RoundCellsProps) {
  const there = sheet.thereOf(round)
  const text = sheet.textOf(round)
  const status = sheet.statusOf(round)
  const error = sheet.errorOf(round)
  const recorded = recordedOf(there)
  const { kit, settings } = rules
  const items = kit.checklist.length
  const single = settings.predicts === 'single'

  if (status === 'saved')
    return (
      <section className="keying-round saved" aria-label={`Round ${round}`}>
        <h2>{`Round ${round}`}</h2>
        <p>{there?.stage === 'done' ? `Saved: ${roundLine(there)}.` : 'Saved.'}</p>
      </section>
    )

  const cell = (name: CellName, label: string, hint: string, className: string) => {
    if (!isAsked(name, text, recorded)) return null
    const reading = readCell(name, text[name], rules)
    const asks = reading.kind === 'question' && problems[name] !== undefined
    return (
      <div className={`keying-cell ${className}`} key={name}>
        <TextField
          label={
            <>
              {label}
              <span className="hidden-text">{`, round ${round}`}</span>
            </>
          }
          hint={hint}
          name={cellId(round, name)}
          value={text[name]}
          onChange={(value) => sheet.set(round, name, value)}
          error={problems[name]}
        />
        {asks && (
          <div className="row">
            <Button className="small" onClick={() => sheet.set(round, name, reading.asClock)}>
              {reading.asClock}
            </Button>
            <Button className="small" onClick={() => sheet.set(round, name, reading.asSeconds)}>
              {reading.asSeconds}
            </Button>
          </div>
        )}
      </div>
    )
  }

  return (
    <fieldset className="keying-round" data-round={round}>
      <legend>{`Round ${round}`}</legend>
      {(recorded.plan || recorded.time || recorded.right) && there !== undefined && (
        <p className="small soft">{`Recorded already: ${recordedText(recorded)}.`}</p>
      )}
      <div className="keying-cells">
        {cell('strategy', 'Strategy', 'What the table does this time', 'wide')}
        {cell('time', 'Time said', single ? '1:15' : '1:00 1:15 1:30', 'middle')}
        {cell(
          'quality',
          'Items right said',
          single ? `${items}` : `${items - 2} ${items - 1} ${items}`,
          'middle',
        )}
        {cell('measured', 'Time measured', '1:31, or two timers 1:31 1:32', 'middle')}
        {cell(
          'right',
          `Items right of ${items}`,
          `${items}, or ${items - 2} 3 7: not 3 and 7, or ${items - 2} ?`,
          'middle',
        )}
        {cell('learned', 'Learned', 'From the debrief', 'wide')}
        {cell('decision', 'Decision', 'a adopt, d adapt, x abandon', 'middle')}
        {cell('reason', 'Because', 'The reason for the decision', 'wide')}
        {cell('next', 'Next change', 'What the next round does differently', 'wide')}
      </div>
      {error !== null && <ErrorNotice error={error} />}
      <div className="row">
        <Button busy={status === 'saving'} busyText="Saving…" onClick={onSave}>
          {`Save round ${round}`}
        </Button>
      </div>
    </fieldset>
  )
}

const recordedText = ({ plan, time, right }: ReturnType<typeof recordedOf>) =>
  [plan && 'the plan with its predictions', time && 'the time', right && 'the inspection']
    .filter((part) => part !== false)
    .join(', ')

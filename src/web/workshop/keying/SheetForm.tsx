import { type FocusEvent, type KeyboardEvent, useEffect, useRef, useState } from 'react'
import type { RoomState } from '../../../domain/workshop/room-state.ts'
import { Button } from '../../ui/Button.tsx'
import { Notice } from '../../ui/Notice.tsx'
import { cellId, RoundCells } from './RoundCells.tsx'
import { DECISION_KEYS } from './read-cells.ts'
import {
  CELLS,
  type CellName,
  readCell,
  recordedOf,
  rowProblems,
  type SheetRules,
} from './sheet.ts'
import { useSheet } from './use-sheet.ts'

export interface SheetFormProps {
  readonly state: RoomState
  /** Name of the table, one that is there or a new one. */
  readonly name: string
  /** Everything is saved and the next table may come. */
  readonly onDone: (sentence: string) => void
}

interface At {
  readonly round: number
  readonly cell: CellName
}
type Shown = Readonly<Record<number, Readonly<Partial<Record<CellName, string>>>>>

function placeOf(target: EventTarget): At | null {
  if (!(target instanceof HTMLInputElement)) return null
  const [round = '', cell = ''] = target.name.split(':')
  const found = CELLS.find((name) => name === cell)
  return found === undefined ? null : { round: Number(round), cell: found }
}

/** A whole paper sheet of one table, keyed with Enter from cell to cell. */
export function SheetForm({ state, name, onDone }: SheetFormProps) {
  const sheet = useSheet(state, name)
  const { kit, settings } = state.room
  const rules: SheetRules = { kit, settings }
  const box = useRef<HTMLDivElement>(null)
  const [shown, setShown] = useState<Shown>({})
  const first = sheet.table?.firstRound ?? 1
  const rounds = Array.from({ length: settings.rounds }, (_, i) => i + 1).filter((n) => n >= first)
  const open = rounds.filter((round) => sheet.statusOf(round) !== 'saved')

  const inputs = () => [
    ...(box.current?.querySelectorAll<HTMLInputElement>('input[name*=":"]') ?? []),
  ]
  const focusOn = (round: number, cell: CellName) =>
    inputs()
      .find((input) => input.name === cellId(round, cell))
      ?.focus()

  // The sheet of a table begins with the first cell that is still to be keyed.
  useEffect(() => {
    box.current?.querySelector<HTMLElement>('input[name*=":"], button')?.focus()
  }, [])

  // The cells of a round go once it is saved, by whoever; the next one to key takes over the focus.
  const focused = useRef<number | null>(null)
  const openRounds = open.join()
  // biome-ignore lint/correctness/useExhaustiveDependencies: looked at when a round has been saved
  useEffect(() => {
    const last = focused.current
    if (last === null || document.activeElement !== document.body) return
    const next = inputs().find((input) => Number(input.name.split(':')[0]) > last)
    const rest = box.current?.querySelector<HTMLElement>('input[name*=":"], button')
    ;(next ?? rest)?.focus()
  }, [openRounds])

  const show = (round: number, cell: CellName, message: string | undefined) =>
    setShown((old) => ({ ...old, [round]: { ...old[round], [cell]: message } }))

  /** Saves a round that is whole; else says what it lacks, and goes there. */
  const save = async (round: number): Promise<boolean> => {
    const problems = rowProblems(sheet.textOf(round), recordedOf(sheet.thereOf(round)), rules)
    setShown((old) => ({ ...old, [round]: problems }))
    const wrong = CELLS.find((cell) => problems[cell] !== undefined)
    if (wrong !== undefined) {
      focusOn(round, wrong)
      return false
    }
    return sheet.save(round)
  }

  /** Holds nothing but what it took over from the round before. */
  const isUntouched = (round: number) => {
    const text = sheet.textOf(round)
    return CELLS.every((cell) => text[cell] === '' || text[cell] === sheet.carried(round, cell))
  }

  const finish = async () => {
    const typed = open.filter((round) => !isUntouched(round))
    const results = await Promise.all(typed.map(save))
    if (results.some((saved) => !saved)) return
    const count = rounds.length - open.length + typed.length
    sheet.forget()
    onDone(`${name.trim()} is saved: ${count} ${count === 1 ? 'round' : 'rounds'}.`)
  }

  /** Goes on to the next cell; at the end of a round saves it on the way. */
  const goOn = (input: HTMLInputElement, { round }: At) => {
    const all = inputs()
    const next = all[all.indexOf(input) + 1]
    const leaves = next === undefined || placeOf(next)?.round !== round
    if (!leaves) return next.focus()
    if (isUntouched(round)) return void finish()
    if (next === undefined) return void finish()
    const problems = rowProblems(sheet.textOf(round), recordedOf(sheet.thereOf(round)), rules)
    if (Object.keys(problems).length === 0) next.focus()
    void save(round)
  }

  const onKeyDown = (event: KeyboardEvent) => {
    const at = placeOf(event.target)
    if (at === null) return
    if (event.key === 'Enter' && (event.ctrlKey || event.metaKey)) {
      event.preventDefault()
      return void finish()
    }
    if (event.ctrlKey || event.metaKey || event.altKey) return
    const input = event.target as HTMLInputElement
    const { round, cell } = at
    const kind = DECISION_KEYS[event.key.toLowerCase()]
    if (cell === 'decision' && kind !== undefined) {
      event.preventDefault()
      sheet.set(round, cell, kind)
      show(round, cell, undefined)
      // After the next change has come or gone with the decision.
      requestAnimationFrame(() => goOn(input, at))
      return
    }
    const reading = readCell(cell, input.value, rules)
    if (reading.kind === 'question' && event.key === 'm') {
      event.preventDefault()
      sheet.set(round, cell, reading.asClock)
      show(round, cell, undefined)
      return
    }
    if (reading.kind === 'question' && event.key === 's' && shown[round]?.[cell] !== undefined) {
      event.preventDefault()
      sheet.set(round, cell, reading.asSeconds)
      show(round, cell, undefined)
      return
    }
    if (event.key !== 'Enter') return
    event.preventDefault()
    if (event.shiftKey) {
      const all = inputs()
      all[all.indexOf(input) - 1]?.focus()
      return
    }
    const wrong = reading.kind === 'problem' || reading.kind === 'question'
    show(round, cell, wrong ? reading.message : undefined)
    // An empty first cell of an empty round ends the sheet.
    if (cell === 'strategy' && reading.kind === 'blank') return void finish()
    if (!wrong) goOn(input, at)
  }

  /** A blank cell takes over what stood there in the round before; typing replaces it. */
  const onFocus = (event: FocusEvent) => {
    const round = event.target.closest<HTMLElement>('[data-round]')?.dataset['round']
    focused.current = round === undefined ? null : Number(round)
    const at = placeOf(event.target)
    if (at === null) return
    const input = event.target as HTMLInputElement
    if (input.value !== '') return
    const carried = sheet.carried(at.round, at.cell)
    if (carried === '') return
    sheet.set(at.round, at.cell, carried)
    requestAnimationFrame(() => {
      if (document.activeElement === input) input.select()
    })
  }

  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: Enter in a cell bubbles up to here
    <div ref={box} className="keying-sheet" onKeyDown={onKeyDown} onFocus={onFocus}>
      {sheet.table === undefined && (
        <p className="small soft">{`${name.trim()} is a new table; it is added with its first round.`}</p>
      )}
      {sheet.table !== undefined && first > 1 && (
        <p className="small soft">{`${sheet.table.name} joined in round ${first}.`}</p>
      )}
      {sheet.restored && (
        <Notice>
          <p>What you typed earlier is here again; it is not saved yet.</p>
          <Button look="quiet" onClick={sheet.forget}>
            Begin this sheet again
          </Button>
        </Notice>
      )}
      {rounds.map((round) => (
        <RoundCells
          key={round}
          round={round}
          sheet={sheet}
          rules={rules}
          problems={shown[round] ?? {}}
          onSave={() => void save(round)}
        />
      ))}
      <div className="row">
        <Button look="main" onClick={() => void finish()}>
          {open.length === 0 ? 'Next table' : 'Save what is typed; next table'}
        </Button>
      </div>
    </div>
  )
}

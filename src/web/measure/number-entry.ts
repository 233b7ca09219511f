import type { Measure } from '../../domain/record.ts'
import { editableValue, parseValue, valueStyle } from '../../domain/value-text.ts'
import { AppError } from '../../errors.ts'

export type EntryMeasure = Pick<Measure, 'dataKind' | 'valueFormat'>

/** What a typed value comes to. Only `value` and `blank` may be saved. */
export type EntryReading =
  | { readonly kind: 'blank' }
  | { readonly kind: 'value'; readonly value: number }
  /** Two readings make sense; each choice is text that reads one way only. */
  | {
      readonly kind: 'question'
      readonly message: string
      readonly choices: readonly [EntryChoice, EntryChoice]
    }
  | { readonly kind: 'error'; readonly message: string }

export interface EntryChoice {
  readonly text: string
  readonly label: string
  readonly value: number
}

/**
 * Read a value as somebody typed it. A number that could mean two things is asked about, never
 * changed silently: a stopwatch at 1:02 gets called out as 102.
 */
export function readEntry(measure: EntryMeasure, text: string): EntryReading {
  const typed = text.trim()
  if (typed === '') return { kind: 'blank' }
  try {
    const { value, perhaps } = parseValue(measure, typed)
    if (perhaps === null) return { kind: 'value', value }
    const other = editableValue(measure, perhaps)
    const duration = valueStyle(measure) === 'duration'
    const plain = duration ? `${typed} s` : `${typed} %`
    const label = duration ? `${typed} seconds` : plain
    return {
      kind: 'question',
      message: `${typed}: did you mean ${other} or ${label}?`,
      choices: [
        { text: other, label: other, value: perhaps },
        { text: plain, label, value },
      ],
    }
  } catch (error) {
    if (error instanceof AppError) {
      return { kind: 'error', message: `${error.message} ${error.hint}`.trim() }
    }
    throw error
  }
}

/** How a value of this measure is typed, as the hint under its field. */
export function entryHint(measure: EntryMeasure & Pick<Measure, 'unitLabel' | 'per'>): string {
  if (measure.dataKind === 'classified') return 'In percent, such as 74'
  if (measure.dataKind === 'rates') {
    const area = measure.unitLabel.trim()
    return `Per ${measure.per.toLocaleString('en-GB')}${area === '' ? '' : ` ${area}`}`
  }
  if (valueStyle(measure) === 'duration') return 'Minutes and seconds, such as 1:02'
  const unit = measure.unitLabel.trim()
  return unit === '' ? 'A number' : `In ${unit}`
}

import { useCallback, useEffect, useId, useRef, useState } from 'react'
import type { Experiment, ExperimentFactor } from '../../domain/experiment-record.ts'
import {
  differenceText,
  directionText,
  letterOf,
  responseStyle,
} from '../../domain/experiment-words.ts'
import { useBoardPart } from '../cycle/save-board.ts'
import { call } from '../lib/api.ts'
import { useRecordEditor } from '../lib/use-record-editor.ts'
import { ValueField } from '../measure/ValueField.tsx'
import { Button } from '../ui/Button.tsx'
import { ConflictDialog } from '../ui/ConflictDialog.tsx'
import { Select } from '../ui/Select.tsx'
import { TextField } from '../ui/TextField.tsx'
import { putFactor } from './experiment-query.ts'

export interface FactorCardProps {
  readonly experiment: Experiment
  readonly factor: ExperimentFactor
  readonly index: number
  readonly error: (field: string) => string | null
  /** It was just added by a button that is gone. */
  readonly takeFocus: boolean
  readonly onRemove: () => void
}

const LABELS = {
  name: 'Change',
  low: 'One way',
  high: 'The other way',
  middle: 'Middle way',
  expected: 'Predicted effect',
  why: 'Why',
} as const

type Way = '' | 'lower' | 'none' | 'higher'
const wayOf = (expected: number | null): Way =>
  expected === null ? '' : expected === 0 ? 'none' : expected < 0 ? 'lower' : 'higher'

/** One change being planned: its two ways in words, and what the team expects of it. */
export function FactorCard(props: FactorCardProps) {
  const { experiment, factor, index } = props
  const { id, experimentId } = factor
  const headingId = useId()
  const root = useRef<HTMLDivElement>(null)
  const savedNow = useRef<() => ExperimentFactor>(() => factor)
  const editing = useRecordEditor<ExperimentFactor>(
    `experiment-factor:${id}`,
    factor,
    async (changes, version) => {
      // The route replaces the whole row, so what is not being changed goes along as last saved.
      const { name, low, high, middle, expected, why } = { ...savedNow.current(), ...changes }
      const saved = await call('PUT /api/experiments/:id/factors/:factorId', {
        params: { id: experimentId, factorId: id },
        body: { name, low, high, middle, expected, why, version },
      })
      putFactor(saved)
      return saved
    },
  )
  const { values, set, flush } = editing
  savedNow.current = () => editing.editor.state.get().saved
  const [unread, setUnread] = useState(false)
  useBoardPart(`factor:${id}`, { status: editing.status, error: editing.error, unread, flush })
  useEffect(() => {
    if (props.takeFocus) root.current?.querySelector('input')?.focus()
  }, [props.takeFocus])

  const field = (part: 'name' | 'low' | 'high' | 'middle' | 'why', hint?: string) => (
    <div data-field={`factor:${id}:${part}`}>
      <TextField
        label={LABELS[part]}
        hint={hint}
        optional={part === 'why'}
        value={values[part]}
        onChange={(value) => set(part, value)}
        onBlur={() => void flush()}
        error={props.error(`factor:${id}:${part}`)}
      />
    </div>
  )

  return (
    // biome-ignore lint/a11y/useSemanticElements: a fieldset cannot hold a heading in its legend well.
    <div className="factor" role="group" aria-labelledby={headingId} ref={root}>
      <h4 id={headingId}>
        {letterOf(index)}: {values.name.trim() === '' ? `Change ${index + 1}` : values.name}
      </h4>
      <div className="factor-fields">
        {field('name', 'A word or two, such as: Tray card')}
        {field('low', 'Often the way it is done now')}
        {field('high', 'The way that is tried')}
        {(experiment.centerPoints > 0 || values.middle !== '') &&
          field('middle', 'Half-way between the two')}
      </div>
      <ExpectedFields
        experiment={experiment}
        factor={values}
        onChange={(expected) => set('expected', expected)}
        onBlur={() => void flush()}
        onUnread={setUnread}
        error={props.error(`factor:${id}:expected`)}
      />
      {field('why', 'What makes you expect this')}
      <div className="row">
        <Button look="quiet" onClick={props.onRemove}>
          Take this change out<span className="hidden-text"> ({values.name})</span>
        </Button>
      </div>
      <ConflictDialog
        editing={editing}
        labels={LABELS}
        show={(name, value) =>
          name === 'expected' && typeof value === 'number'
            ? differenceText(experiment, value)
            : value === null || value === ''
              ? '(empty)'
              : String(value)
        }
      />
    </div>
  )
}

interface ExpectedProps {
  readonly experiment: Experiment
  readonly factor: ExperimentFactor
  readonly onChange: (expected: number | null) => void
  readonly onBlur: () => void
  readonly onUnread: (unread: boolean) => void
  readonly error: string | null
}

/** The predicted effect as a direction and a size, so that nobody has to think of signs. */
function ExpectedFields(props: ExpectedProps) {
  const { experiment, factor, onChange, onUnread } = props
  const [way, setWay] = useState<Way>(() => wayOf(factor.expected))
  const [size, setSize] = useState<number | null>(() =>
    factor.expected === null || factor.expected === 0 ? null : Math.abs(factor.expected),
  )
  // What somebody else saved replaces what is shown, unless it says the same.
  const told = useRef(factor.expected)
  useEffect(() => {
    if (told.current === factor.expected) return
    told.current = factor.expected
    setWay(wayOf(factor.expected))
    setSize(factor.expected === null ? null : Math.abs(factor.expected))
  }, [factor.expected])
  const tell = (nextWay: Way, nextSize: number | null) => {
    setWay(nextWay)
    setSize(nextSize)
    const expected =
      nextWay === 'none'
        ? 0
        : nextSize === null || nextSize < 0 || nextWay === ''
          ? null
          : nextWay === 'lower'
            ? 0 - nextSize
            : nextSize
    told.current = expected
    onChange(expected)
  }
  const mark = useCallback((unread: boolean) => onUnread(unread), [onUnread])
  const style = responseStyle(experiment.responseKind)
  const what = experiment.response.trim() === '' ? 'the response' : experiment.response.trim()
  const high = factor.high.trim()
  const low = factor.low.trim()
  const compared =
    high === '' || low === '' ? 'With the other way' : `With “${high}” in place of “${low}”`
  const unit = experiment.unitLabel.trim()
  const sized = way === 'lower' || way === 'higher'
  return (
    <div className="factor-expected" data-field={`factor:${factor.id}:expected`}>
      <Select<Way>
        label={`${compared}, we expect ${what} to be`}
        value={way}
        onChange={(next) => {
          tell(next, size)
          if (next === 'none' || next === '') onUnread(false)
        }}
        onBlur={props.onBlur}
        options={[
          { value: '', label: 'choose one' },
          { value: 'lower', label: directionText(experiment.responseKind, -1) },
          { value: 'higher', label: directionText(experiment.responseKind, 1) },
          { value: 'none', label: 'no different' },
        ]}
        error={way === '' ? props.error : null}
      />
      {sized && (
        <ValueField
          measure={style}
          label="By how much, on average"
          hint={
            experiment.responseKind === 'share'
              ? `In points of ${what}`
              : unit !== '' && experiment.responseKind === 'number'
                ? `In ${unit}`
                : `Of ${what}`
          }
          value={size}
          onChange={(value) => tell(way, value)}
          onBlur={props.onBlur}
          error={
            size !== null && size < 0
              ? 'Give the size without a sign; the direction stands beside it.'
              : props.error
          }
          draftKey={`factor:${factor.id}:expected-text`}
          onUnread={mark}
        />
      )}
    </div>
  )
}

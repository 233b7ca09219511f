import { useCallback, useEffect, useId, useRef, useState } from 'react'
import { Link } from 'wouter'
import type { CycleBrief, CycleReply, MeasureData } from '../../api/contract.ts'
import type { Prediction } from '../../domain/record.ts'
import { formatValue } from '../../domain/value-text.ts'
import { call } from '../lib/api.ts'
import { type Editing, useRecordEditor } from '../lib/use-record-editor.ts'
import { entryHint } from '../measure/number-entry.ts'
import { ValueField } from '../measure/ValueField.tsx'
import { Button } from '../ui/Button.tsx'
import { ConflictDialog } from '../ui/ConflictDialog.tsx'
import { TextArea } from '../ui/TextArea.tsx'
import { BracketPicture } from './BracketPicture.tsx'
import { putPrediction } from './cycle-query.ts'
import { PlannerBlock } from './PlannerBlock.tsx'
import { predictionText } from './prediction-text.ts'
import { useBoardPart } from './save-board.ts'
import { Was } from './Was.tsx'

export interface PredictionCardProps {
  readonly data: CycleReply
  readonly measureData: MeasureData
  readonly prediction: Prediction
  readonly before: CycleBrief | null
  /** The prediction of the test before, where it differs. */
  readonly was: Prediction | null
  readonly error: (field: string) => string | null
  /** It was just added by a button that is gone. */
  readonly takeFocus: boolean
  readonly onRemove: () => void
}

const LABELS = {
  expected: 'Expected',
  low: 'Lowest',
  high: 'Highest',
  confidence: 'How sure',
  why: 'Why',
} as const
type Part = keyof typeof LABELS

/** A share: confidence is typed in percent like any other. */
const SHARE = { dataKind: 'classified', valueFormat: 'number' } as const

/** One prediction being written, and its bracket on the measure's own chart as it is typed. */
export function PredictionCard(props: PredictionCardProps) {
  const { data, measureData, prediction, before, was } = props
  const { measure } = measureData
  const { id, cycleId } = prediction
  const headingId = useId()
  const root = useRef<HTMLDivElement>(null)
  const [unread, setUnread] = useState<ReadonlySet<Part>>(new Set())

  // The route replaces the whole prediction, so what is not being changed goes along as last saved.
  const savedNow = useRef<() => Prediction>(() => prediction)
  const editing: Editing<Prediction> = useRecordEditor<Prediction>(
    `prediction:${id}`,
    prediction,
    async (changes, version) => {
      const { measureId, expected, low, high, confidence, why } = {
        ...savedNow.current(),
        ...changes,
      }
      const saved = await call('PUT /api/cycles/:id/predictions/:predictionId', {
        params: { id: cycleId, predictionId: id },
        body: { measureId, expected, low, high, confidence, why, version },
      })
      putPrediction(saved)
      return saved
    },
  )
  const { values, set, flush } = editing
  savedNow.current = () => editing.editor.state.get().saved
  useBoardPart(`prediction:${id}`, {
    status: editing.status,
    error: editing.error,
    unread: unread.size > 0,
    flush,
  })

  useEffect(() => {
    if (props.takeFocus) root.current?.querySelector('input')?.focus()
  }, [props.takeFocus])

  const mark = useCallback((part: Part, is: boolean) => {
    setUnread((old) => {
      if (old.has(part) === is) return old
      const next = new Set(old)
      if (is) next.add(part)
      else next.delete(part)
      return next
    })
  }, [])

  const text = predictionText(measure, values)
  const field = (part: 'expected' | 'low' | 'high') => (
    <div data-field={`prediction:${id}:${part}`}>
      <ValueField
        measure={measure}
        label={LABELS[part]}
        value={values[part]}
        onChange={(value) => set(part, value)}
        onBlur={() => void flush()}
        error={props.error(`prediction:${id}:${part}`)}
        draftKey={`prediction:${id}:${part}-text`}
        onUnread={(is) => mark(part, is)}
      />
    </div>
  )

  return (
    // biome-ignore lint/a11y/useSemanticElements: a fieldset cannot hold a heading in its legend well.
    <div className="prediction" role="group" aria-labelledby={headingId} ref={root}>
      <div className="prediction-fields">
        <h4 id={headingId}>
          {measure.name} <span className="soft">{measure.role}</span>
        </h4>
        <p className="small soft">{entryHint(measure)}</p>
        <div className="prediction-values">
          {field('low')}
          {field('expected')}
          {field('high')}
        </div>
        <div data-field={`prediction:${id}:confidence`}>
          <ValueField
            measure={SHARE}
            label={LABELS.confidence}
            hint="Of 100 such ranges, how many should hold?"
            value={values.confidence}
            onChange={(value) => set('confidence', value ?? 0)}
            onBlur={() => void flush()}
            error={props.error(`prediction:${id}:confidence`)}
            draftKey={`prediction:${id}:confidence-text`}
            onUnread={(is) => mark('confidence', is)}
          />
        </div>
        <div data-field={`prediction:${id}:why`}>
          <TextArea
            label={LABELS.why}
            hint="What makes you expect this"
            value={values.why}
            onChange={(value) => set('why', value)}
            onBlur={() => void flush()}
            error={props.error(`prediction:${id}:why`)}
          />
        </div>
        {was !== null && before !== null && (
          <Was
            number={before.cycle.number}
            what={`prediction for ${measure.name}`}
            text={predictionText(measure, was)}
            onPutBack={() => {
              set('expected', was.expected)
              set('low', was.low)
              set('high', was.high)
              set('confidence', was.confidence)
            }}
          />
        )}
      </div>
      <div className="prediction-picture">
        <BracketPicture
          measureData={measureData}
          test={{ cycle: data.cycle, predictions: data.predictions, decision: data.decision }}
          siblings={data.siblings}
          typed={values}
        />
        <p className="prediction-said" role="status">
          {text}
        </p>
        <PlannerBlock
          measureData={measureData}
          typed={values}
          plannedFrom={data.cycle.plannedFrom}
          plannedTo={data.cycle.plannedTo}
        />
        <div className="row">
          <Link href={`/measures/${measure.id}`}>The measure and its data</Link>
          <Button look="quiet" onClick={props.onRemove}>
            Take this prediction away
            <span className="hidden-text"> ({measure.name})</span>
          </Button>
        </div>
      </div>
      <ConflictDialog
        editing={editing}
        labels={LABELS}
        show={(name, value) => {
          if (typeof value !== 'number')
            return value === null || value === '' ? '(empty)' : String(value)
          return name === 'confidence' ? formatValue(SHARE, value) : formatValue(measure, value)
        }}
      />
    </div>
  )
}

import { useMemo } from 'react'
import { Link } from 'wouter'
import type { CycleReply } from '../../api/contract.ts'
import { findingText } from '../../domain/finding.ts'
import { outcomesOf, type PredictionOutcome } from '../../domain/outcome.ts'
import type { Cycle } from '../../domain/record.ts'
import type { Action } from '../lib/use-action.ts'
import type { Editing } from '../lib/use-record-editor.ts'
import { readerDates } from '../measure/reader-dates.ts'
import { Button } from '../ui/Button.tsx'
import { ErrorNotice, Notice } from '../ui/Notice.tsx'
import { TextArea } from '../ui/TextArea.tsx'
import { BracketPicture } from './BracketPicture.tsx'
import { signalsSince, type TestSignal } from './test-signals.ts'

/** The computed comparison: each prediction against what was observed, before any words of the team. */
export function Comparison({ data }: { readonly data: CycleReply }) {
  const { cycle, predictions, measures, siblings } = data
  const outcomes = useMemo(
    () => outcomesOf({ cycle, predictions }, measures, siblings),
    [cycle, predictions, measures, siblings],
  )
  const signals = useMemo(() => signalsSince(cycle, measures), [cycle, measures])
  const harmful = signals.filter(
    ({ measure, signal }) => measure.role === 'balancing' && signal.better === false,
  )
  // The sentences of predicted measures stand under their charts already.
  const elsewhere = signals.filter(
    (s) => !harmful.includes(s) && !predictions.some((p) => p.measureId === s.measure.id),
  )
  return (
    <>
      {harmful.length > 0 && (
        <Notice kind="care">
          <p>
            <strong>A balancing measure has moved the worse way since the test began.</strong>
          </p>
          <SignalItems signals={harmful} />
        </Notice>
      )}
      {outcomes.map((outcome) => (
        <Finding key={outcome.prediction.id} outcome={outcome} data={data} />
      ))}
      <div className="finding-signals">
        <h3>On the other measures since the test began</h3>
        {elsewhere.length === 0 ? (
          <p>
            {harmful.length === 0
              ? 'No signal on any other measure of the project.'
              : 'No other signal.'}
          </p>
        ) : (
          <SignalItems signals={elsewhere} />
        )}
        <p className="small soft">
          One place and a short time: other changes in the same weeks, the season and chance can
          look like this too.
        </p>
      </div>
    </>
  )
}

function SignalItems({ signals }: { readonly signals: readonly TestSignal[] }) {
  return (
    <ul>
      {signals.map(({ measure, signal }) => (
        <li key={`${measure.id}-${signal.rule}-${signal.points.join('-')}`}>
          <Link href={`/measures/${measure.id}`}>{measure.name}</Link>: {readerDates(signal.text)}
        </li>
      ))}
    </ul>
  )
}

function Finding({
  outcome,
  data,
}: {
  readonly outcome: PredictionOutcome
  readonly data: CycleReply
}) {
  const { cycle, predictions, decision, measures, siblings } = data
  const text = findingText(outcome)
  const measureData = measures.find((m) => m.measure.id === outcome.measure.id)!
  const test = useMemo(() => ({ cycle, predictions, decision }), [cycle, predictions, decision])
  return (
    <article className="finding">
      <div className="finding-words">
        <h3>{text.headline}</h3>
        {text.sentences.map((sentence) => (
          <p key={sentence}>{readerDates(sentence)}</p>
        ))}
        {text.limits.length > 0 && (
          <ul className="finding-limits">
            {text.limits.map((limit) => (
              <li key={limit}>{readerDates(limit)}</li>
            ))}
          </ul>
        )}
      </div>
      <BracketPicture measureData={measureData} test={test} siblings={siblings} signalSentences />
    </article>
  )
}

export interface StudyWordsProps {
  readonly editing: Editing<Cycle>
  readonly action: Action
  readonly onStudied: () => void
}

/** What the team makes of the comparison, in its own words. */
export function StudyWords({ editing, action, onStudied }: StudyWordsProps) {
  const { values, set, flush } = editing
  const field = action.error?.code === 'cycle.no_learning' ? action.error.details['field'] : null
  const missing = (name: string) =>
    field === name ? `${action.error!.message} ${action.error!.hint}` : null
  return (
    <>
      <div className="plan-group">
        <div data-field="predictionReview">
          <TextArea
            label="Was the prediction right, and why or why not?"
            rows={3}
            value={values.predictionReview}
            onChange={(value) => set('predictionReview', value)}
            onBlur={() => void flush()}
            error={values.predictionReview.trim() === '' ? missing('predictionReview') : null}
          />
        </div>
        <div data-field="learned">
          <TextArea
            label="What was learned"
            hint="“We cannot tell yet, because …” is a finding too."
            rows={3}
            value={values.learned}
            onChange={(value) => set('learned', value)}
            onBlur={() => void flush()}
            error={values.learned.trim() === '' ? missing('learned') : null}
          />
        </div>
      </div>
      {values.studiedAt === null && (
        <>
          {action.error !== null && field === null && <ErrorNotice error={action.error} />}
          <Button look="main" busy={action.busy} busyText="Saving…" onClick={onStudied}>
            Save study
          </Button>
        </>
      )}
    </>
  )
}

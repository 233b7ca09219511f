import { useMemo } from 'react'
import { Link } from 'wouter'
import type { CycleReply } from '../../api/contract.ts'
import type { Finding } from '../../domain/finding.ts'
import { findingText, studyLimits } from '../../domain/finding-text.ts'
import type { Cycle } from '../../domain/record.ts'
import type { TestSignal } from '../../domain/signals-since.ts'
import type { Action } from '../lib/use-action.ts'
import type { Editing } from '../lib/use-record-editor.ts'
import { readerDates } from '../measure/reader-dates.ts'
import { Button } from '../ui/Button.tsx'
import { ErrorNotice, Notice } from '../ui/Notice.tsx'
import { TextArea } from '../ui/TextArea.tsx'
import { BracketPicture } from './BracketPicture.tsx'
import { ChangePicture } from './ChangePicture.tsx'
import { useStudy } from './use-study.ts'

/** The computed comparison: harm first, then each prediction against what was observed and before. */
export function Comparison({ data }: { readonly data: CycleReply }) {
  const study = useStudy(data)
  const harmed = study.findings.filter(({ harm }) => harm)
  return (
    <>
      {harmed.length > 0 && (
        <Notice kind="care">
          <p>
            <strong>A balancing measure has moved the worse way since the test began.</strong> Look
            at it first; local policy and the people responsible for care decide what follows.
          </p>
          <SignalItems
            signals={harmed.flatMap(({ measure, signals }) =>
              signals.filter((s) => s.better === false).map((signal) => ({ measure, signal })),
            )}
          />
        </Notice>
      )}
      {study.findings.map((finding) => (
        <FindingPart key={finding.measure.id} finding={finding} data={data} />
      ))}
      <div className="finding-signals">
        <h3>On the other measures since the test began</h3>
        {study.elsewhere.length === 0 ? (
          <p>No signal on any other measure of the project.</p>
        ) : (
          <SignalItems signals={study.elsewhere} />
        )}
        <h3>What these findings cannot tell</h3>
        <ul className="finding-limits">
          {studyLimits(study).map((limit) => (
            <li key={limit}>{limit}</li>
          ))}
        </ul>
      </div>
    </>
  )
}

function SignalItems({ signals }: { readonly signals: readonly TestSignal[] }) {
  if (signals.length === 0) return null
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

function FindingPart({ finding, data }: { readonly finding: Finding; readonly data: CycleReply }) {
  const { cycle, predictions, decision, measures, siblings } = data
  const text = findingText(finding)
  const measureData = measures.find((m) => m.measure.id === finding.measure.id)!
  const test = useMemo(() => ({ cycle, predictions, decision }), [cycle, predictions, decision])
  return (
    <article className="finding">
      <div className="finding-words">
        <h3>{text.headline}</h3>
        {text.sentences.map((sentence) => (
          <p key={sentence}>{readerDates(sentence)}</p>
        ))}
        <ChangePicture finding={finding} />
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

import { useMemo } from 'react'
import type { ExperimentReply } from '../../api/experiment-contract.ts'
import {
  describeHalfNormal,
  type HalfNormalSpec,
  halfNormalTable,
  layOutHalfNormal,
} from '../../charts/half-normal-chart.ts'
import { type EffectsFinding, experimentFinding } from '../../domain/experiment-finding.ts'
import type { Experiment } from '../../domain/experiment-record.ts'
import { experimentText } from '../../domain/experiment-text.ts'
import { effectName, responseStyle } from '../../domain/experiment-words.ts'
import { formatNumber, formatValue } from '../../domain/value-text.ts'
import { AppError } from '../../errors.ts'
import { PointedFigure } from '../chart/PointedFigure.tsx'
import type { Editing } from '../lib/use-record-editor.ts'
import { ErrorNotice } from '../ui/Notice.tsx'
import { SaveLine } from '../ui/SaveLine.tsx'
import { Section } from '../ui/Section.tsx'
import { TextArea } from '../ui/TextArea.tsx'
import { Interactions } from './Interactions.tsx'

export interface AnalysisProps {
  readonly data: ExperimentReply
  readonly editing: Editing<Experiment>
  readonly mayWrite: boolean
}

/** What the runs say: in words first, then the pictures the words rest on. */
export function Analysis({ data, editing, mayWrite }: AnalysisProps) {
  const { experiment, factors, runs } = data
  const [finding, problem] = useMemo(() => {
    try {
      return [experimentFinding(experiment, factors, runs), null] as const
    } catch (error) {
      if (error instanceof AppError) return [null, error] as const
      throw error
    }
  }, [experiment, factors, runs])
  const text = useMemo(() => (finding === null ? null : experimentText(finding)), [finding])
  const list = (heading: string, items: readonly string[]) =>
    items.length > 0 && (
      <div className="stack tight">
        <h3>{heading}</h3>
        <ul>
          {items.map((item) => (
            <li key={item}>{item}</li>
          ))}
        </ul>
      </div>
    )
  return (
    <Section title="What was found" id="found">
      <div className="stack fill loose experiment">
        {problem !== null && <ErrorNotice error={problem} />}
        {text !== null && (
          <div className="stack tight" aria-live="polite">
            <h3>{text.headline}</h3>
            {text.sentences.map((sentence) => (
              <p key={sentence}>{sentence}</p>
            ))}
            {text.next !== null && (
              <p>
                <strong>Next:</strong> {text.next}
              </p>
            )}
          </div>
        )}
        {text !== null && list('The predictions', text.predictions)}
        {finding?.kind === 'effects' && <Effects finding={finding} />}
        {finding?.kind === 'effects' && <Interactions finding={finding} />}
        {text !== null && list('Be careful with this', text.limits)}
        {mayWrite ? (
          <div className="stack tight fill">
            <TextArea
              label="What was learned"
              hint="Also what differed from the plan. “We cannot tell yet, because …” is a finding too."
              value={editing.values.learned}
              onChange={(value) => editing.set('learned', value)}
              onBlur={() => void editing.flush()}
            />
            <SaveLine state={editing} />
          </div>
        ) : (
          experiment.learned.trim() !== '' && (
            <div className="stack tight">
              <h3>What was learned</h3>
              <p className="pre">{experiment.learned}</p>
            </div>
          )
        )}
      </div>
    </Section>
  )
}

function Effects({ finding }: { readonly finding: EffectsFinding }) {
  const spec = useMemo((): HalfNormalSpec => {
    const { experiment, factors, effects, standardError, alone, together } = finding
    const { responseKind, unitLabel } = experiment
    const share = responseKind === 'share'
    const unit = share ? 'points' : responseKind === 'number' ? unitLabel.trim() : ''
    return {
      effects: effects.map((e) => ({
        name: `${effectName(e.effect, factors)}${e.mixedWith.length === 0 ? '' : ' (or a pair mixed with it)'}`,
        estimate: e.estimate,
        standing: e.standing,
      })),
      standardError: together === null ? null : standardError,
      alone,
      together,
      format: (value) =>
        share ? formatNumber(value * 100) : formatValue(responseStyle(responseKind), value),
      axisTitle: `Size of the effect${unit === '' ? '' : `, ${unit}`}`,
    }
  }, [finding])
  const layOut = useMemo(() => (width: number) => layOutHalfNormal(spec, width), [spec])
  const words = useMemo(() => describeHalfNormal(spec), [spec])
  const table = useMemo(() => () => halfNormalTable(spec), [spec])
  return (
    <div className="stack tight fill">
      <h3>Which effects stand out</h3>
      <p className="small soft">
        Effects that are chance alone lie along the line from the corner. Those that stand out lie
        to the right of it; a ring marks the ones beyond the margin for all effects together.
      </p>
      <PointedFigure
        title="Effects by size (half-normal plot)"
        headingLevel={null}
        layOut={layOut}
        words={words}
        table={table}
        least={280}
      />
    </div>
  )
}

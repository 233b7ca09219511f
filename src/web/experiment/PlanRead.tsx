import { useMemo } from 'react'
import type { ExperimentReply } from '../../api/experiment-contract.ts'
import { inOrder } from '../../domain/experiment.ts'
import { designOptions } from '../../domain/experiment-design-text.ts'
import type { Experiment } from '../../domain/experiment-record.ts'
import { differenceText, directionText, letterOf } from '../../domain/experiment-words.ts'
import { APPROVALS, DETERMINATIONS } from '../cycle/words.ts'
import { EXPERIMENT_LABELS } from './words.ts'

/** The plan as it was locked. */
export function PlanRead({ data }: { readonly data: ExperimentReply }) {
  const { experiment, measures } = data
  const factors = useMemo(() => inOrder(data.factors), [data.factors])
  const design = designOptions({ ...experiment, guessedSd: null }, factors).find(
    (option) => option.generators === experiment.generators,
  )
  const stop = measures.find((m) => m.id === experiment.stopMeasureId)
  const { determination, approval, approvalNote, couldHarm, stopRule } = experiment
  const care = [
    determination === null ? 'Not said yet' : DETERMINATIONS[determination],
    ...(approval === null ? [] : [`${APPROVALS[approval]}: ${approvalNote}`]),
    ...(couldHarm === 'yes'
      ? [`Could harm. Stop rule: ${stopRule}${stop === undefined ? '' : ` (${stop.name})`}`]
      : []),
  ].join('. ')
  const unit = experiment.responseKind === 'number' ? experiment.unitLabel.trim() : ''
  const entry = (label: string, text: string) =>
    text.trim() === '' ? null : (
      <div className="entry">
        <dt>{label}</dt>
        <dd className="pre">{text}</dd>
      </div>
    )
  return (
    <div className="plan-read">
      <dl>
        {entry(EXPERIMENT_LABELS.question, experiment.question)}
        {entry(EXPERIMENT_LABELS.conditions, experiment.conditions)}
        {entry(
          'Read off after every run',
          experiment.response.trim() === ''
            ? ''
            : `${capital(experiment.response.trim())}${unit === '' ? '' : `, ${unit}`}. ${betterWay(experiment)}.`,
        )}
        {design !== undefined &&
          entry(
            EXPERIMENT_LABELS.generators,
            `${design.headline}, ${design.runs} runs. ${design.tells}`,
          )}
        {entry('Care', care)}
      </dl>
      {factors.length > 0 && (
        // biome-ignore lint/a11y/noNoninteractiveTabindex: a scrolling region must be reachable by keyboard
        <section className="table-scroll" tabIndex={0} aria-label="Changes and predictions">
          <table className="plain-table">
            <caption className="hidden-text">Changes and predictions</caption>
            <thead>
              <tr>
                <th scope="col">Change</th>
                <th scope="col">One way</th>
                <th scope="col">The other way</th>
                {experiment.centerPoints > 0 && <th scope="col">Middle way</th>}
                <th scope="col">Predicted</th>
                <th scope="col">Why</th>
              </tr>
            </thead>
            <tbody>
              {factors.map((factor, i) => (
                <tr key={factor.id}>
                  <th scope="row">
                    {letterOf(i)}: {factor.name}
                  </th>
                  <td>{factor.low}</td>
                  <td>{factor.high}</td>
                  {experiment.centerPoints > 0 && <td>{factor.middle}</td>}
                  <td>
                    {factor.expected === null
                      ? 'nothing yet'
                      : differenceText(experiment, factor.expected)}
                  </td>
                  <td>{factor.why}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </section>
      )}
    </div>
  )
}

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)

function betterWay({ better, responseKind }: Experiment): string {
  if (better === null) return 'Neither way is better'
  return `${capital(directionText(responseKind, better === 'up' ? 1 : -1))} is better`
}

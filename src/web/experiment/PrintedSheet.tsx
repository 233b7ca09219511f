import type { ExperimentReply } from '../../api/experiment-contract.ts'
import type { ExperimentFactor } from '../../domain/experiment-record.ts'
import { levelText, responseText } from '../../domain/experiment-words.ts'

/** The run sheet on paper, A4 or Letter: a line a run, with room to write by hand. */
export function PrintedSheet({
  data,
  factors,
}: {
  readonly data: ExperimentReply
  readonly factors: readonly ExperimentFactor[]
}) {
  const { unit, project, experiment, runs } = data
  const response = experiment.response.trim()
  const unitLabel = experiment.responseKind === 'number' ? experiment.unitLabel.trim() : ''
  return (
    <div className="printed-sheet" aria-hidden="true">
      <p>
        <b>{experiment.title}</b> · {project.name} · {unit.name}
      </p>
      <p>
        Keep to the order: it was drawn at random. Write down each response at once.
        {experiment.conditions.trim() === ''
          ? ''
          : ` The same in every run: ${experiment.conditions}`}
      </p>
      {experiment.couldHarm === 'yes' && (
        <p>
          <b>Stop at once when:</b> {experiment.stopRule}
        </p>
      )}
      <table>
        <thead>
          <tr>
            <th>Run</th>
            {factors.map((factor) => (
              <th key={factor.id}>{factor.name}</th>
            ))}
            <th className="to-write">
              {response.charAt(0).toUpperCase() + response.slice(1)}
              {unitLabel === '' ? '' : `, ${unitLabel}`}
            </th>
            <th className="to-write">Note</th>
          </tr>
        </thead>
        <tbody>
          {runs.map((run) => (
            <tr key={run.id}>
              <th>{run.position}</th>
              {factors.map((factor, i) => (
                <td key={factor.id}>{levelText(factor, run.levels[i]!)}</td>
              ))}
              <td>{run.response === null ? '' : responseText(experiment, run.response)}</td>
              <td>{run.leftOutReason === null ? run.note : `Left out: ${run.leftOutReason}`}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}

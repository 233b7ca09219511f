import { useMemo, useState } from 'react'
import { Link } from 'wouter'
import type { CalibrationReply } from '../../api/finding-contract.ts'
import { layOutClosingIn } from '../../charts/closing-in.ts'
import {
  adviceText,
  byQuarter,
  byStep,
  type CalibrationGroup,
  calibrationSummary,
} from '../../domain/calibration-summary.ts'
import type { Judged, JudgedPrediction } from '../../domain/judged-predictions.ts'
import { rangeWidth, rangeWidthText } from '../../domain/range-width.ts'
import { PictureMarks } from '../chart/PictureMarks.tsx'
import { useWidth } from '../chart/use-width.ts'
import { formatDate } from '../lib/dates.ts'
import { Select } from '../ui/Select.tsx'

const percent = (share: number) => `${Math.round(share * 100)} %`
/** A log ratio as too high or too low by so much. */
function biasText(bias: number | null): string {
  if (bias === null) return '–'
  const by = Math.round((Math.exp(Math.abs(bias)) - 1) * 100)
  return by === 0 ? 'none' : `${by} % too ${bias > 0 ? 'high' : 'low'}`
}

const judgedIn = ({ predictions, hindsight }: Judged) => predictions.length + hindsight

/** How predictions came out, for tests on care; exercises are a choice of their own. */
export function CalibrationView({ reply }: { readonly reply: CalibrationReply }) {
  const { exercises } = reply
  const [chosen, setChosen] = useState<'care' | 'exercises'>(
    judgedIn(reply) === 0 && judgedIn(exercises) > 0 ? 'exercises' : 'care',
  )
  return (
    <>
      <h2>{reply.name}</h2>
      {judgedIn(exercises) > 0 && (
        <div className="calibration-choice">
          <Select
            label="Which tests"
            value={chosen}
            options={[
              { value: 'care', label: `Tests on care (${reply.predictions.length})` },
              { value: 'exercises', label: `Exercises (${exercises.predictions.length})` },
            ]}
            onChange={(value) => setChosen(value === 'exercises' ? 'exercises' : 'care')}
          />
          <p className="small soft">
            An exercise is a task in a classroom, without patients. It is counted apart: how people
            predict there says little of how they predict on care.
          </p>
        </div>
      )}
      <JudgedView key={chosen} {...(chosen === 'exercises' ? exercises : reply)} />
    </>
  )
}

/** The advice first, then the picture and the figures. */
function JudgedView({ predictions, hindsight }: Judged) {
  const summary = useMemo(() => calibrationSummary(predictions), [predictions])
  const width = useMemo(() => rangeWidth(predictions), [predictions])
  const steps = useMemo(() => byStep(predictions), [predictions])
  const quarters = useMemo(() => byQuarter(predictions), [predictions])
  return (
    <>
      <p className="calibration-advice" role="status">
        <strong>{adviceText(summary)}</strong>
      </p>
      {summary !== null && (
        <>
          <dl className="calibration-figures">
            <div>
              <dt>Inside the range</dt>
              <dd>
                {summary.inside} of {summary.n}, {percent(summary.share.estimate)} (95 % interval{' '}
                {percent(summary.share.lower)} to {percent(summary.share.upper)}); stated{' '}
                {percent(summary.stated)}
              </dd>
            </div>
            <div>
              <dt>Bias of the expected values</dt>
              <dd>{biasText(summary.bias)} on average</dd>
            </div>
            <div>
              <dt>Interval score</dt>
              <dd>
                {summary.score === null
                  ? 'not worked out: every outcome is zero'
                  : `${percent(summary.score)} of the mean outcome; lower is better. It adds the width of a range and, for a miss, how far off it was.`}{' '}
                {rangeWidthText(width)}
              </dd>
            </div>
          </dl>
          <ClosingIn predictions={predictions} />
          <GroupTable caption="By place in the chain of tests" groups={steps} />
          <GroupTable caption="Over time, by when they were locked" groups={quarters} />
          <section aria-labelledby="judged-heading">
            <h3 id="judged-heading">The predictions, newest first</h3>
            <ul className="bare calibration-list">
              {predictions.toReversed().map((p) => (
                <li key={`${p.cycleId} ${p.measureName}`}>
                  <Link href={`/tests/${p.cycleId}`}>{p.title}</Link>
                  <span>
                    {`${p.measureName}: ${wordOf(p)}. Locked on ${formatDate(p.lockedAt)}.`}
                  </span>
                </li>
              ))}
            </ul>
          </section>
        </>
      )}
      {hindsight > 0 && (
        <p className="small soft">
          {`${hindsight} ${hindsight === 1 ? 'prediction is' : 'predictions are'} left out: some of the data are dated before the lock, so it may be hindsight.`}
        </p>
      )}
    </>
  )
}

function wordOf({ low, high, outcome }: JudgedPrediction): string {
  if (outcome >= low && outcome <= high) return 'came out inside the range'
  return outcome > high ? 'came out above the range' : 'came out below the range'
}

function ClosingIn({ predictions }: { readonly predictions: readonly JudgedPrediction[] }) {
  const [ref, width] = useWidth<HTMLDivElement>(720)
  const ranges = useMemo(
    () =>
      predictions
        .filter((p) => p.low > 0 && p.outcome > 0)
        .map(({ step, low, expected, high, outcome }) => ({
          step,
          low: low / outcome,
          expected: expected / outcome,
          high: high / outcome,
        })),
    [predictions],
  )
  const picture = useMemo(
    () => (ranges.length === 0 ? null : layOutClosingIn({ ranges, width: Math.max(260, width) })),
    [ranges, width],
  )
  const out = predictions.length - ranges.length
  return (
    <figure className="chart">
      <div ref={ref} className="chart-frame">
        {picture !== null && (
          <svg
            role="img"
            aria-label="Predicted ranges over their outcomes, by place in the chain of tests"
            viewBox={`0 0 ${picture.width} ${picture.height}`}
            width={picture.width}
            height={picture.height}
          >
            <PictureMarks picture={picture} />
          </svg>
        )}
      </div>
      <figcaption className="small">
        Each bracket is a predicted range over its own outcome; the line at 1 is what happened. A
        bracket that crosses the line held. Where a team learns, the brackets close in on the line
        from left to right.
        {out > 0 && ` ${out} with a zero or a negative value cannot be drawn this way.`}
      </figcaption>
    </figure>
  )
}

interface GroupTableProps {
  readonly caption: string
  readonly groups: readonly CalibrationGroup[]
}

function GroupTable({ caption, groups }: GroupTableProps) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a scrolling region must be reachable by keyboard
    <section className="chart-table" tabIndex={0} aria-label={caption}>
      <table>
        <caption>{caption}</caption>
        <thead>
          <tr>
            <th scope="col">Predictions</th>
            {['Inside', 'Width', 'Interval score', 'Bias'].map((label) => (
              <th key={label} scope="col" className="chart-number">
                {label}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {groups.map((g) => (
            <tr key={g.label}>
              <th scope="row">{g.label}</th>
              <td className="chart-number">{`${g.inside} of ${g.n}`}</td>
              <td className="chart-number">{g.width === null ? '–' : percent(g.width)}</td>
              <td className="chart-number">{g.score === null ? '–' : percent(g.score)}</td>
              <td className="chart-number">{biasText(g.bias)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}

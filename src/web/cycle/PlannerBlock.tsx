import { useDeferredValue, useId, useMemo, useState } from 'react'
import type { MeasureData } from '../../api/contract.ts'
import {
  type BaselineGuess,
  baselineOf,
  canPlan,
  guessedBaseline,
  type PlannerBaseline,
  pointsWithin,
} from '../../domain/planner-baseline.ts'
import { MOST_TRIALS, smallestConvincing } from '../../domain/planner-small-test.ts'
import {
  chanceRows,
  convincingText,
  groundSentences,
  planSentences,
  samplingSentences,
} from '../../domain/planner-text.ts'
import type { DateText, Measure, Prediction } from '../../domain/record.ts'
import { formatValue } from '../../domain/value-text.ts'
import { AppError } from '../../errors.ts'
import { ValueField } from '../measure/ValueField.tsx'
import { Select } from '../ui/Select.tsx'
import { FanFigure } from './FanFigure.tsx'
import { PlanCount } from './PlanCount.tsx'
import { usePlan } from './use-plan.ts'

export interface PlannerBlockProps {
  readonly measureData: MeasureData
  /** The prediction as it stands in the form. */
  readonly typed: Pick<Prediction, 'id' | 'expected' | 'low' | 'high'>
  readonly plannedFrom: DateText | null
  readonly plannedTo: DateText | null
}

const SHARE = { dataKind: 'classified', valueFormat: 'number' } as const
const NUMBER = { dataKind: 'single', valueFormat: 'number' } as const
const NO_GUESS = { level: null, spread: null, denominator: null }
type Guess = { readonly [K in keyof BaselineGuess]: number | null }

/** What the test can show, worked out before it starts: from the baseline and the prediction. */
export function PlannerBlock({ measureData, typed, plannedFrom, plannedTo }: PlannerBlockProps) {
  const headingId = useId()
  const { measure } = measureData
  const expected = useDeferredValue(typed.expected)
  const [guess, setGuess] = useState<Guess>(NO_GUESS)
  const measured = useMemo(() => measuredBaseline(measureData), [measureData])
  const baseline = useMemo(() => {
    if (measured !== null) return measured
    const { level } = guess
    return level === null ? null : guessedBaseline(measure, { ...guess, level })
  }, [measured, measure, guess])
  const planned = baseline === null ? null : pointsWithin(baseline.rhythm, plannedFrom, plannedTo)
  const per = measure.dataKind === 'rates' ? measure.per : 1
  const answer = usePlan(baseline, expected, per, planned)
  const { plan } = answer
  const few = planned !== null && planned <= MOST_TRIALS ? planned : null
  const fewText = useMemo(
    () =>
      few === null || baseline === null
        ? null
        : convincingText(measure, smallestConvincing(measure, baseline, few)),
    [few, baseline, measure],
  )

  return (
    <section className="planner" aria-labelledby={headingId}>
      <h5 id={headingId}>
        What this test can show
        <span className="hidden-text"> of {measure.name}</span>
      </h5>
      {!canPlan(measure) ? (
        <p className="soft">
          For this kind of chart Pawl does not work out how long a change takes to show.
        </p>
      ) : (
        <>
          {measured === null && (
            <GuessFields measure={measure} guess={guess} onGuess={setGuess} id={typed.id} />
          )}
          {baseline === null ? null : expected === null ? (
            <p className="soft">Type an expected value, and the answer appears here.</p>
          ) : plan === null ? (
            <p>
              {expected === baseline.level
                ? `You expect ${formatValue(measure, expected)}, which is the baseline itself: there is no change to see.`
                : `${formatValue(measure, expected)} is not a level this measure can have.`}
            </p>
          ) : (
            <>
              {baseline.origin === 'guess' && (
                <p className="planner-guess">{groundSentences(measure, baseline, plan)[0]}</p>
              )}
              {planSentences(measure, baseline, plan, planned).map((sentence) => (
                <p key={sentence}>{sentence}</p>
              ))}
              {fewText !== null && <p>{fewText}</p>}
              <PlanCount plan={plan} answer={answer} name={measure.name} />
              <details className="planner-more">
                <summary>Picture, chances by time, and what this rests on</summary>
                <FanFigure measure={measure} baseline={baseline} plan={plan} typed={typed} />
                <ChanceTable measure={measure} rows={chanceRows(baseline, plan)} />
                {[
                  ...samplingSentences(measure, baseline, plan),
                  ...groundSentences(measure, baseline, plan).slice(
                    baseline.origin === 'guess' ? 1 : 0,
                  ),
                ].map((sentence) => (
                  <p key={sentence}>{sentence}</p>
                ))}
                <FewTrials measure={measure} baseline={baseline} first={few ?? 3} />
              </details>
            </>
          )}
        </>
      )}
    </section>
  )
}

/** A chart that its data do not allow says so above; here it has no baseline. */
function measuredBaseline(data: MeasureData): PlannerBaseline | null {
  try {
    return baselineOf(data)
  } catch (error) {
    if (error instanceof AppError) return null
    throw error
  }
}

interface GuessFieldsProps {
  readonly measure: Measure
  readonly guess: Guess
  readonly onGuess: (guess: Guess) => void
  readonly id: string
}

function GuessFields({ measure, guess, onGuess, id }: GuessFieldsProps) {
  const single = measure.dataKind === 'single' || measure.dataKind === 'subgrouped'
  const counted = measure.dataKind === 'classified' || measure.dataKind === 'rates'
  const field = (
    part: keyof Guess,
    label: string,
    kind: Pick<Measure, 'dataKind' | 'valueFormat'>,
  ) => (
    <ValueField
      measure={kind}
      label={label}
      value={guess[part]}
      onChange={(value) => onGuess({ ...guess, [part]: value })}
      draftKey={`planner:${id}:${part}-text`}
    />
  )
  return (
    <>
      <p>
        The measure has no baseline yet. A guess of how it is now gives a first answer; it is not
        kept with the plan.
      </p>
      <div className="prediction-values planner-guess-fields">
        {field('level', 'Now, about', measure.dataKind === 'classified' ? SHARE : measure)}
        {single && field('spread', 'Usual step from one point to the next', measure)}
        {counted &&
          field(
            'denominator',
            measure.dataKind === 'classified' ? 'How many at each point' : 'Area at each point',
            NUMBER,
          )}
      </div>
    </>
  )
}

const percent = (share: number | null) => (share === null ? '–' : formatValue(SHARE, share, 0))

function ChanceTable({
  measure,
  rows,
}: {
  readonly measure: Measure
  readonly rows: ReturnType<typeof chanceRows>
}) {
  return (
    <section
      className="chart-table"
      aria-label={`Chance of a signal, ${measure.name}`}
      // biome-ignore lint/a11y/noNoninteractiveTabindex: it scrolls where the page is narrow
      tabIndex={0}
    >
      <table>
        <caption>Chance that the chart has shown a signal by then</caption>
        <thead>
          <tr>
            <th scope="col">By</th>
            <th scope="col" className="chart-number">
              As predicted
            </th>
            <th scope="col" className="chart-number">
              Twice the sampling
            </th>
            <th scope="col" className="chart-number">
              Nothing changed
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map(({ label, chance, doubledChance, falseChance }) => (
            <tr key={label}>
              <th scope="row">{label}</th>
              <td className="chart-number">{percent(chance)}</td>
              <td className="chart-number">{percent(doubledChance)}</td>
              <td className="chart-number">{percent(falseChance)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}

interface FewTrialsProps {
  readonly measure: Measure
  readonly baseline: PlannerBaseline
  readonly first: number
}

function FewTrials({ measure, baseline, first }: FewTrialsProps) {
  const [trials, setTrials] = useState(String(first))
  const text = useMemo(
    () => convincingText(measure, smallestConvincing(measure, baseline, Number(trials))),
    [measure, baseline, trials],
  )
  const options = Array.from({ length: MOST_TRIALS }, (_, i) => String(i + 1))
  return (
    <div className="planner-few">
      <Select
        label="If the test is only so many trials"
        value={trials}
        options={options.map((value) => ({ value, label: value }))}
        onChange={setTrials}
      />
      <p role="status">{text}</p>
    </div>
  )
}

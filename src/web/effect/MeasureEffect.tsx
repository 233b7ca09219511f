import { useCallback, useMemo } from 'react'
import { Link, useLocation } from 'wouter'
import type { CycleBrief, MeasureData } from '../../api/contract.ts'
import { type EffectFinding, effectOf } from '../../domain/effect.ts'
import { firstShift, type ShiftOption, shiftsOf } from '../../domain/effect-shifts.ts'
import { effectText } from '../../domain/effect-text.ts'
import type { Id } from '../../domain/record.ts'
import { unitShifts, unitStart } from '../../domain/unit-starts.ts'
import { formatNumber, formatValue } from '../../domain/value-text.ts'
import { formatDate, withReadableDates } from '../lib/dates.ts'
import { chartTestOf } from '../measure/measure-chart.ts'
import { ErrorNotice } from '../ui/Notice.tsx'
import { Section } from '../ui/Section.tsx'
import { Select } from '../ui/Select.tsx'
import { attempt } from './attempt.ts'
import { EffectFigure, ResidualFigure } from './EffectFigure.tsx'

export interface MeasureEffectProps {
  readonly data: MeasureData
  readonly cycles: readonly CycleBrief[]
  /** Ids of the same measure on every unit, this one included; empty where it has one unit only. */
  readonly family?: readonly Id[]
  /** Where it is not the unit of the project. */
  readonly unitName?: string | null
  /** Key of the test or phase to look from; left out, the page's own choice. */
  readonly chosen: string | undefined
  readonly onChoose: (key: string) => void
}

const ROLES = { outcome: 'Outcome', process: 'Process', balancing: 'Balancing' } as const

/** What one measure did from a chosen date on. */
export function MeasureEffect(props: MeasureEffectProps) {
  const { data, cycles, family = NONE, unitName = null, chosen: key, onChoose } = props
  const { measure } = data
  const options = useMemo(() => shiftsOf(data, cycles), [data, cycles])
  const title = <Link href={`/measures/${measure.id}`}>{measure.name}</Link>
  // Units are compared from the starts that the section above them names.
  const [first, problem] = useMemo(
    () =>
      attempt(() => {
        const start = family.length === 0 ? null : unitStart(data, cycles)
        return options.find((o) => o.key === start?.shift.key) ?? firstShift(data, options)
      }),
    [data, cycles, family, options],
  )
  const chosen = options.find((o) => o.key === key) ?? first
  return (
    <Section
      wide
      title={title}
      aside={
        <p>
          {ROLES[measure.role]} measure{unitName === null ? '' : `, taken on ${unitName}`}.
        </p>
      }
      id={`effect-${measure.id}`}
    >
      {problem !== null ? (
        <ErrorNotice error={problem} />
      ) : chosen === undefined || chosen === null ? (
        <p className="soft">
          No test has been locked and started yet, so there is no date to look from.
        </p>
      ) : (
        <div className="stack effect">
          <Select
            label="Look from the start of"
            value={chosen.key}
            onChange={onChoose}
            options={options.map((o) => ({
              value: o.key,
              label: `${o.label} (${formatDate(o.at)})`,
            }))}
          />
          <Effect data={data} cycles={cycles} family={family} shift={chosen} />
        </div>
      )}
    </Section>
  )
}

const NONE: readonly Id[] = []

type Shown = Pick<MeasureEffectProps, 'data' | 'cycles'>

interface EffectProps extends Shown {
  readonly family: readonly Id[]
  readonly shift: ShiftOption
}

function Effect({ data, cycles, family, shift }: EffectProps) {
  const [finding, problem] = useMemo(
    () => attempt(() => effectOf(data, shift, unitShifts(data, cycles, family))),
    [data, cycles, family, shift],
  )
  if (finding === null) return problem === null ? null : <ErrorNotice error={problem} />
  const { headline, sentences, limits } = effectText(finding)
  const words = sentences.map(withReadableDates)
  return (
    <>
      <div className="stack tight effect-words" aria-live="polite">
        <h3>{headline}</h3>
        {words.map((sentence) => (
          <p key={sentence}>{sentence}</p>
        ))}
      </div>
      {finding.kind === 'fitted' && (
        <Pictures data={data} cycles={cycles} finding={finding} words={words.join(' ')} />
      )}
      {limits.length > 0 && (
        <div className="stack tight">
          <h4>Be careful with this</h4>
          <ul>
            {limits.map((limit) => (
              <li key={limit}>{withReadableDates(limit)}</li>
            ))}
          </ul>
        </div>
      )}
    </>
  )
}

interface PicturesProps extends Shown {
  readonly finding: Extract<EffectFinding, { kind: 'fitted' }>
  readonly words: string
}

function Pictures({ data, cycles, finding, words }: PicturesProps) {
  const [, navigate] = useLocation()
  const { measure, points, breakAt, lines, start, shift } = finding
  const spec = useMemo(
    () => ({
      points,
      fitted: lines.fitted,
      breakAt,
      breakLabel: shift.at,
      projected: lines.carried.map((c) => ({ ...c, at: points[c.index]!.at })),
      start:
        start === null || start.unclear
          ? null
          : { at: start.at, from: start.after, to: start.through },
      tests: cycles.map((test) => ({ ...chartTestOf(test, data), bracket: null })),
      format: (value: number) => formatValue(measure, value),
    }),
    [points, lines, breakAt, shift, start, cycles, data, measure],
  )
  const at = useMemo(() => points.map((p) => p.at), [points])
  const table = useCallback(() => tableOf(finding), [finding])
  return (
    <>
      <EffectFigure
        spec={spec}
        title={`${measure.name} before and after ${shift.name}`}
        description={words}
        table={table}
        tableCaption={`${measure.name} with its fitted line`}
        onOpenTest={(id) => navigate(`/tests/${id}`)}
      />
      <details>
        <summary>How well the line fits</summary>
        <div className="stack tight">
          <ResidualFigure
            at={at}
            residuals={finding.residuals}
            title={`How far each point of ${measure.name} lies from the fitted line`}
          />
          <p className="small soft">
            Each stem is the distance of a point from the fitted line. Long stretches on one side
            mean that neighbours resemble each other.
            {finding.durbinWatson !== null &&
              ` Durbin–Watson ${formatNumber(finding.durbinWatson, 2)}: near 2 where neighbours are unrelated, nearer 0 the more they resemble each other.`}
          </p>
          <p className="small soft">{methodOf(finding)}</p>
        </div>
      </details>
    </>
  )
}

/** The numbers behind the picture. */
function tableOf({ measure, points, lines }: PicturesProps['finding']) {
  const carried = new Map(lines.carried.map((c) => [c.index, c]))
  const column = (key: string, label: string) => ({ key, label, numeric: key !== 'at' })
  return {
    columns: [
      column('at', 'Date'),
      column('value', 'Value'),
      column('fitted', 'Fitted line'),
      column('carried', 'Line before, carried on'),
      column('interval', '95 % interval'),
    ],
    rows: points.map(({ at, value }, i) => {
      const c = carried.get(i)
      return {
        at,
        cells: [
          formatDate(at),
          formatValue(measure, value),
          formatValue(measure, lines.fitted[i]!),
          c === undefined ? '' : formatValue(measure, c.value),
          c === undefined
            ? ''
            : `${formatValue(measure, c.low)} to ${formatValue(measure, c.high)}`,
        ],
      }
    }),
  }
}

function methodOf({ scale, lag, likeness }: PicturesProps['finding']): string {
  const on = scale === 'logit' ? 'the log odds' : scale === 'log' ? 'the logs' : 'the values'
  return `Segmented regression on ${on} of the points, taken as evenly spaced (Wagner and others 2002). Likeness of neighbours, ${formatNumber(likeness, 2)}, is taken out first (Prais and Winsten 1954); errors are Newey and West’s with ${lag === 1 ? '1 lag' : `${lag} lags`}, or the ordinary ones where those are larger.`
}

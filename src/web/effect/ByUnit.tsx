import { useId, useMemo, useState } from 'react'
import type { CycleBrief, MeasureData } from '../../api/contract.ts'
import type { ChartTable } from '../../charts/chart-table.ts'
import { layOutUnitIntervals, type UnitIntervalsSpec } from '../../charts/unit-intervals.ts'
import { distance } from '../../domain/effect-text.ts'
import type { Id, Project, Unit } from '../../domain/record.ts'
import { type UnitsFinding, unitsFinding } from '../../domain/unit-effects.ts'
import { unitsText, unitWords } from '../../domain/unit-effects-text.ts'
import { formatNumber, formatValue } from '../../domain/value-text.ts'
import { ChartDataTable } from '../chart/ChartDataTable.tsx'
import { PictureMarks } from '../chart/PictureMarks.tsx'
import { useWidth } from '../chart/use-width.ts'
import { withReadableDates } from '../lib/dates.ts'
import { ErrorNotice } from '../ui/Notice.tsx'
import { Section } from '../ui/Section.tsx'
import { attempt } from './attempt.ts'

export interface ByUnitProps {
  /** The measure that is repeated first, then its repeats. */
  readonly family: readonly MeasureData[]
  readonly project: Project
  readonly units: readonly Unit[]
  readonly cycles: readonly CycleBrief[]
  /** Key of the test or phase chosen for a measure, by its id. */
  readonly chosen: ReadonlyMap<Id, string>
}

/** The same measure on each of its units, and whether they differ by more than chance. */
export function ByUnit({ family, project, units, cycles, chosen }: ByUnitProps) {
  const { measure } = family[0]!
  const [finding, problem] = useMemo(
    () => attempt(() => unitsFinding(family, { project, units, cycles }, chosen)),
    [family, project, units, cycles, chosen],
  )
  return (
    <Section
      wide
      title={`By unit: ${measure.name}`}
      id={`by-unit-${measure.id}`}
      aside={<p>The same measure on {family.length} units.</p>}
    >
      {problem !== null ? <ErrorNotice error={problem} /> : <Compared finding={finding} />}
    </Section>
  )
}

function Compared({ finding }: { readonly finding: UnitsFinding }) {
  const { headline, sentences, limits } = useMemo(() => unitsText(finding), [finding])
  const rows = useMemo(
    () => finding.units.map((effect) => ({ effect, words: unitWords(effect) })),
    [finding],
  )
  const shown = sentences.map(withReadableDates)
  return (
    <div className="stack effect">
      <div className="stack tight effect-words" aria-live="polite">
        <h3>{headline}</h3>
        {shown.map((sentence) => (
          <p key={sentence}>{sentence}</p>
        ))}
      </div>
      <UnitsFigure finding={finding} description={shown.join(' ')} />
      <UnitsTable finding={finding} />
      <div className="stack tight">
        <h4>From when each unit is looked at</h4>
        <ul>
          {rows.map(({ effect, words }) => (
            <li key={effect.measure.id}>
              <a href={`#effect-${effect.measure.id}`}>{words.unit}</a>:{' '}
              {lowerFirst(withReadableDates(words.start))}
            </li>
          ))}
        </ul>
      </div>
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
      {finding.together !== null && (
        <details>
          <summary>How the units are compared</summary>
          <p className="small soft">{methodOf(finding)}</p>
        </details>
      )}
    </div>
  )
}

const lowerFirst = (text: string) => text.charAt(0).toLowerCase() + text.slice(1)

function UnitsFigure({
  finding,
  description,
}: {
  readonly finding: UnitsFinding
  readonly description: string
}) {
  const id = useId()
  const [ref, width] = useWidth<HTMLDivElement>(720)
  const picture = useMemo(
    () => layOutUnitIntervals({ ...specOf(finding), width: Math.max(280, width) }),
    [finding, width],
  )
  const rows = finding.units.map((effect) => {
    const { unit, change } = unitWords(effect)
    return change === '' ? `${unit}: no date to look from.` : `${unit}: ${lowerFirst(change)}`
  })
  return (
    <figure className="chart" aria-labelledby={`${id}-title`}>
      <div ref={ref} className="chart-frame">
        <svg
          role="img"
          aria-labelledby={`${id}-title`}
          aria-describedby={`${id}-words`}
          viewBox={`0 0 ${picture.width} ${picture.height}`}
          width={picture.width}
          height={picture.height}
        >
          <title
            id={`${id}-title`}
          >{`${finding.measure.name}, each unit’s change with its interval`}</title>
          <PictureMarks picture={picture} />
        </svg>
        <span id={`${id}-words`} className="chart-unseen">
          {[...rows, description].join(' ')}
        </span>
      </div>
    </figure>
  )
}

const AXIS: Readonly<Record<UnitsFinding['scale'], string>> = {
  plain: 'against the line before, carried on',
  log: 'times the line before, carried on',
  logit: 'times the odds on the line before, carried on',
}

function specOf({
  measure,
  scale,
  units,
  together,
}: UnitsFinding): Omit<UnitIntervalsSpec, 'width'> {
  const { unitLabel } = measure
  return {
    units: units.map((effect) => ({
      name: effect.unit.name,
      change: effect.change,
      words: unitWords(effect).change,
    })),
    together: together?.change ?? null,
    scale: scale === 'plain' ? 'difference' : 'ratio',
    format: (value) => formatValue(measure, value),
    axisTitle: scale === 'plain' && unitLabel !== '' ? `${unitLabel}, ${AXIS.plain}` : AXIS[scale],
  }
}

/** The numbers behind the picture; made only once somebody asks for them. */
function UnitsTable({ finding }: { readonly finding: UnitsFinding }) {
  const [open, setOpen] = useState(false)
  return (
    <details onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>Show as table</summary>
      {open && (
        <ChartDataTable
          table={tableOf(finding)}
          caption={`${finding.measure.name} on each of its units`}
        />
      )}
    </details>
  )
}

function tableOf({ measure, units, together }: UnitsFinding): ChartTable {
  const column = (key: string, label: string) => ({ key, label, numeric: key !== 'unit' })
  const value = (x: number | null | undefined) => (x == null ? '' : formatValue(measure, x))
  const span = (e: { readonly low: number; readonly high: number }) =>
    `${distance(measure, e.low)} to ${distance(measure, e.high)}`
  return {
    columns: [
      column('unit', 'Unit'),
      column('before', 'Mean before'),
      column('after', 'Mean from then on'),
      column('change', 'Against its line'),
      column('interval', '95 % interval'),
      column('weight', 'Share in the whole'),
    ],
    rows: [
      ...units.map(({ unit, finding, change, weight }) => {
        const early = finding?.kind === 'fitted' && change !== null ? finding.lines.early : null
        return {
          at: unit.id,
          cells: [
            unit.name,
            value(finding?.before.mean),
            value(finding?.after.mean),
            early === null ? '' : distance(measure, early.value),
            early === null ? '' : span(early),
            weight === null ? '' : `${formatNumber(weight * 100, 0)} %`,
          ],
        }
      }),
      ...(together === null
        ? []
        : [
            {
              at: 'together',
              cells: [
                'All together',
                '',
                '',
                distance(measure, together.distance.value),
                span(together.distance),
                '100 %',
              ],
            },
          ]),
    ],
  }
}

function methodOf({ scale }: UnitsFinding): string {
  const on = scale === 'logit' ? 'the log odds' : scale === 'log' ? 'the logs' : 'the values'
  return `Each unit’s change is the mean distance of its first points, 12 at most, from its own line before carried on, worked out on ${on}. Whether units differ: Cochran’s Q, judged by Welch’s F because each error is itself an estimate (Welch 1951), with I² of Higgins and Thompson (2002). Together: random effects by DerSimonian and Laird (1986) with the wider of Hartung and Knapp’s interval (2001) and the classic one.`
}

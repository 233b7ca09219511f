import { Link } from 'wouter'
import type { CycleBrief, MeasureData } from '../../api/contract.ts'
import {
  MEASURE_ROLES,
  type Measure,
  type MeasureRole,
  type Project,
  type Unit,
} from '../../domain/record.ts'
import { SmallChart } from '../chart/SmallChart.tsx'
import { withReadableDates } from '../lib/dates.ts'
import { measureChart } from '../measure/measure-chart.ts'
import '../chart/chart.css'

export interface ProjectMeasuresProps {
  readonly project: Project
  /** Every unit that a measure is taken on. */
  readonly units: readonly Unit[]
  readonly measures: readonly MeasureData[]
  readonly cycles: readonly CycleBrief[]
}

const ROLE: Readonly<Record<MeasureRole, string>> = {
  outcome: 'Outcome',
  process: 'Process',
  balancing: 'Balancing',
}

const rank = ({ measure }: MeasureData) => MEASURE_ROLES.indexOf(measure.role)

/** `Process measure on Ward 7; better is up.` The unit is named where it is not the project's own. */
function kindOf({ role, better, unitId }: Measure, project: Project, units: readonly Unit[]) {
  const way = better === null ? '' : `; better is ${better}`
  const elsewhere = unitId === project.unitId ? undefined : units.find((u) => u.id === unitId)
  const where = elsewhere === undefined ? '' : ` on ${elsewhere.name}`
  return `${ROLE[role]} measure${where}${way}.`
}

/** Each measure with a small chart, outcome first. */
export function ProjectMeasures({ project, units, measures, cycles }: ProjectMeasuresProps) {
  if (measures.length === 0) {
    return (
      <p className="soft">
        No measure yet. Two or three are enough: one for the outcome, one for the process you
        change, one for what could get worse.
      </p>
    )
  }
  return (
    <ul className="bare measures">
      {[...measures]
        .sort((a, b) => rank(a) - rank(b))
        .map((data) => (
          <li key={data.measure.id}>
            <h3>
              <Link href={`/measures/${data.measure.id}`}>{data.measure.name}</Link>
            </h3>
            <p className="small soft">{kindOf(data.measure, project, units)}</p>
            <Picture data={data} cycles={cycles} />
          </li>
        ))}
    </ul>
  )
}

function Picture({ data, cycles }: { data: MeasureData; cycles: readonly CycleBrief[] }) {
  const { spec, problem } = measureChart(data, cycles)
  if (spec === null) {
    return (
      <p className="small soft no-data">
        {problem === null ? 'No data yet.' : `No chart: ${problem.message}`}
      </p>
    )
  }
  const { signals } = spec.analysis
  const shown = signals.at(-1)
  const more = signals.length - 1
  return (
    <>
      <SmallChart {...spec} height={88} />
      {shown !== undefined && (
        <p className="small">
          {withReadableDates(shown.text)}
          {more > 0 && ` And ${more} earlier ${more === 1 ? 'signal' : 'signals'}.`}
        </p>
      )}
    </>
  )
}

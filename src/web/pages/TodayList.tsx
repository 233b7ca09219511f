import { Link } from 'wouter'
import type { TodayItem } from '../../api/contract.ts'
import { formatWait, withReadableDates } from '../lib/dates.ts'
import { LinkButton } from '../ui/Button.tsx'
import { WaitMark } from './WaitMark.tsx'

export interface TodayListProps {
  readonly items: readonly TodayItem[]
  /** A viewer looks at what waits, and is offered no writing. */
  readonly mayWrite: boolean
}

const ACTIONS: Readonly<Record<TodayItem['kind'], string>> = {
  lock: 'Predict and lock',
  collect: 'Record what happened',
  study: 'Write the Study',
  decide: 'Decide',
  signal: 'Look at the chart',
}

const PARTS: Readonly<Record<TodayItem['kind'], string>> = {
  lock: '#plan',
  collect: '#do',
  study: '#study',
  decide: '#act',
  signal: '',
}

/** In place of the above for several changes at once. */
const EXPERIMENT_ACTIONS: Readonly<Partial<Record<TodayItem['kind'], string>>> = {
  collect: 'Fill in the run sheet',
  study: 'Read what was found',
}

const EXPERIMENT_PARTS: Readonly<Partial<Record<TodayItem['kind'], string>>> = {
  collect: '/runs',
  study: '#found',
}

const actionOf = ({ kind, experimentId }: TodayItem) =>
  (experimentId === null ? undefined : EXPERIMENT_ACTIONS[kind]) ?? ACTIONS[kind]

function hrefOf({ kind, cycleId, measureId, experimentId, projectId }: TodayItem): string {
  if (experimentId !== null) return `/experiments/${experimentId}${EXPERIMENT_PARTS[kind] ?? ''}`
  if (kind !== 'signal' && cycleId !== null) return `/tests/${cycleId}${PARTS[kind]}`
  return measureId === null ? `/projects/${projectId}` : `/measures/${measureId}`
}

export function TodayList({ items, mayWrite }: TodayListProps) {
  const longestFirst = [...items].sort((a, b) => a.since.localeCompare(b.since))
  return (
    <ul className="bare today">
      {longestFirst.map((item) => (
        <li
          key={item.kind + (item.cycleId ?? item.experimentId ?? item.measureId ?? item.projectId)}
        >
          <WaitMark kind={item.kind} />
          <div className="today-text">
            <h2>{item.name}</h2>
            <p>{withReadableDates(item.text)}</p>
            <p className="small soft">
              <Link href={`/projects/${item.projectId}`}>{item.projectName}</Link>
              {`, ${item.unitName}. Waiting `}
              <time dateTime={item.since}>{formatWait(item.since)}</time>.
            </p>
          </div>
          <LinkButton href={hrefOf(item)}>
            {mayWrite ? actionOf(item) : 'Look'}
            <span className="hidden-text">{`: ${item.name}`}</span>
          </LinkButton>
        </li>
      ))}
    </ul>
  )
}

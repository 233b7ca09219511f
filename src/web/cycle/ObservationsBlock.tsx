import { useCallback, useMemo } from 'react'
import type { CycleReply, MeasureData } from '../../api/contract.ts'
import { observationsOfTest } from '../../domain/outcome.ts'
import type { Id } from '../../domain/record.ts'
import { formatSpan } from '../lib/dates.ts'
import { GridEditor } from '../measure/GridEditor.tsx'
import { putObservations } from './cycle-query.ts'

export interface ObservationsBlockProps {
  readonly data: CycleReply
  readonly reload: () => void
  /** Told how many changes of one measure are typed and not saved. */
  readonly onUnsaved: (measureId: Id, count: number) => void
}

/** One small grid for each predicted measure: what was observed for this test. */
export function ObservationsBlock({ data, reload, onUnsaved }: ObservationsBlockProps) {
  const predicted = data.measures.filter((m) =>
    data.predictions.some((p) => p.measureId === m.measure.id),
  )
  return (
    <div className="plan-group">
      <h3>Observations</h3>
      {predicted.map((m) => (
        <ObservationGrid
          key={m.measure.id}
          data={data}
          measureData={m}
          reload={reload}
          onUnsaved={onUnsaved}
        />
      ))}
    </div>
  )
}

function ObservationGrid({
  data,
  measureData,
  reload,
  onUnsaved,
}: ObservationsBlockProps & { readonly measureData: MeasureData }) {
  const { cycle } = data
  const { measure, observations } = measureData
  const own = useMemo(
    () => observations.filter((o) => o.cycleId === cycle.id && o.trialId === null),
    [observations, cycle.id],
  )
  const tell = useCallback((count: number) => onUnsaved(measure.id, count), [onUnsaved, measure.id])
  const testNumbers = useMemo(() => new Map([[cycle.id, cycle.number]]), [cycle.id, cycle.number])
  const others = observationsOfTest(cycle, observations).filter((o) => o.cycleId === null).length
  return (
    <div className="observations">
      <h4>{measure.name}</h4>
      {others > 0 && (
        <p className="small soft">
          {others === 1 ? '1 row' : `${others} rows`} of the measure’s own data{' '}
          {others === 1 ? 'is' : 'are'} dated within these days (
          {formatSpan(cycle.ranFrom, cycle.ranTo)}) and {others === 1 ? 'counts' : 'count'} too. Do
          not type {others === 1 ? 'it' : 'them'} again.
        </p>
      )}
      <GridEditor
        compact
        measure={measure}
        observations={own}
        draftKey={`grid:${measure.id}:${cycle.id}`}
        cycleId={cycle.id}
        testNumbers={testNumbers}
        onSaved={(fresh, gone) => putObservations(cycle.id, measure.id, fresh, gone)}
        reload={reload}
        readOnly={false}
        onUnsaved={tell}
      />
    </div>
  )
}

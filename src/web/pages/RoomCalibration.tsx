import { useMemo, useState } from 'react'
import type { RoomCalibrationReply } from '../../api/workshop-contract.ts'
import { calibrationSummary } from '../../domain/calibration-summary.ts'
import { useQuery } from '../lib/query.ts'
import { Select } from '../ui/Select.tsx'
import { Loaded } from '../ui/Waiting.tsx'
import { CalibrationView } from './CalibrationView.tsx'

export interface RoomCalibrationProps {
  readonly roomId: string
  /** The table to begin with; `null`: all of them. */
  readonly firstTable: string | null
}

const ALL = 'all'

/** How predictions of a workshop came out, all tables together or one of them. */
export function RoomCalibration({ roomId, firstTable }: RoomCalibrationProps) {
  const room = useQuery('GET /api/rooms/:id/wrap-up', { id: roomId })
  const [table, setTable] = useState(firstTable ?? ALL)
  return (
    <Loaded query={room} what="the workshop">
      {({ tables }) => {
        const there = tables.filter(({ removed }) => !removed)
        return (
          <>
            <div className="calibration-choice">
              <Select
                label="Which table"
                value={table}
                options={[
                  { value: ALL, label: 'All tables' },
                  ...there.map(({ id, name }) => ({ value: id, label: name })),
                ]}
                onChange={setTable}
              />
            </div>
            {there.some(({ id }) => id === table) ? (
              <OfTable key={table} id={table} />
            ) : (
              <OfRoom id={roomId} />
            )}
          </>
        )
      }}
    </Loaded>
  )
}

const OfTable = ({ id }: { readonly id: string }) => (
  <Loaded query={useQuery('GET /api/calibration/tables/:id', { id })} what="the predictions">
    {(reply) => <Shown reply={reply} />}
  </Loaded>
)
const OfRoom = ({ id }: { readonly id: string }) => (
  <Loaded query={useQuery('GET /api/calibration/workshops/:id', { id })} what="the predictions">
    {(reply) => <Shown reply={reply} />}
  </Loaded>
)

function Shown({ reply }: { readonly reply: RoomCalibrationReply }) {
  const { name, predictions, hindsight, pointsOnly } = reply
  // All of it is exercise, so nothing is set apart from it.
  const shown = { name, predictions, hindsight, exercises: { predictions: [], hindsight: 0 } }
  return pointsOnly ? <PointsOnly reply={reply} /> : <CalibrationView reply={shown} />
}

/** Single numbers: how far off they were, and no word on coverage. */
function PointsOnly({ reply }: { readonly reply: RoomCalibrationReply }) {
  const { name, predictions } = reply
  const measures = useMemo(() => [...new Set(predictions.map((p) => p.measureName))], [predictions])
  return (
    <>
      <h2>{name}</h2>
      <p className="calibration-advice" role="status">
        <strong>
          Single numbers were predicted here. A single number has no range that an outcome could
          fall inside, so there is no coverage to judge; only how far off they were.
        </strong>
      </p>
      <dl className="calibration-figures">
        {measures.map((measure) => {
          const own = predictions.filter((p) => p.measureName === measure)
          return (
            <div key={measure}>
              <dt>{measure}</dt>
              <dd>{offText(calibrationSummary(own)?.bias ?? null, own.length)}</dd>
            </div>
          )
        })}
      </dl>
      {predictions.length === 0 && <p>No locked prediction has an outcome yet.</p>}
    </>
  )
}

function offText(bias: number | null, n: number): string {
  const of = `${n} ${n === 1 ? 'prediction' : 'predictions'}`
  if (bias === null) return `not worked out, ${of}`
  const by = Math.round((Math.exp(Math.abs(bias)) - 1) * 100)
  return by === 0
    ? `neither too high nor too low on average, ${of}`
    : `${by} % too ${bias > 0 ? 'high' : 'low'} on average, ${of}`
}

import { useMemo, useState } from 'react'
import type { MeasureReply } from '../../api/contract.ts'
import { patchQuery } from '../lib/query.ts'
import { Button } from '../ui/Button.tsx'
import { GridEditor } from './GridEditor.tsx'
import { ImportPanel } from './ImportPanel.tsx'

export interface DataSectionProps {
  readonly data: MeasureReply
  readonly reload: () => void
  readonly readOnly: boolean
}

/** The data of a measure: the grid, and the way in for files. */
export function DataSection({ data, reload, readOnly }: DataSectionProps) {
  const { measure } = data
  const [importing, setImporting] = useState(false)
  const [imported, setImported] = useState<number | null>(null)
  const testNumbers = useMemo(
    () => new Map(data.cycles.map(({ cycle }) => [cycle.id, cycle.number])),
    [data.cycles],
  )
  return (
    <>
      {!readOnly && (
        <div className="row">
          <Button onClick={() => setImporting(true)}>Import a file</Button>
          <span role="status">
            {imported !== null &&
              `${imported === 1 ? '1 row was' : `${imported.toLocaleString()} rows were`} imported.`}
          </span>
        </div>
      )}
      <GridEditor
        measure={measure}
        observations={data.observations}
        draftKey={`grid:${measure.id}`}
        cycleId={null}
        testNumbers={testNumbers}
        onSaved={(fresh, gone) => {
          const replaced = new Set([...gone, ...fresh.map(({ id }) => id)])
          patchQuery('GET /api/measures/:id', { id: measure.id }, (old) => ({
            ...old,
            observations: [...old.observations.filter(({ id }) => !replaced.has(id)), ...fresh],
          }))
        }}
        reload={reload}
        readOnly={readOnly}
      />
      {importing && (
        <ImportPanel
          measure={measure}
          onClose={() => setImporting(false)}
          onImported={(count) => {
            setImporting(false)
            setImported(count)
            reload()
          }}
        />
      )}
    </>
  )
}

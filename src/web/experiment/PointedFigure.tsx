import { type KeyboardEvent, type ReactNode, useId, useMemo, useState } from 'react'
import type { ChartTable } from '../../charts/chart-table.ts'
import type { Picture } from '../../charts/marks.ts'
import type { PointTarget } from '../../charts/spec.ts'
import { ChartDataTable } from '../chart/ChartDataTable.tsx'
import { PictureMarks } from '../chart/PictureMarks.tsx'
import { PointTargets } from '../chart/PointTargets.tsx'
import { useWidth } from '../chart/use-width.ts'

export interface PointedFigureProps {
  readonly title: string
  readonly heading?: ReactNode
  /** The picture at a width; the same function while nothing has changed. */
  readonly layOut: (width: number) => Picture & { readonly points: readonly PointTarget[] }
  readonly words: { readonly text: string; readonly points: readonly string[] }
  readonly table: ChartTable
  readonly least: number
}

/**
 * A picture whose points can be pointed at, tapped or stepped through, with a line that reads out the
 * point at hand and its numbers as a table (key T while the picture has the focus).
 */
export function PointedFigure(props: PointedFigureProps) {
  const { title, heading, layOut, words, table, least } = props
  const id = useId()
  const [ref, width] = useWidth<HTMLDivElement>(720)
  const [active, setActive] = useState<number | null>(null)
  const [showsTable, setShowsTable] = useState(false)
  const picture = useMemo(() => layOut(Math.max(least, width)), [layOut, least, width])
  const sentence = active === null ? undefined : words.points[active]

  function onKeyDown(event: KeyboardEvent) {
    if (event.key.toLowerCase() !== 't' || event.ctrlKey || event.metaKey || event.altKey) return
    event.preventDefault()
    setShowsTable((shown) => !shown)
  }

  return (
    <figure className="chart" aria-labelledby={`${id}-title`}>
      <figcaption className="chart-caption">
        {heading === undefined ? (
          <span id={`${id}-title`} className="chart-unseen">
            {title}
          </span>
        ) : (
          <h4 id={`${id}-title`}>{heading}</h4>
        )}
      </figcaption>
      <div ref={ref} className="chart-frame">
        {/* biome-ignore lint/a11y/useSemanticElements: a drawing with parts to step through */}
        <svg
          role="group"
          aria-roledescription="chart"
          aria-labelledby={`${id}-title`}
          aria-describedby={`${id}-words`}
          viewBox={`0 0 ${picture.width} ${picture.height}`}
          width={picture.width}
          height={picture.height}
          onKeyDown={onKeyDown}
        >
          <PictureMarks picture={picture} />
          <PointTargets
            points={picture.points}
            sentences={words.points}
            active={active}
            onActive={setActive}
            radius={8 * picture.unit}
          />
        </svg>
      </div>
      <p id={`${id}-words`} className="chart-unseen">
        {words.text}
      </p>
      <div className="chart-foot">
        <p className="chart-readout">
          {sentence === undefined ? (
            <span className="chart-hint">Choose a point to read it.</span>
          ) : (
            <span aria-hidden="true">{sentence}</span>
          )}
        </p>
        <button
          type="button"
          className="chart-button"
          aria-expanded={showsTable}
          aria-keyshortcuts="T"
          aria-label={`${showsTable ? 'Hide the table' : 'Show as table'}: ${title}`}
          onClick={() => setShowsTable(!showsTable)}
        >
          {showsTable ? 'Hide the table' : 'Show as table'}
        </button>
      </div>
      {showsTable && <ChartDataTable table={table} caption={`Data of ${title}`} />}
    </figure>
  )
}

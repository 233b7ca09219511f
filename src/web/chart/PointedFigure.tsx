import { type KeyboardEvent, type ReactNode, useId, useMemo, useState } from 'react'
import type { ChartTable } from '../../charts/chart-table.ts'
import type { Picture } from '../../charts/marks.ts'
import type { PointTarget } from '../../charts/spec.ts'
import { ChartDataTable } from './ChartDataTable.tsx'
import { PictureMarks } from './PictureMarks.tsx'
import { PointTargets } from './PointTargets.tsx'
import { useWidth } from './use-width.ts'

type Pointed = Picture & { readonly points: readonly PointTarget[] }

export interface PointedFigureProps<P extends Pointed> {
  readonly title: string
  /** Level of the heading; `null`: the title is there for those who cannot see the picture. */
  readonly headingLevel: 2 | 3 | 4 | null
  readonly subtitle?: string | undefined
  /** The picture at a width; `null`: no data yet. The same function while nothing has changed. */
  readonly layOut: (width: number) => P | null
  readonly words: { readonly text: string; readonly points: readonly string[] }
  /** The numbers, asked for once somebody wants to see them. */
  readonly table: () => ChartTable
  readonly tableCaption?: string
  /** Narrowest width it is drawn at. */
  readonly least: number
  /** Width before the page has measured itself. */
  readonly initialWidth?: number
  /** What else can be reached inside the picture. */
  readonly more?: (picture: P) => ReactNode
  /** Between the line that reads a point out and the table. */
  readonly children?: ReactNode
}

/**
 * A picture whose points can be pointed at, tapped or stepped through, with a line that reads out the
 * point at hand and its numbers as a table (key T while the picture has the focus).
 */
export function PointedFigure<P extends Pointed>(props: PointedFigureProps<P>) {
  const { title, headingLevel, subtitle, layOut, words, least, initialWidth = 720 } = props
  const id = useId()
  const [ref, width] = useWidth<HTMLDivElement>(initialWidth)
  const [active, setActive] = useState<number | null>(null)
  const [showsTable, setShowsTable] = useState(false)
  const picture = useMemo(() => layOut(Math.max(least, width)), [layOut, least, width])
  const { table: tableOf } = props
  const table = useMemo(() => (showsTable ? tableOf() : null), [showsTable, tableOf])
  const sentence = active === null ? undefined : words.points[active]
  const Heading = headingLevel === null ? null : (`h${headingLevel}` as const)

  function onKeyDown(event: KeyboardEvent) {
    if (event.key.toLowerCase() !== 't' || event.ctrlKey || event.metaKey || event.altKey) return
    event.preventDefault()
    setShowsTable((shown) => !shown)
  }

  return (
    <figure className="chart" aria-labelledby={`${id}-title`}>
      {/* The picture below is described by the same words, so nothing is said twice. */}
      <figcaption className="chart-caption">
        {Heading === null ? (
          <span id={`${id}-title`} className="chart-unseen">
            {title}
          </span>
        ) : (
          <Heading id={`${id}-title`}>{title}</Heading>
        )}
        {subtitle !== undefined && <p className="chart-subtitle">{subtitle}</p>}
      </figcaption>
      <div ref={ref} className="chart-frame">
        {picture === null ? (
          <p className="chart-empty">No data yet. The chart appears with the first value.</p>
        ) : (
          // biome-ignore lint/a11y/useSemanticElements: a drawing with parts to step through
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
            {props.more?.(picture)}
          </svg>
        )}
      </div>
      <p id={`${id}-words`} className="chart-unseen">
        {words.text}
      </p>
      {picture !== null && (
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
            onClick={() => setShowsTable(!showsTable)}
          >
            {showsTable ? 'Hide the table' : 'Show as table'}
            <span className="hidden-text">{`: ${title}`}</span>
          </button>
        </div>
      )}
      {props.children}
      {table !== null && (
        <ChartDataTable table={table} caption={props.tableCaption ?? `Data of ${title}`} />
      )}
    </figure>
  )
}

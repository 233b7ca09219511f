import type { RoundState } from '../domain/workshop/room-state.ts'
import { itemsPlot, type Plot, plotText, timePlot } from './plot.ts'
import { Said } from './Said.tsx'

interface PlotFigureProps {
  readonly rounds: readonly RoundState[]
  readonly items: number
}

/** The table's own rounds: what it said as brackets, what it got as dots. */
export function PlotFigure({ rounds, items }: PlotFigureProps) {
  const shown = rounds.filter(({ lockedAt }) => lockedAt !== null)
  return (
    <figure class="plots">
      <Picture title="Time" plot={timePlot(shown)} />
      <Picture title="Items right" plot={itemsPlot(shown, items)} />
      <figcaption>
        <details>
          <summary>The same in words</summary>
          <ul>
            {plotText(shown, items).map((line) => (
              <li key={line}>
                <Said>{line}</Said>
              </li>
            ))}
          </ul>
        </details>
      </figcaption>
    </figure>
  )
}

function Picture({ title, plot }: { title: string; plot: Plot }) {
  return (
    <>
      <h2>{title} by round</h2>
      <svg
        class="plot"
        viewBox={`0 0 ${plot.width} ${plot.height}`}
        role="img"
        aria-label={`${title} by round; the words are below.`}
      >
        {plot.ticks.map(({ y, label }) => (
          <g key={label}>
            <line class="grid" x1={42} x2={plot.width} y1={y} y2={y} />
            <text x={38} y={y + 4} text-anchor="end">
              {label}
            </text>
          </g>
        ))}
        {plot.rounds.map(({ number, x, bracket, dot }) => (
          <g key={number}>
            <text x={x} y={plot.baseline + 18} text-anchor="middle">
              {number}
            </text>
            {bracket !== null && (
              <path
                class="bracket"
                d={`M${x + 7},${bracket.top}h-14V${bracket.bottom}h14M${x - 12},${bracket.tick}h14`}
              />
            )}
            {dot !== null && <circle class="dot" cx={x} cy={dot} r={5} />}
          </g>
        ))}
      </svg>
    </>
  )
}

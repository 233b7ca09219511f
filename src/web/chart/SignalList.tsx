import { useId, useState } from 'react'

export interface SignalListProps {
  readonly signals: readonly { readonly letter: string; readonly text: string }[]
}

/** More than these are folded; the newest stay in view. */
const FEW = 8
const NEWEST = 5

/** What each letter on the chart means, one sentence each. */
export function SignalList({ signals }: SignalListProps) {
  const [showsAll, setShowsAll] = useState(false)
  const id = useId()
  if (signals.length === 0) return null
  const folds = signals.length > FEW
  const shown = folds && !showsAll ? signals.slice(-NEWEST) : signals
  return (
    <div className="chart-signals">
      {folds && (
        <div className="chart-signals-head">
          <p>
            {signals.length} signals{showsAll ? '.' : `; the newest ${NEWEST}:`}
          </p>
          <button
            type="button"
            className="chart-button"
            aria-expanded={showsAll}
            aria-controls={id}
            onClick={() => setShowsAll(!showsAll)}
          >
            {showsAll ? 'Show the newest only' : `Show all ${signals.length}`}
          </button>
        </div>
      )}
      <ul id={id}>
        {shown.map(({ letter, text }) => (
          <li key={letter}>
            <span className="chart-letter">{letter}</span>
            <span>{text}</span>
          </li>
        ))}
      </ul>
    </div>
  )
}

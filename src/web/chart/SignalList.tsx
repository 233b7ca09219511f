export interface SignalListProps {
  readonly signals: readonly { readonly letter: string; readonly text: string }[]
}

/** What each letter on the chart means, one sentence each. */
export function SignalList({ signals }: SignalListProps) {
  if (signals.length === 0) return null
  return (
    <ul className="chart-signals">
      {signals.map(({ letter, text }) => (
        <li key={letter}>
          <span className="chart-letter">{letter}</span>
          <span>{text}</span>
        </li>
      ))}
    </ul>
  )
}

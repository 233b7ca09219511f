import { useEffect, useState } from 'react'
import { falseSignalChance } from '../../stats/false-signal-chance.ts'
import type { Analysis } from '../../stats/types.ts'

/** How often this chart would show a signal although nothing changed; worked out after the chart is drawn. */
export function FalseSignalLine({ analysis }: { readonly analysis: Analysis }) {
  const [text, setText] = useState<string | null>(null)
  useEffect(() => {
    setText(null)
    // The chart is on the screen first; the simulation takes some ten milliseconds.
    const timer = setTimeout(() => setText(falseSignalChance(analysis).text), 50)
    return () => clearTimeout(timer)
  }, [analysis])
  return <p className="small soft">{text ?? 'Working out how often this chart would cry wolf…'}</p>
}

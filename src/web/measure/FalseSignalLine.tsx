import { useEffect, useState } from 'react'
import type { Analysis } from '../../stats/types.ts'
import { askFalseSignal } from '../lib/false-signal.ts'

/** How often this chart would show a signal although nothing changed; worked out beside the page. */
export function FalseSignalLine({ analysis }: { readonly analysis: Analysis }) {
  const [text, setText] = useState<string | null>(null)
  const [share, setShare] = useState(0)
  useEffect(() => {
    setText(null)
    setShare(0)
    return askFalseSignal(analysis, {
      onText: setText,
      onShare: setShare,
      onProblem: () => setText('How often this chart would cry wolf could not be worked out.'),
    })
  }, [analysis])
  const percent = share > 0 ? ` ${Math.round(share * 100)} %` : ''
  return (
    <p className="small soft">
      {text ?? `Working out how often this chart would cry wolf…${percent}`}
    </p>
  )
}

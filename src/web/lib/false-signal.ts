import { falseSignalChance } from '../../stats/false-signal-chance.ts'
import type { Analysis } from '../../stats/types.ts'
import type { FalseSignalNews, FalseSignalQuestion } from './false-signal-worker.ts'

/** Points to simulate: a few tenths of a second, which nobody waits for in a worker. */
const BUDGET = 400_000

/** Who wants to know how often a chart cries wolf. */
export interface FalseSignalListener {
  readonly onText: (text: string) => void
  readonly onShare?: (share: number) => void
  readonly onProblem: (message: string) => void
}

/**
 * Work out in a worker how often a chart shows a signal although nothing changed, so that the page
 * never waits. Where there are no workers it is done at once, with less simulation.
 *
 * @returns A function that cancels it.
 */
export function askFalseSignal(analysis: Analysis, listener: FalseSignalListener): () => void {
  if (typeof Worker === 'undefined') {
    const timer = setTimeout(() => listener.onText(falseSignalChance(analysis).text), 50)
    return () => clearTimeout(timer)
  }
  const worker = new Worker(new URL('./false-signal-worker.ts', import.meta.url), {
    type: 'module',
  })
  worker.onmessage = ({ data }: MessageEvent<FalseSignalNews>) => {
    if ('share' in data) {
      listener.onShare?.(data.share)
      return
    }
    if ('text' in data) listener.onText(data.text)
    else listener.onProblem(data.problem)
    worker.terminate()
  }
  worker.onerror = () => {
    listener.onProblem('It could not be worked out here.')
    worker.terminate()
  }
  const question: FalseSignalQuestion = { analysis, budget: BUDGET }
  worker.postMessage(question)
  return () => worker.terminate()
}

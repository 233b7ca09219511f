import type { PlanProgress, SignalPlan } from '../../domain/planner.ts'
import type { PlannerNews, PlannerQuestion } from './planner-worker.ts'

/** Who wants the whole answer of the planner. */
export interface WholePlanListener {
  readonly onProgress: (progress: PlanProgress) => void
  readonly onPlan: (plan: SignalPlan | null) => void
  readonly onProblem: (message: string) => void
}

/** Someone who is still typing gets the first answer only. */
const PAUSE = 300

/**
 * Work out in a worker what the planner's first answer leaves out, so that the page never waits.
 *
 * @returns A function that cancels it; `null` where there are no workers.
 */
export function askWholePlan(
  question: PlannerQuestion,
  listener: WholePlanListener,
): (() => void) | null {
  if (typeof Worker === 'undefined') return null
  let worker: Worker | null = null
  const timer = setTimeout(() => {
    worker = new Worker(new URL('./planner-worker.ts', import.meta.url), { type: 'module' })
    worker.onmessage = ({ data }: MessageEvent<PlannerNews>) => {
      if ('progress' in data) {
        listener.onProgress(data.progress)
        return
      }
      if ('plan' in data) listener.onPlan(data.plan)
      else listener.onProblem(data.problem)
      worker?.terminate()
    }
    worker.onerror = () => {
      listener.onProblem('The rest could not be worked out here.')
      worker?.terminate()
    }
    worker.postMessage(question)
  }, PAUSE)
  return () => {
    clearTimeout(timer)
    worker?.terminate()
  }
}

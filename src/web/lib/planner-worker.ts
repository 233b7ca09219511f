import { type PlanProgress, type SignalPlan, wholePlan } from '../../domain/planner.ts'
import type { PlannerBaseline } from '../../domain/planner-baseline.ts'

/** What the worker is asked; the answer comes as `PlannerNews`. Cancelled by terminating it. */
export interface PlannerQuestion {
  readonly baseline: PlannerBaseline
  readonly after: number
  readonly per: number
  readonly planned: number | null
}

/** First any number of counts, then the plan, or what went wrong. */
export type PlannerNews =
  | { readonly progress: PlanProgress }
  | { readonly plan: SignalPlan | null }
  | { readonly problem: string }

self.onmessage = ({ data }: MessageEvent<PlannerQuestion>) => {
  const tell = (news: PlannerNews) => self.postMessage(news)
  try {
    const { baseline, after, per, planned } = data
    tell({ plan: wholePlan(baseline, after, per, planned, (progress) => tell({ progress })) })
  } catch (error) {
    tell({ problem: error instanceof Error ? error.message : String(error) })
  }
}

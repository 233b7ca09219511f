import { useEffect, useMemo, useState } from 'react'
import { type PlanProgress, type SignalPlan, signalPlan } from '../../domain/planner.ts'
import type { PlannerBaseline } from '../../domain/planner-baseline.ts'
import { askWholePlan } from '../lib/whole-plan.ts'

/** The planner's answer as it stands: first at once, then whole. */
export interface PlanAnswer {
  readonly plan: SignalPlan | null
  /** How far the whole answer is; `null` when nobody works on it. */
  readonly progress: PlanProgress | null
  /** `working` from the moment the first answer stands. */
  readonly state: 'whole' | 'working' | 'stopped' | 'failed'
  readonly stop: () => void
  readonly goOn: () => void
}

type Refined =
  | { readonly of: SignalPlan; readonly state: 'whole'; readonly plan: SignalPlan }
  | { readonly of: SignalPlan; readonly state: 'stopped' | 'failed' }

/** The plan of a test: the first answer in the same moment, the slow rules beside the page. */
export function usePlan(
  baseline: PlannerBaseline | null,
  expected: number | null,
  per: number,
  planned: number | null,
): PlanAnswer {
  // The chain of the rules is built with the first answer: before anything is typed, nobody waits for it.
  useEffect(() => {
    if (baseline !== null) signalPlan(baseline, baseline.level * 0.9, per, null)
  }, [baseline, per])
  const first = useMemo(
    () =>
      baseline === null || expected === null ? null : signalPlan(baseline, expected, per, planned),
    [baseline, expected, per, planned],
  )
  const [refined, setRefined] = useState<Refined | null>(null)
  const [progress, setProgress] = useState<PlanProgress | null>(null)
  const ours = refined !== null && refined.of === first ? refined : null
  const wanted = first !== null && first.leftOut.length > 0 && ours === null

  useEffect(() => {
    setProgress(null)
    if (!wanted || baseline === null) return
    const of = first
    const question = { baseline, after: of.after, per, planned }
    const cancel = askWholePlan(question, {
      onProgress: setProgress,
      onPlan: (plan) => setRefined({ of, state: 'whole', plan: plan ?? of }),
      onProblem: () => setRefined({ of, state: 'failed' }),
    })
    if (cancel === null) setRefined({ of, state: 'failed' })
    return cancel ?? undefined
  }, [wanted, first, baseline, per, planned])

  return {
    plan: ours?.state === 'whole' ? ours.plan : first,
    progress: wanted ? progress : null,
    state: wanted ? 'working' : (ours?.state ?? 'whole'),
    stop: () => first !== null && setRefined({ of: first, state: 'stopped' }),
    goOn: () => setRefined(null),
  }
}

import type { CycleReply } from '../../api/contract.ts'
import type { Cycle, Decision, Id, Observation, Prediction } from '../../domain/record.ts'
import { patchQuery } from '../lib/query.ts'

/** Changes what the page holds of a test after a write: the test itself and its place among the others. */
function patch(id: Id, change: (data: CycleReply) => CycleReply): void {
  patchQuery('GET /api/cycles/:id', { id }, (old) => {
    const next = change(old)
    const { cycle, predictions, decision } = next
    return {
      ...next,
      siblings: next.siblings.map((s) =>
        s.cycle.id === id ? { cycle, predictions, decision } : s,
      ),
    }
  })
}

export function putCycle(cycle: Cycle): void {
  patch(cycle.id, (old) => (old.cycle.version > cycle.version ? old : { ...old, cycle }))
}

export function putDecision(cycle: Cycle, decision: Decision): void {
  patch(cycle.id, (old) => ({ ...old, cycle, decision }))
}

export function putPrediction(prediction: Prediction): void {
  patch(prediction.cycleId, (old) => {
    const known = old.predictions.some((p) => p.id === prediction.id)
    const predictions = known
      ? old.predictions.map((p) => (p.id === prediction.id ? prediction : p))
      : [...old.predictions, prediction]
    return { ...old, predictions }
  })
}

export function dropPrediction(prediction: Prediction): void {
  patch(prediction.cycleId, (old) => ({
    ...old,
    predictions: old.predictions.filter((p) => p.id !== prediction.id),
  }))
}

export function putObservations(
  cycleId: Id,
  measureId: Id,
  fresh: readonly Observation[],
  gone: readonly Id[],
): void {
  const replaced = new Set([...gone, ...fresh.map(({ id }) => id)])
  patch(cycleId, (old) => ({
    ...old,
    measures: old.measures.map((data) =>
      data.measure.id === measureId
        ? {
            ...data,
            observations: [...data.observations.filter(({ id }) => !replaced.has(id)), ...fresh],
          }
        : data,
    ),
  }))
}

export { patch as patchCycle }

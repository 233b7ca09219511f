import type { ExperimentReply } from '../../api/experiment-contract.ts'
import type { Experiment, ExperimentFactor, ExperimentRun } from '../../domain/experiment-record.ts'
import type { Id } from '../../domain/record.ts'
import { patchQuery } from '../lib/query.ts'

/** Changes what the pages hold of an experiment after a write. */
export function patchExperiment(
  id: Id,
  change: (data: ExperimentReply) => Partial<ExperimentReply>,
): void {
  patchQuery('GET /api/experiments/:id', { id }, (old) => ({ ...old, ...change(old) }))
}

/** The newer of what is held and what a write answered. */
export function putExperiment(experiment: Experiment): void {
  patchExperiment(experiment.id, (old) =>
    old.experiment.version > experiment.version ? {} : { experiment },
  )
}

export function putFactor(factor: ExperimentFactor): void {
  patchExperiment(factor.experimentId, ({ factors }) => ({
    factors: factors.some((f) => f.id === factor.id)
      ? factors.map((f) => (f.id === factor.id ? factor : f))
      : [...factors, factor],
  }))
}

export function dropFactor({ id, experimentId }: ExperimentFactor): void {
  patchExperiment(experimentId, ({ factors }) => ({ factors: factors.filter((f) => f.id !== id) }))
}

export function putRun(run: ExperimentRun): void {
  patchExperiment(run.experimentId, ({ runs }) => ({
    runs: runs.map((r) => (r.id === run.id && r.version <= run.version ? run : r)),
  }))
}

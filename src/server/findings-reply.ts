import type { FindingReply, FindingsReply } from '../api/finding-contract.ts'
import type { Change } from '../domain/change.ts'
import type { Finding, Study } from '../domain/finding.ts'
import { findingText, studyLimits } from '../domain/finding-text.ts'
import type { Id } from '../domain/record.ts'
import { suggestDecision } from '../domain/suggestion.ts'

/** What the figures say about a test, as JSON can carry it: the same finding that the page shows. */
export function findingsReply(cycleId: Id, study: Study): FindingsReply {
  return {
    cycleId,
    findings: study.findings.map(findingReply),
    elsewhere: study.elsewhere.map(({ measure, signal }) => ({
      measureId: measure.id,
      measureName: measure.name,
      signal,
    })),
    overlaps: study.overlaps,
    limits: studyLimits(study),
    suggestion: suggestDecision(study),
  }
}

function findingReply(finding: Finding): FindingReply {
  const { measure, prediction, change, ...figures } = finding
  return {
    ...figures,
    measureId: measure.id,
    measureName: measure.name,
    predictionId: prediction?.id ?? null,
    change: change === null ? null : changeReply(change),
    text: findingText(finding),
  }
}

/** JSON has no infinity: an end without a bound is `null`. */
function changeReply(change: Change): NonNullable<FindingReply['change']> {
  const end = (value: number) => (Number.isFinite(value) ? value : null)
  const { interval } = change
  return {
    ...change,
    interval: interval === null ? null : { lower: end(interval.lower), upper: end(interval.upper) },
  }
}

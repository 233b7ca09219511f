import type { CycleBrief, MeasureData } from '../../api/contract.ts'
import type { Bracket, ChartSpec, ChartTest, TestMark, ValueScale } from '../../charts/spec.ts'
import { stageOf } from '../../domain/cycle.ts'
import { observationsOfTest, summarize } from '../../domain/outcome.ts'
import type { Cycle, Measure, Prediction } from '../../domain/record.ts'
import { analysisOf, compareMoments } from '../../domain/series.ts'
import { formatValue } from '../../domain/value-text.ts'
import { AppError } from '../../errors.ts'
import type { Analysis } from '../../stats/types.ts'
import { today } from '../lib/dates.ts'

/** The chart of a measure, or the reason why there is none. */
export type MeasureChart =
  | { readonly spec: ChartSpec; readonly analysis: Analysis; readonly problem: null }
  | { readonly spec: null; readonly analysis: null; readonly problem: AppError | null }

/** How a test of change stands on the tooth rail. */
export function testMark({ cycle, decision }: CycleBrief): TestMark {
  if (decision !== null) return decision.kind
  const stage = stageOf(cycle, decision)
  if (stage === 'plan') return 'planned'
  return stage === 'do' ? 'running' : 'waiting'
}

/** The bracket of a prediction with its outcome, where the range is whole. */
function bracketOf(
  brief: CycleBrief,
  { measure, observations }: MeasureData,
  prediction: Pick<Prediction, 'expected' | 'low' | 'high'> | undefined,
): Bracket | null {
  if (prediction === undefined) return null
  const { expected, low, high } = prediction
  if (low === null || high === null || low > high) return null
  const inside = expected !== null && expected >= low && expected <= high ? expected : null
  const { value } = summarize(measure, observationsOfTest(brief.cycle, observations))
  return { low, high, expected: inside, outcome: value }
}

/** A test of change as the chart of one measure shows it. */
export function chartTestOf(
  brief: CycleBrief,
  data: MeasureData,
  typed?: Pick<Prediction, 'expected' | 'low' | 'high'>,
): ChartTest {
  const { cycle } = brief
  const prediction = typed ?? brief.predictions.find((p) => p.measureId === data.measure.id)
  const [from, to] = spanOf(cycle, data)
  return {
    id: cycle.id,
    number: cycle.number,
    label: cycle.title,
    mark: testMark(brief),
    from,
    to: to !== null && from !== null && to < from ? null : to,
    bracket: bracketOf(brief, data, prediction),
  }
}

/** Where a test stands on the time axis: its days, or the moments it was observed within a day. */
function spanOf(cycle: Cycle, { observations }: MeasureData): [string | null, string | null] {
  if (cycle.lockedAt === null) return [cycle.plannedFrom ?? today(), cycle.plannedTo]
  const moments = observationsOfTest(cycle, observations)
    .map(({ at }) => at)
    .sort(compareMoments)
  // Several tests can share a day; on a chart with times of day each belongs at its own.
  const timed = moments.some((at) => at.length > 10)
  return timed ? [moments[0]!, moments.at(-1)!] : [cycle.ranFrom, cycle.ranTo]
}

/** What values of a measure are followed by in sentences. */
export function unitOf(
  measure: Pick<Measure, 'dataKind' | 'valueFormat' | 'unitLabel' | 'per'>,
): string {
  const unit = measure.unitLabel.trim()
  if (measure.dataKind === 'classified' || measure.valueFormat === 'duration') return ''
  if (measure.dataKind !== 'rates') return unit
  return `per ${measure.per.toLocaleString('en-GB')}${unit === '' ? '' : ` ${unit}`}`
}

/** What the values of a measure are. */
export function scaleOf({ dataKind, valueFormat }: Measure): ValueScale {
  if (dataKind === 'classified') return 'percent'
  return valueFormat === 'duration' ? 'duration' : 'number'
}

/**
 * A measure with its tests as a chart.
 *
 * @param typed A prediction as it stands in the form, by test: the picture follows the typing.
 */
export function measureChart(
  data: MeasureData,
  tests: readonly CycleBrief[],
  typed: Readonly<Record<string, Pick<Prediction, 'expected' | 'low' | 'high'>>> = {},
): MeasureChart {
  const { measure } = data
  let analysis: Analysis | null
  try {
    analysis = analysisOf(data)
  } catch (error) {
    if (error instanceof AppError) return { spec: null, analysis: null, problem: error }
    throw error
  }
  if (analysis === null) return { spec: null, analysis: null, problem: null }
  return {
    analysis,
    problem: null,
    spec: {
      title: measure.name,
      analysis,
      format: (value) => formatValue(measure, value),
      scale: scaleOf(measure),
      unitLabel: unitOf(measure),
      better: measure.better,
      goal: measure.goal,
      annotations: data.annotations.map(({ at, text }) => ({ at, text })),
      tests: tests.map((test) => chartTestOf(test, data, typed[test.cycle.id])),
    },
  }
}

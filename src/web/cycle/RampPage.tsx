import '../chart/chart.css'
import '../measure/measure.css'
import './cycle.css'
import { useMemo } from 'react'
import { Link, useLocation } from 'wouter'
import type { CycleBrief, MeasureData, ProjectReply } from '../../api/contract.ts'
import { planDifferences, predictionDifferences } from '../../domain/carry-over.ts'
import { outcomesOf } from '../../domain/outcome.ts'
import type { Measure } from '../../domain/record.ts'
import { formatValue } from '../../domain/value-text.ts'
import { RampFigure } from '../chart/RampFigure.tsx'
import { FidelitySection } from '../fidelity/FidelitySection.tsx'
import { formatDate, formatSpan } from '../lib/dates.ts'
import { useQuery } from '../lib/query.ts'
import { chartTestOf, testMark, unitOf } from '../measure/measure-chart.ts'
import { Page } from '../ui/Page.tsx'
import { Section } from '../ui/Section.tsx'
import { Loaded } from '../ui/Waiting.tsx'
import { predictionText } from './prediction-text.ts'
import { RampNoteBlock } from './RampNoteBlock.tsx'
import { isBranch, rampOf } from './ramp.ts'
import { Tooth } from './Tooth.tsx'
import { DECISION_WORDS, PLAN_LABELS, planText, standing } from './words.ts'

export interface RampPageProps {
  readonly projectId: string
  readonly rampId: string
}

/** The chain of tests of one idea: what changed between them, what was expected, what came. */
export function RampPage({ projectId, rampId }: RampPageProps) {
  const query = useQuery('GET /api/projects/:id', { id: projectId })
  return (
    <Loaded query={query} what="the ramp">
      {(data) => <RampView data={data} rampId={rampId} />}
    </Loaded>
  )
}

function RampView({ data, rampId }: { readonly data: ProjectReply; readonly rampId: string }) {
  const { unit, project, measures } = data
  const tests = useMemo(() => rampOf(data.cycles, rampId), [data.cycles, rampId])
  const predicted = measures.filter((m) =>
    tests.some((t) => t.predictions.some((p) => p.measureId === m.measure.id)),
  )
  const first = tests[0]
  const crumbs = [
    { label: unit.name, href: '/projects' },
    { label: project.name, href: `/projects/${project.id}` },
  ]
  if (first === undefined) {
    return (
      <Page title="Ramp" crumbs={crumbs}>
        <p>There is no such chain of tests in this project.</p>
      </Page>
    )
  }
  const closed = tests.filter((t) => t.decision !== null).length
  return (
    <Page
      title={`Ramp: ${first.cycle.title}`}
      crumbs={crumbs}
      lead={
        <p>
          {tests.length === 1 ? 'One test' : `${tests.length} tests`} of one idea, {closed}{' '}
          {closed === 1 ? 'of them closed' : 'of them closed'}. Each builds on the one it names.
        </p>
      }
    >
      <RampNoteBlock
        projectId={project.id}
        rampId={rampId}
        note={data.rampNotes.find((note) => note.rampId === rampId) ?? null}
      />
      <div className="ramp-figures">
        {predicted.map((m) => (
          <RampOfMeasure key={m.measure.id} data={m} tests={tests} />
        ))}
        {predicted.length === 0 && (
          <p className="soft">No test of this chain has a prediction yet.</p>
        )}
      </div>
      <Section
        title="Test by test"
        aside={<p>The same in words: what changed, what was said, what came.</p>}
      >
        <ol className="bare ramp-list">
          {tests.map((test) => (
            <RampStep key={test.cycle.id} test={test} data={data} />
          ))}
        </ol>
      </Section>
      <FidelitySection scope="ramp" tests={tests} measures={measures} />
    </Page>
  )
}

function RampOfMeasure({
  data,
  tests,
}: {
  readonly data: MeasureData
  readonly tests: readonly CycleBrief[]
}) {
  const [, navigate] = useLocation()
  const { measure } = data
  const spec = useMemo(
    () => ({
      title: measure.name,
      tests: tests.map((t) => ({ ...chartTestOf(t, data), buildsOn: t.cycle.buildsOnId })),
      format: (value: number) => formatValue(measure, value),
      unitLabel: unitOf(measure),
      better: measure.better,
      goal: measure.goal,
    }),
    [data, measure, tests],
  )
  return <RampFigure {...spec} onOpenTest={(id) => navigate(`/tests/${id}`)} />
}

const VERDICTS = {
  inside: 'as predicted',
  better: 'better than predicted',
  worse: 'worse than predicted',
  above: 'above the range',
  below: 'below the range',
} as const

function RampStep({ test, data }: { readonly test: CycleBrief; readonly data: ProjectReply }) {
  const { cycle, predictions, decision } = test
  const { cycles } = data
  const measures: readonly Measure[] = data.measures.map(({ measure }) => measure)
  const before = cycles.find((c) => c.cycle.id === cycle.buildsOnId) ?? null
  const changes = before === null ? [] : planDifferences(before.cycle, cycle)
  const expected = predictionDifferences(before?.predictions ?? [], predictions)
  const outcomes = outcomesOf(test, data.measures, cycles)
  const ran = formatSpan(cycle.ranFrom, cycle.ranTo)
  return (
    <li className="ramp-step">
      <div className="ramp-step-tooth">
        <Tooth mark={testMark(test)} />
      </div>
      <div className="stack tight">
        <h3>
          <Link href={`/tests/${cycle.id}`}>
            Test {cycle.number}: {cycle.title}
          </Link>
        </h3>
        <p className="soft">
          {standing(cycle, decision, formatDate)}
          {cycle.lockedAt !== null && ran !== null && ` Ran ${ran}.`}
          {before !== null &&
            (isBranch(cycles, test)
              ? ` A branch of its own from test ${before.cycle.number}.`
              : ` Builds on test ${before.cycle.number}.`)}
        </p>
        {before === null ? (
          <p className="pre">{cycle.change}</p>
        ) : (
          <>
            {changes.length > 0 && (
              <dl className="ramp-changes">
                {changes.map(({ field, was, is }) => (
                  <div key={field}>
                    <dt>{PLAN_LABELS[field]}</dt>
                    <dd>
                      <del>{planText(field, was, measures, formatDate)}</del>{' '}
                      <ins>{planText(field, is, measures, formatDate)}</ins>
                    </dd>
                  </div>
                ))}
              </dl>
            )}
            {changes.length === 0 && expected.length === 0 && (
              <p>Nothing in the plan differs from test {before.cycle.number}.</p>
            )}
          </>
        )}
        <ul>
          {outcomes.map(({ measure, prediction, outcome, verdict }) => (
            <li key={prediction.id}>
              {measure.name}: {predictionText(measure, prediction)}{' '}
              {outcome.value === null || cycle.lockedAt === null
                ? 'Nothing observed yet.'
                : `It came out at ${formatValue(measure, outcome.value)}${verdict === null ? '' : `, ${VERDICTS[verdict]}`}.`}
            </li>
          ))}
        </ul>
        {decision !== null && (
          <p className="pre">
            <b>{capital(DECISION_WORDS[decision.kind])}.</b> {decision.reason}
          </p>
        )}
      </div>
    </li>
  )
}

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)

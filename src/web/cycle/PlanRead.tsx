import type { ReactNode } from 'react'
import type { CycleBrief, CycleReply } from '../../api/contract.ts'
import { planDifferences, predictionDifferences } from '../../domain/carry-over.ts'
import { suggestedSize } from '../../domain/planner-size.ts'
import type { Measure, Plan } from '../../domain/record.ts'
import { formatDate, formatSpan } from '../lib/dates.ts'
import { predictionText } from './prediction-text.ts'
import { Was } from './Was.tsx'
import {
  APPROVALS,
  BELIEF_WORDS,
  COST_WORDS,
  DETERMINATIONS,
  PLAN_LABELS,
  planText,
  READINESS_WORDS,
} from './words.ts'

/** The plan as it was locked: text, with what differed from the test before. */
export function PlanRead({
  data,
  before,
}: {
  readonly data: CycleReply
  readonly before: CycleBrief | null
}) {
  const { cycle, predictions } = data
  const measures = data.measures.map(({ measure }) => measure)
  const differences = before === null ? [] : planDifferences(before.cycle, cycle)
  const changed = predictionDifferences(before?.predictions ?? [], predictions)
  const was = (...fields: (keyof Plan)[]) =>
    before !== null &&
    differences
      .filter((d) => fields.includes(d.field))
      .map((d) => (
        <Was
          key={d.field}
          number={before.cycle.number}
          text={`${fields.length > 1 ? `${PLAN_LABELS[d.field]}: ` : ''}${planText(d.field, d.was, measures, formatDate)}`}
          what={PLAN_LABELS[d.field]}
        />
      ))
  const entry = (label: string, text: string | null, ...fields: (keyof Plan)[]) => (
    <Entry label={label} text={text}>
      {was(...fields)}
    </Entry>
  )
  return (
    <div className="plan-read">
      <dl>
        {entry(PLAN_LABELS.question, cycle.question, 'question')}
        {entry(PLAN_LABELS.change, cycle.change, 'change')}
        {entry(PLAN_LABELS.who, cycle.who, 'who')}
        {entry(PLAN_LABELS.where, cycle.where, 'where')}
        {entry('When', formatSpan(cycle.plannedFrom, cycle.plannedTo))}
        {entry(PLAN_LABELS.howMany, cycle.howMany, 'howMany')}
        {entry(PLAN_LABELS.collection, cycle.collection, 'collection')}
        {cycle.belief !== null &&
          entry('Size of the test', sizeText(cycle), 'belief', 'failureCost', 'readiness')}
        {entry('Care', careText(data), 'determination', 'approval', 'approvalNote')}
        {entry(
          'If it could harm',
          harmText(data, measures),
          'couldHarm',
          'stopRule',
          'stopMeasureId',
        )}
      </dl>
      <h3>Predictions</h3>
      {predictions.length === 0 && <p className="soft">No prediction is written.</p>}
      <dl>
        {predictions.map((p) => {
          const measure = measures.find(({ id }) => id === p.measureId)
          if (measure === undefined) return null
          const old = changed.find((d) => d.measureId === p.measureId)?.was ?? null
          return (
            <Entry key={p.id} label={measure.name} text={predictionText(measure, p)} bracket>
              {p.why.trim() !== '' && <p className="pre">Because: {p.why}</p>}
              {old !== null && before !== null && (
                <Was
                  number={before.cycle.number}
                  text={predictionText(measure, old)}
                  what={measure.name}
                />
              )}
            </Entry>
          )
        })}
      </dl>
    </div>
  )
}

/** Entries of a line or two, which stand side by side where there is room. */
const SHORT: ReadonlySet<string> = new Set([
  PLAN_LABELS.who,
  PLAN_LABELS.where,
  'When',
  PLAN_LABELS.howMany,
])

interface EntryProps {
  readonly label: string
  readonly text: string | null
  readonly bracket?: boolean
  readonly children?: ReactNode
}

function Entry({ label, text, bracket = false, children }: EntryProps) {
  const empty = text === null || text.trim() === ''
  if (empty && !children) return null
  return (
    <div className={bracket ? 'entry said' : SHORT.has(label) ? 'entry short' : 'entry'}>
      <dt>{label}</dt>
      <dd>
        <p className={empty ? 'pre soft' : 'pre'}>{empty ? 'nothing' : text}</p>
        {children}
      </dd>
    </div>
  )
}

function sizeText(cycle: Plan): string | null {
  const { belief, failureCost, readiness } = cycle
  const said = [
    belief === null ? null : `${PLAN_LABELS.belief}: ${BELIEF_WORDS[belief].toLowerCase()}.`,
    failureCost === null
      ? null
      : `${PLAN_LABELS.failureCost}: ${COST_WORDS[failureCost].toLowerCase()}.`,
    readiness === null
      ? null
      : `${PLAN_LABELS.readiness}: ${READINESS_WORDS[readiness].toLowerCase()}.`,
  ].filter((text) => text !== null)
  if (said.length === 0) return null
  const suggested = suggestedSize(cycle)
  const then = suggested === null ? '' : `\nSuggested then: ${lowerFirst(suggested.headline)}`
  return said.join(' ') + then
}

const lowerFirst = (text: string) => text.slice(0, 1).toLowerCase() + text.slice(1)

function careText({ cycle }: CycleReply): string {
  const { determination, approval, approvalNote } = cycle
  if (determination === null) return ''
  const name = DETERMINATIONS[determination]
  if (determination === 'exercise' || approval === null) return `${name}.`
  const note = approvalNote.trim() === '' ? '' : `: ${approvalNote.trim().replace(/\.$/, '')}`
  return `${name}. Approval: ${APPROVALS[approval].toLowerCase()}${note}.`
}

function harmText({ cycle }: CycleReply, measures: readonly Measure[]): string {
  if (cycle.couldHarm === null) return ''
  if (cycle.couldHarm === 'no') return 'The team saw no harm it could do.'
  const watched = measures.find(({ id }) => id === cycle.stopMeasureId)?.name
  return `Stop rule: ${cycle.stopRule.trim()}${watched === undefined ? '' : `\nWatched on: ${watched}.`}`
}

import type { ReactNode } from 'react'
import { Link } from 'wouter'
import type { CycleBrief, CycleReply } from '../../api/contract.ts'
import { planDifferences } from '../../domain/carry-over.ts'
import type { Issue } from '../../domain/issue.ts'
import type { Cycle, Plan } from '../../domain/record.ts'
import { formatDate } from '../lib/dates.ts'
import type { Editing } from '../lib/use-record-editor.ts'
import { DateField } from '../ui/DateField.tsx'
import { TextArea } from '../ui/TextArea.tsx'
import { TextField } from '../ui/TextField.tsx'
import { CareFields } from './CareFields.tsx'
import { PredictionsForm } from './PredictionsForm.tsx'
import { SizeFields } from './SizeFields.tsx'
import { Was } from './Was.tsx'
import { PLAN_LABELS, planText } from './words.ts'

export interface PlanFormProps {
  readonly data: CycleReply
  readonly editing: Editing<Cycle>
  readonly before: CycleBrief | null
  /** What stands in the way of the lock, shown beside its fields once the lock was tried. */
  readonly issues: readonly Issue[]
}

type TextPart = 'title' | 'question' | 'change' | 'who' | 'where' | 'howMany' | 'collection'

/** The plan while it can be edited, with what differs from the test it builds on. */
export function PlanForm({ data, editing, before, issues }: PlanFormProps) {
  const { values, set, flush } = editing
  const measures = data.measures.map(({ measure }) => measure)
  const onBlur = () => void flush()
  const differences = before === null ? [] : planDifferences(before.cycle, values)

  const error = (field: string) => issues.find((issue) => issue.field === field)?.message ?? null
  const was = (field: keyof Plan) => {
    const found = differences.find((d) => d.field === field)
    if (before === null || found === undefined) return null
    const text = planText(field, found.was, measures, formatDate)
    return (
      <Was
        number={before.cycle.number}
        text={text}
        what={PLAN_LABELS[field]}
        onPutBack={() => set(field, found.was as Cycle[typeof field])}
      />
    )
  }
  const cell = (field: keyof Plan, control: ReactNode) => (
    <div className="plan-cell" data-field={field}>
      {control}
      {was(field)}
    </div>
  )
  const area = (field: TextPart, hint: string, rows = 2) =>
    cell(
      field,
      <TextArea
        label={PLAN_LABELS[field]}
        hint={hint}
        rows={rows}
        value={values[field]}
        onChange={(value) => set(field, value)}
        onBlur={onBlur}
        error={error(field)}
      />,
    )
  const line = (field: TextPart, hint: string) =>
    cell(
      field,
      <TextField
        label={PLAN_LABELS[field]}
        hint={hint}
        value={values[field]}
        onChange={(value) => set(field, value)}
        onBlur={onBlur}
        error={error(field)}
      />,
    )
  const date = (field: 'plannedFrom' | 'plannedTo') =>
    cell(
      field,
      <DateField
        label={PLAN_LABELS[field]}
        value={values[field]}
        onChange={(value) => set(field, value)}
        onBlur={onBlur}
        error={error(field)}
      />,
    )

  return (
    <>
      {before !== null && (
        <p>
          Carried over from{' '}
          <Link href={`/tests/${before.cycle.id}`}>test {before.cycle.number}</Link>.{' '}
          {differences.length === 0
            ? 'Nothing differs yet: a test that changes nothing only repeats the last one.'
            : `What differs is marked: ${differences.map((d) => PLAN_LABELS[d.field].toLowerCase()).join(', ')}.`}
        </p>
      )}
      <div className="plan-group">
        {line('title', 'A few words, such as: Tray card, early shift')}
        {area('question', 'What the team wants to find out: will it …, if we …?')}
        {area('change', 'What will be done differently from now, exactly', 3)}
      </div>
      <div className="plan-group two">
        {area('who', 'Who does it, with whom', 1)}
        {area('where', 'Ward, room, shift', 1)}
        {date('plannedFrom')}
        {date('plannedTo')}
        {area('howMany', 'As few as will teach something', 1)}
        {area('collection', 'What is written down, by whom, how')}
      </div>
      <SizeFields values={values} set={set} was={was} />
      <PredictionsForm data={data} before={before} error={error} />
      <CareFields
        values={values}
        set={set}
        onBlur={onBlur}
        measures={measures}
        projectId={data.project.id}
        error={error}
        was={was}
      />
    </>
  )
}

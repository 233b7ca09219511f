import type { ExperimentReply } from '../../api/experiment-contract.ts'
import type { Experiment, ResponseKind } from '../../domain/experiment-record.ts'
import type { Measure } from '../../domain/record.ts'
import { CareFields } from '../cycle/CareFields.tsx'
import type { Editing } from '../lib/use-record-editor.ts'
import { RadioCards } from '../ui/RadioCards.tsx'
import { Select } from '../ui/Select.tsx'
import { TextArea } from '../ui/TextArea.tsx'
import { TextField } from '../ui/TextField.tsx'
import { DesignChoice } from './DesignChoice.tsx'
import { FactorsForm } from './FactorsForm.tsx'
import { EXPERIMENT_LABELS, RESPONSE_WORDS } from './words.ts'

export interface PlanFormProps {
  readonly data: ExperimentReply
  readonly editing: Editing<Experiment>
  readonly error: (field: string) => string | null
  readonly onUnread: (unread: boolean) => void
}

const OWN = 'own'

/** A measure's values as the response of a run. */
function responseOf(measure: Measure): Partial<Experiment> {
  const responseKind: ResponseKind =
    measure.dataKind === 'classified'
      ? 'share'
      : measure.valueFormat === 'duration'
        ? 'duration'
        : 'number'
  return {
    measureId: measure.id,
    response: measure.name,
    responseKind,
    unitLabel: measure.unitLabel,
    better: measure.better,
  }
}

/** The plan while it can be edited. */
export function PlanForm({ data, editing, error, onUnread }: PlanFormProps) {
  const { values, set, flush } = editing
  const { measures } = data
  const onBlur = () => void flush()
  const choose = (value: string) => {
    const measure = measures.find((m) => m.id === value)
    const change = measure === undefined ? { measureId: null } : responseOf(measure)
    for (const [field, next] of Object.entries(change))
      set(field as 'measureId', next as Experiment['measureId'])
  }
  return (
    <>
      <div className="plan-group">
        <div data-field="title">
          <TextField
            label={EXPERIMENT_LABELS.title}
            value={values.title}
            onChange={(value) => set('title', value)}
            onBlur={onBlur}
            error={values.title.trim() === '' ? 'Give the plan a title.' : null}
          />
        </div>
        <div data-field="question">
          <TextArea
            label={EXPERIMENT_LABELS.question}
            hint="What the team wants to find out: which of these changes …?"
            value={values.question}
            onChange={(value) => set('question', value)}
            onBlur={onBlur}
            error={error('question')}
          />
        </div>
        <div data-field="conditions">
          <TextArea
            label={EXPERIMENT_LABELS.conditions}
            hint="Who does a run, where, and what is the same in every one"
            optional
            value={values.conditions}
            onChange={(value) => set('conditions', value)}
            onBlur={onBlur}
          />
        </div>
      </div>
      <div className="plan-group">
        <h3>What is read off after every run</h3>
        {measures.length > 0 && (
          <Select
            label="Take it from a measure"
            value={values.measureId ?? OWN}
            onChange={choose}
            onBlur={onBlur}
            options={[
              { value: OWN, label: 'No, a response of its own' },
              ...measures.map(({ id, name }) => ({ value: id, label: name })),
            ]}
          />
        )}
        <div data-field="response">
          <TextField
            label={EXPERIMENT_LABELS.response}
            hint="As it reads in a sentence, such as: the time to lay the tray"
            value={values.response}
            onChange={(value) => set('response', value)}
            onBlur={onBlur}
            error={error('response')}
          />
        </div>
        <RadioCards<ResponseKind>
          legend={EXPERIMENT_LABELS.responseKind}
          across
          value={values.responseKind}
          onChange={(value) => set('responseKind', value)}
          choices={(Object.keys(RESPONSE_WORDS) as ResponseKind[]).map((value) => ({
            value,
            ...RESPONSE_WORDS[value],
          }))}
        />
        {values.responseKind === 'number' && (
          <TextField
            label={EXPERIMENT_LABELS.unitLabel}
            hint="Such as minutes, steps or items"
            optional
            value={values.unitLabel}
            onChange={(value) => set('unitLabel', value)}
            onBlur={onBlur}
          />
        )}
        <RadioCards<'up' | 'down' | 'neither'>
          legend={EXPERIMENT_LABELS.better}
          across
          value={values.better ?? 'neither'}
          onChange={(value) => set('better', value === 'neither' ? null : value)}
          choices={[
            { value: 'down', label: 'Lower' },
            { value: 'up', label: 'Higher' },
            { value: 'neither', label: 'Neither' },
          ]}
        />
      </div>
      <FactorsForm data={{ ...data, experiment: values }} error={error} />
      <DesignChoice data={data} editing={editing} error={error} onUnread={onUnread} />
      <CareFields
        values={values}
        set={set}
        onBlur={onBlur}
        measures={measures}
        projectId={data.project.id}
        error={error}
        was={() => null}
      />
    </>
  )
}

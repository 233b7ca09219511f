import type { ReactNode } from 'react'
import { Link } from 'wouter'
import type { CarePlan } from '../../domain/care-issues.ts'
import type { Approval, Determination, Id, Measure } from '../../domain/record.ts'
import { Notice } from '../ui/Notice.tsx'
import { RadioCards } from '../ui/RadioCards.tsx'
import { Select } from '../ui/Select.tsx'
import { TextArea } from '../ui/TextArea.tsx'
import { TextField } from '../ui/TextField.tsx'
import { APPROVALS, DETERMINATIONS, PLAN_LABELS } from './words.ts'

type SetField<F extends keyof CarePlan> = (field: F, value: CarePlan[F]) => void

export interface CareFieldsProps {
  readonly values: CarePlan
  readonly set: SetField<'determination'> &
    SetField<'approval'> &
    SetField<'approvalNote'> &
    SetField<'couldHarm'> &
    SetField<'stopRule'> &
    SetField<'stopMeasureId'>
  readonly onBlur: () => void
  readonly measures: readonly Measure[]
  readonly projectId: Id
  readonly error: (field: string) => string | null
  readonly was: (field: keyof CarePlan) => ReactNode
}

const choices = <V extends string>(words: Readonly<Record<V, string>>) =>
  (Object.keys(words) as V[]).map((value) => ({ value, label: words[value] }))

/** What local policy calls this test, whether its approval is on record, and when to stop at once. */
export function CareFields(props: CareFieldsProps) {
  const { values, set, onBlur, measures, error, was } = props
  const { determination, approval, couldHarm } = values
  const balancing = measures.filter((m) => m.role === 'balancing')
  return (
    <div className="plan-group care" id="care">
      <h3>Care</h3>
      <Notice kind="care">
        <p>
          Local policy and licensed practice come first. Pawl keeps a record of what they say; it
          approves nothing, and it never says that a change is safe.
        </p>
      </Notice>
      <div className="plan-cell" data-field="determination">
        <RadioCards<Determination>
          legend="What does local policy call this test?"
          across
          value={determination}
          choices={choices(DETERMINATIONS)}
          onChange={(value) => set('determination', value)}
          error={error('determination')}
        />
        {was('determination')}
      </div>
      {determination !== null && determination !== 'exercise' && (
        <>
          <div className="plan-cell" data-field="approval">
            <RadioCards<Approval>
              legend="Is the local approval on record?"
              across
              value={approval}
              choices={choices(APPROVALS)}
              onChange={(value) => set('approval', value)}
              error={error('approval')}
            />
            {was('approval')}
          </div>
          <div className="plan-cell" data-field="approvalNote">
            <TextField
              label={
                approval === 'not-needed' ? 'Which local policy says so' : PLAN_LABELS.approvalNote
              }
              hint="Register, number, minutes of a meeting"
              value={values.approvalNote}
              onChange={(value) => set('approvalNote', value)}
              onBlur={onBlur}
              error={error('approvalNote')}
            />
            {was('approvalNote')}
          </div>
        </>
      )}
      <div className="plan-cell" data-field="couldHarm">
        <RadioCards<'yes' | 'no'>
          legend="Could this test harm someone?"
          hint="A patient or a member of staff, by what is done or by what is left undone."
          across
          value={couldHarm}
          choices={[
            { value: 'no', label: 'No' },
            { value: 'yes', label: 'Yes, it could' },
          ]}
          onChange={(value) => set('couldHarm', value)}
          error={error('couldHarm')}
        />
        {was('couldHarm')}
      </div>
      {couldHarm === 'yes' && (
        <>
          <div className="plan-cell" data-field="stopRule">
            <TextArea
              label={PLAN_LABELS.stopRule}
              hint="The test stops at once when …; who says so, and to whom"
              value={values.stopRule}
              onChange={(value) => set('stopRule', value)}
              onBlur={onBlur}
              error={error('stopRule')}
            />
            {was('stopRule')}
          </div>
          <div className="plan-cell" data-field="stopMeasureId">
            {balancing.length > 0 ? (
              <Select
                label={PLAN_LABELS.stopMeasureId}
                value={values.stopMeasureId ?? ''}
                options={[
                  { value: '', label: 'choose one' },
                  ...balancing.map(({ id, name }) => ({ value: id, label: name })),
                ]}
                onChange={(value) => set('stopMeasureId', value === '' ? null : value)}
                onBlur={onBlur}
                error={error('stopMeasureId')}
              />
            ) : (
              <p>
                The stop rule needs a balancing measure, and this project has none.{' '}
                <Link href={`/projects/${props.projectId}/new-measure`}>
                  Add a balancing measure
                </Link>
              </p>
            )}
            {was('stopMeasureId')}
          </div>
        </>
      )}
    </div>
  )
}

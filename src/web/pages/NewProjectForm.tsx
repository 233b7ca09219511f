import { useState } from 'react'
import { useLocation } from 'wouter'
import type { Unit } from '../../domain/record.ts'
import { call } from '../lib/api.ts'
import { newId } from '../lib/ids.ts'
import { issuesByField } from '../lib/refusals.ts'
import { useCan } from '../lib/session.ts'
import { useAction } from '../lib/use-action.ts'
import { useDraft } from '../lib/use-draft.ts'
import { Button } from '../ui/Button.tsx'
import { Form } from '../ui/Form.tsx'
import { ErrorNotice } from '../ui/Notice.tsx'
import { Select } from '../ui/Select.tsx'
import { TextArea } from '../ui/TextArea.tsx'
import { TextField } from '../ui/TextField.tsx'
import { unitOptions } from './unit-tree.ts'

export interface NewProjectFormProps {
  readonly units: readonly Unit[]
  readonly onCancel?: () => void
}

const NEW_UNIT = 'new'

/** Starts a project, and the unit it belongs to where there is none yet. */
export function NewProjectForm({ units, onCancel }: NewProjectFormProps) {
  const mayAddUnit = useCan('coach')
  const [, navigate] = useLocation()
  const form = useDraft('new-project', {
    unitId: units[0]?.id ?? NEW_UNIT,
    unitName: '',
    name: '',
    aim: '',
  })
  const action = useAction()
  const [asked, setAsked] = useState(false)
  // Ids are made once, so that pressing twice, or after a lost answer, makes one project.
  const [ids] = useState(() => ({ unit: newId(), project: newId() }))
  const { values, set } = form

  const known = units.some((unit) => unit.id === values.unitId)
  const newUnit = !known && mayAddUnit
  const chosen = known ? values.unitId : newUnit ? NEW_UNIT : (units[0]?.id ?? NEW_UNIT)
  const missing = {
    unitName: newUnit && values.unitName.trim() === '' ? 'Name the ward, clinic or team.' : null,
    name: values.name.trim() === '' ? 'Give the project a name.' : null,
  }
  const issues = issuesByField(action.error)

  const create = async () => {
    setAsked(true)
    if (missing.unitName !== null || missing.name !== null) return
    await action.run(async () => {
      if (newUnit) {
        const unit = { id: ids.unit, name: values.unitName.trim(), parentId: null }
        await call('POST /api/units', { body: unit }).catch((error: unknown) => {
          // An earlier try made the unit and its answer was lost.
          if ((error as { code?: string }).code !== 'record.exists') throw error
        })
      }
      const project = await call('POST /api/projects', {
        body: {
          id: ids.project,
          unitId: newUnit ? ids.unit : chosen,
          name: values.name.trim(),
          aim: values.aim,
        },
      })
      form.clear()
      navigate(`/projects/${project.id}`)
    })
  }

  if (units.length === 0 && !mayAddUnit) {
    return (
      <p>
        A project belongs to a unit, and there is none yet. Ask a coach or the owner to add your
        ward, clinic or team.
      </p>
    )
  }
  return (
    <Form onSubmit={() => void create()}>
      {units.length > 0 && (
        <Select
          label="Unit"
          value={chosen}
          onChange={(value) => set('unitId', value)}
          options={[
            ...unitOptions(units),
            ...(mayAddUnit ? [{ value: NEW_UNIT, label: 'A new unit…' }] : []),
          ]}
        />
      )}
      {newUnit && (
        <TextField
          label="Name of the unit"
          hint="The ward, clinic or team whose work this is. You can build a tree of units later."
          required
          value={values.unitName}
          onChange={(value) => set('unitName', value)}
          error={asked ? missing.unitName : null}
        />
      )}
      <TextField
        label="Name of the project"
        required
        value={values.name}
        onChange={(value) => set('name', value)}
        error={(asked ? missing.name : null) ?? issues['name']}
      />
      <TextArea
        label="Aim"
        hint="What, how much, by when, for whom, and from which baseline."
        optional
        value={values.aim}
        onChange={(value) => set('aim', value)}
        error={issues['aim']}
      />
      {action.error !== null && <ErrorNotice error={action.error} />}
      <div className="row">
        <Button look="main" type="submit" busy={action.busy} busyText="Starting the project…">
          Start the project
        </Button>
        {onCancel !== undefined && (
          <Button look="quiet" onClick={onCancel}>
            Not now
          </Button>
        )}
      </div>
    </Form>
  )
}

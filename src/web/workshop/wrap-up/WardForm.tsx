import { useState } from 'react'
import { useLocation } from 'wouter'
import { AIM_PART_NAMES, type Aim, aimText, missingAimParts } from '../../../domain/aim-parts.ts'
import type { Unit } from '../../../domain/record.ts'
import type { TableState } from '../../../domain/workshop/room-state.ts'
import { wardStart } from '../../../domain/workshop/ward-start.ts'
import { listText } from '../../../domain/workshop/wrap-up-words.ts'
import { call } from '../../lib/api.ts'
import { newId } from '../../lib/ids.ts'
import { issuesByField } from '../../lib/refusals.ts'
import { useAction } from '../../lib/use-action.ts'
import { useDraft } from '../../lib/use-draft.ts'
import { unitOptions } from '../../pages/unit-tree.ts'
import { Button } from '../../ui/Button.tsx'
import { Form } from '../../ui/Form.tsx'
import { ErrorNotice } from '../../ui/Notice.tsx'
import { Select } from '../../ui/Select.tsx'
import { TextArea } from '../../ui/TextArea.tsx'
import { TextField } from '../../ui/TextField.tsx'
import { AimFields } from './AimFields.tsx'

export interface WardFormProps {
  readonly roomId: string
  /** Where the workshop was held: seldom the ward. */
  readonly roomUnitId: string
  readonly tables: readonly TableState[]
  readonly units: readonly Unit[]
  /** The table to begin with; `null`: a fresh question. */
  readonly first: string | null
}

const FRESH = 'fresh'

/** What a first test on a ward needs to begin; prefilled from the table, to be rewritten. */
export function WardForm({ roomId, roomUnitId, tables, units, first }: WardFormProps) {
  const [, navigate] = useLocation()
  const action = useAction()
  const [asked, setAsked] = useState(false)
  const [ids] = useState(() => ({ project: newId(), cycle: newId() }))
  const tableOf = (id: string) => tables.find((table) => table.id === id) ?? null
  const begin = wardStart(tableOf(first ?? FRESH))
  const form = useDraft(`ward ${roomId} ${first ?? FRESH}`, {
    table: first ?? FRESH,
    unitId: (units.find(({ id }) => id !== roomUnitId) ?? units[0]!).id,
    name: '',
    what: '',
    howMuch: '',
    byWhen: '',
    forWhom: '',
    baseline: '',
    question: '',
    change: begin.change,
    who: begin.who,
  })
  const { values, set } = form
  const table = tableOf(values.table)
  const start = wardStart(table)
  const aim: Aim = values
  const missing = missingAimParts(aim)
  const blank = (text: string) => text.trim() === ''
  const wrong = {
    name: blank(values.name) ? 'Give the project a name.' : null,
    question: blank(values.question) ? 'Write the question the first test answers.' : null,
    change: blank(values.change)
      ? 'Say what will be done differently on the ward.'
      : values.change.trim() === start.change
        ? 'These are still the words of the classroom. Say what somebody will do on the ward.'
        : null,
  }
  const issues = issuesByField(action.error)

  const choose = (id: string) => {
    const next = wardStart(tableOf(id))
    // What somebody wrote stays; what was only offered is offered from the other table.
    if (blank(values.change) || values.change.trim() === start.change) set('change', next.change)
    if (blank(values.who) || values.who.trim() === start.who) set('who', next.who)
    set('table', id)
  }

  const open = async () => {
    setAsked(true)
    if (Object.values(wrong).some((message) => message !== null)) return
    await action.run(async () => {
      const { projectId, cycleId } = await call('POST /api/rooms/:id/ward', {
        params: { id: roomId },
        body: {
          projectId: ids.project,
          cycleId: ids.cycle,
          unitId: units.some(({ id }) => id === values.unitId) ? values.unitId : units[0]!.id,
          name: values.name.trim(),
          aim: aimText(aim),
          question: values.question.trim(),
          change: values.change.trim(),
          tableId: table?.id ?? null,
          who: values.who.trim(),
        },
      }).catch((error: unknown) => {
        // An earlier try opened it and its answer was lost.
        if ((error as { code?: string }).code !== 'record.exists') throw error
        return { projectId: ids.project, cycleId: ids.cycle }
      })
      form.clear()
      navigate(projectId === ids.project ? `/tests/${cycleId}` : `/projects/${projectId}`)
    })
  }

  return (
    <Form onSubmit={() => void open()}>
      <Select
        label="It comes from"
        value={values.table}
        options={[
          { value: FRESH, label: 'The class: a fresh question' },
          ...tables.map(({ id, name }) => ({ value: id, label: `Table ${name}` })),
        ]}
        onChange={choose}
      />
      <Select
        label="Unit"
        value={values.unitId}
        options={unitOptions(units)}
        onChange={(value) => set('unitId', value)}
      />
      <TextField
        label="Name of the project"
        required
        value={values.name}
        onChange={(value) => set('name', value)}
        error={(asked ? wrong.name : null) ?? issues['name']}
      />
      <AimFields aim={aim} set={set} />
      <p className="small soft" role="status">
        {missing.length === 0
          ? 'The aim has all its parts.'
          : `The aim does not say yet: ${listText(missing.map((part) => AIM_PART_NAMES[part]))}. The project names what is missing until it is written.`}
      </p>
      <TextArea
        label="Question of the first test"
        hint="One that a few trials on one ward can answer."
        required
        value={values.question}
        onChange={(value) => set('question', value)}
        error={(asked ? wrong.question : null) ?? issues['question']}
      />
      <TextArea
        label="Change to test on the ward"
        hint={
          start.change === ''
            ? 'Who does what differently, where, and on how small a scale.'
            : `At the table it was: “${start.change}” Rewrite it as what somebody will do on the ward.`
        }
        required
        rows={3}
        value={values.change}
        onChange={(value) => set('change', value)}
        error={(asked ? wrong.change : null) ?? issues['change']}
      />
      <TextField
        label="Who takes part"
        hint="First names or roles of the people of the table; no patients."
        optional
        value={values.who}
        onChange={(value) => set('who', value)}
        error={issues['who']}
      />
      {action.error !== null && <ErrorNotice error={action.error} />}
      <div className="row">
        <Button look="main" type="submit" busy={action.busy} busyText="Opening the project…">
          Open the project
        </Button>
      </div>
    </Form>
  )
}

import { useState } from 'react'
import { useLocation } from 'wouter'
import type { MeasureReply } from '../../api/contract.ts'
import type { Measure, Unit } from '../../domain/record.ts'
import { unitIdOf } from '../../domain/repeats.ts'
import { call } from '../lib/api.ts'
import { newId } from '../lib/ids.ts'
import { useQuery } from '../lib/query.ts'
import { useAction } from '../lib/use-action.ts'
import { useDraft } from '../lib/use-draft.ts'
import { unitOptions } from '../pages/unit-tree.ts'
import { Button } from '../ui/Button.tsx'
import { Dialog } from '../ui/Dialog.tsx'
import { Form } from '../ui/Form.tsx'
import { ErrorNotice } from '../ui/Notice.tsx'
import { Select } from '../ui/Select.tsx'
import { TextField } from '../ui/TextField.tsx'
import { Loaded } from '../ui/Waiting.tsx'

export interface RepeatDialogProps {
  /** The measure that the new one repeats. */
  readonly original: Measure
  readonly data: MeasureReply
  readonly onClose: () => void
}

/** Takes a measure on another unit too: asks for the unit, and copies the rest. */
export function RepeatDialog({ original, data, onClose }: RepeatDialogProps) {
  const query = useQuery('GET /api/units')
  return (
    <Dialog title={`Measure “${original.name}” on another unit too`} onClose={onClose}>
      <Loaded query={query} what="the units">
        {({ units }) => (
          <RepeatForm original={original} data={data} units={units} onClose={onClose} />
        )}
      </Loaded>
    </Dialog>
  )
}

const NONE = 'none'

function RepeatForm({
  original,
  data,
  units,
  onClose,
}: RepeatDialogProps & { readonly units: readonly Unit[] }) {
  const { project, family } = data
  const [id] = useState(newId)
  const [, navigate] = useLocation()
  const form = useDraft(`measure:repeat:${original.id}`, { unitId: NONE, name: '' })
  const [asked, setAsked] = useState(false)
  const action = useAction()
  const taken = new Set([original, ...family].map((m) => unitIdOf(m, project)))
  const options = unitOptions(units.filter((unit) => unit.origin === project.origin)).filter(
    (option) => !taken.has(option.value),
  )
  const chosen = units.find((unit) => unit.id === form.values.unitId && !taken.has(unit.id))
  const proposed = chosen === undefined ? '' : `${original.name}, ${chosen.name}`
  const name = form.values.name === '' ? proposed : form.values.name
  const missing = chosen === undefined ? 'Choose the unit.' : null
  const unnamed = chosen !== undefined && name.trim() === '' ? 'Give the measure a name.' : null

  const create = async () => {
    setAsked(true)
    if (chosen === undefined || unnamed !== null) return
    const { version: _, ...shared } = original
    await action.run(async () => {
      const measure = await call('POST /api/measures', {
        body: { ...shared, id, name: name.trim(), unitId: chosen.id, sameAsId: original.id },
      })
      form.clear()
      onClose()
      navigate(`/measures/${measure.id}`)
    })
  }

  if (options.length === 0)
    return (
      <>
        <p>
          There is no other unit to measure it on. A coach or owner can add units under Projects.
        </p>
        <Button onClick={onClose}>Close</Button>
      </>
    )
  return (
    <Form onSubmit={() => void create()}>
      <p>
        Definition, kind of data, role and better direction are copied and stay the same. Its data
        come in as those of any measure.
      </p>
      <Select
        label="Unit"
        value={chosen?.id ?? NONE}
        options={[{ value: NONE, label: 'Choose a unit' }, ...options]}
        onChange={(value) => form.set('unitId', value)}
        error={asked ? missing : null}
      />
      <TextField
        label="Name"
        hint="Says which unit it is, so that lists and sentences do."
        value={name}
        onChange={(value) => form.set('name', value)}
        error={asked ? unnamed : null}
      />
      {action.error !== null && <ErrorNotice error={action.error} />}
      <div className="row">
        <Button look="main" type="submit" busy={action.busy} busyText="Making it…">
          Make the measure
        </Button>
        <Button look="quiet" onClick={onClose}>
          Leave it
        </Button>
      </div>
    </Form>
  )
}

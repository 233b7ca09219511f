import { useState } from 'react'
import type { Id, Unit } from '../../domain/record.ts'
import { call } from '../lib/api.ts'
import { newId } from '../lib/ids.ts'
import { isStale } from '../lib/refusals.ts'
import { offerUndo } from '../lib/undo.ts'
import { useAction } from '../lib/use-action.ts'
import { Button } from '../ui/Button.tsx'
import { Dialog } from '../ui/Dialog.tsx'
import { Form } from '../ui/Form.tsx'
import { ErrorNotice } from '../ui/Notice.tsx'
import { Select } from '../ui/Select.tsx'
import { TextField } from '../ui/TextField.tsx'
import { unitOptions, unitsWithin } from './unit-tree.ts'

export interface UnitDialogProps {
  readonly units: readonly Unit[]
  /** The unit to change; left out, a new one is added. */
  readonly unit?: Unit
  /** Nothing is inside, so it may be removed. */
  readonly empty: boolean
  readonly onClose: () => void
  readonly onDone: () => void
  /** Something was taken back after the dialog had closed. */
  readonly onGone: () => void
}

const TOP = 'top'

/** Adds, renames, moves or removes a unit. */
export function UnitDialog(props: UnitDialogProps) {
  const { units, unit, empty, onClose, onDone, onGone } = props
  const [id] = useState(newId)
  const [name, setName] = useState(unit?.name ?? '')
  const [parent, setParent] = useState<string>(unit?.parentId ?? TOP)
  const [asked, setAsked] = useState(false)
  const action = useAction()
  const within = unit === undefined ? new Set<Id>() : unitsWithin(units, unit.id)
  const parents = unitOptions(units).filter((option) => !within.has(option.value))
  const missing = name.trim() === '' ? 'Give the unit a name.' : null

  const save = async () => {
    setAsked(true)
    if (missing !== null) return
    const parentId = parent === TOP ? null : parent
    const fine = await action.run(async () => {
      if (unit === undefined) {
        await call('POST /api/units', { body: { id, name: name.trim(), parentId } })
        return
      }
      const saved = await call('PATCH /api/units/:id', {
        params: { id: unit.id },
        body: { version: unit.version, name: name.trim(), parentId },
      })
      offerUndo(`“${saved.name}” is changed.`, async () => {
        await call('PATCH /api/units/:id', {
          params: { id: unit.id },
          body: { version: saved.version, name: unit.name, parentId: unit.parentId },
        })
        onGone()
      })
    })
    if (fine) onDone()
  }

  const remove = async () => {
    if (unit === undefined) return
    const fine = await action.run(async () => {
      await call('DELETE /api/units/:id', {
        params: { id: unit.id },
        body: { version: unit.version },
      })
      offerUndo(`“${unit.name}” is removed.`, async () => {
        // A removed id stays with the journal, so what comes back is a unit of its own.
        await call('POST /api/units', {
          body: { id: newId(), name: unit.name, parentId: unit.parentId },
        })
        onGone()
      })
    })
    if (fine) onDone()
  }

  return (
    <Dialog title={unit === undefined ? 'Add a unit' : `Change ${unit.name}`} onClose={onClose}>
      <Form onSubmit={() => void save()}>
        <TextField
          label="Name"
          hint="A ward, a clinic, a team, or a part of the hospital that holds them."
          required
          value={name}
          onChange={setName}
          error={asked ? missing : null}
        />
        <Select
          label="Inside"
          value={parent}
          onChange={setParent}
          options={[{ value: TOP, label: 'Nothing: it stands at the top' }, ...parents]}
        />
        {action.error !== null && (
          <ErrorNotice error={action.error}>
            {isStale(action.error) && (
              <Button onClick={onDone}>Show the units as they are now</Button>
            )}
          </ErrorNotice>
        )}
        <div className="row">
          <Button look="main" type="submit" busy={action.busy} busyText="Saving…">
            {unit === undefined ? 'Add it' : 'Save'}
          </Button>
          {unit !== undefined && empty && <Button onClick={() => void remove()}>Remove it</Button>}
          <Button look="quiet" onClick={onClose}>
            Leave it as it is
          </Button>
        </div>
        {unit !== undefined && !empty && (
          <p className="small soft">
            A unit can be removed once it holds no project and no other unit.
          </p>
        )}
      </Form>
    </Dialog>
  )
}

import { useState } from 'react'
import { Link, useLocation, useSearch } from 'wouter'
import type { Unit } from '../../../domain/record.ts'
import type { Pace, RoomSettings } from '../../../domain/workshop/room.ts'
import { call } from '../../lib/api.ts'
import { formatDate, today } from '../../lib/dates.ts'
import { newId } from '../../lib/ids.ts'
import { useQuery } from '../../lib/query.ts'
import { issuesByField } from '../../lib/refusals.ts'
import { useCan } from '../../lib/session.ts'
import { useAction } from '../../lib/use-action.ts'
import { useDraft } from '../../lib/use-draft.ts'
import { unitOptions } from '../../pages/unit-tree.ts'
import { Button } from '../../ui/Button.tsx'
import { Checkbox } from '../../ui/Checkbox.tsx'
import { Form } from '../../ui/Form.tsx'
import { ErrorNotice } from '../../ui/Notice.tsx'
import { Page } from '../../ui/Page.tsx'
import { RadioCards } from '../../ui/RadioCards.tsx'
import { Section } from '../../ui/Section.tsx'
import { Select } from '../../ui/Select.tsx'
import { TextField } from '../../ui/TextField.tsx'
import { Loaded } from '../../ui/Waiting.tsx'
import { KitCardFigure } from './KitCardFigure.tsx'
import { type KitEntry, useKits } from './kit-entries.ts'
import { PromptsField } from './PromptsField.tsx'
import { FIRST_FORM, ROUND_CHOICES, type RoomForm, roomProblems, settingsOf } from './room-form.ts'
import { TimeBoxFields } from './TimeBoxFields.tsx'
import './prepare.css'

const NEW_UNIT = 'new'
const CRUMBS = [{ label: 'Workshops', href: '/workshops' }]

/** Everything that a workshop needs before it begins, and the button that opens its room. */
export function PreparePage() {
  const kits = useKits()
  const units = useQuery('GET /api/units')
  const mayLead = useCan('coach')
  if (!mayLead)
    return (
      <Page title="Workshops are led by coaches" crumbs={CRUMBS}>
        <p>Ask whoever runs this server for that role.</p>
      </Page>
    )
  return (
    <Loaded query={kits} what="the kits">
      {(entries) => (
        <Loaded query={units} what="the units">
          {(data) => <Prepare entries={entries} units={data.units} />}
        </Loaded>
      )}
    </Loaded>
  )
}

function Prepare({ entries, units }: { entries: readonly KitEntry[]; units: readonly Unit[] }) {
  const [, navigate] = useLocation()
  const asked = new URLSearchParams(useSearch()).get('kit')
  const form = useDraft<RoomForm>('new-room', {
    ...FIRST_FORM,
    name: `Workshop of ${formatDate(today())}`,
  })
  const action = useAction()
  const [pressed, setPressed] = useState(false)
  const [unread, setUnread] = useState<Readonly<Record<string, boolean>>>({})
  // Made once each, so that pressing again after a lost answer opens one room.
  const [ids] = useState(() => ({ unit: newId(), room: newId(), tryOut: newId() }))
  const { values, set } = form
  const entry =
    entries.find(({ key }) => key === (values.kitKey || asked)) ??
    entries.find(({ own }) => own === null)!
  const { kit } = entry

  const workshops = units.find(({ name }) => name === FIRST_FORM.unitName)
  const known = units.some(({ id }) => id === values.unitId)
  const unitId = known
    ? values.unitId
    : values.unitId === '' && workshops !== undefined
      ? workshops.id
      : NEW_UNIT
  const newUnit = unitId === NEW_UNIT
  const problems = roomProblems(values, newUnit)
  const refused = issuesByField(action.error)
  const problemOf = (field: string) => (pressed ? problems[field] : undefined) ?? refused[field]

  const open = async (tryOut: boolean) => {
    setPressed(true)
    const names = Object.keys(problems)
    if (names.length > 0 || Object.values(unread).some(Boolean)) return
    // Opened at once, while the press still allows it; it gets its address with the code.
    const tab = tryOut ? window.open('about:blank') : null
    const done = await action.run(async () => {
      if (newUnit) {
        const body = { id: ids.unit, name: values.unitName.trim(), parentId: null }
        await call('POST /api/units', { body }).catch((error: unknown) => {
          // An earlier try made the unit and its answer was lost.
          if ((error as { code?: string }).code !== 'record.exists') throw error
        })
      }
      const id = tryOut ? ids.tryOut : ids.room
      const { room } = await call('POST /api/rooms', {
        body: {
          id,
          name: values.name.trim(),
          unitId: newUnit ? ids.unit : unitId,
          kit,
          settings: settingsOf(values, kit.prompts.length, tryOut),
        },
      }).catch(async (error: unknown) => {
        if ((error as { code?: string }).code !== 'record.exists') throw error
        return call('GET /api/rooms/:id', { params: { id } })
      })
      form.clear()
      if (tab !== null) tab.location.href = `/t/${room.code}`
      navigate(`/workshops/${room.id}`)
    })
    if (!done) tab?.close()
  }

  return (
    <Page title="Prepare a workshop" crumbs={CRUMBS}>
      <Form onSubmit={() => void open(false)}>
        <div>
          <Section title="Workshop">
            <TextField
              label="Name"
              required
              value={values.name}
              onChange={(value) => set('name', value)}
              error={problemOf('name')}
            />
            <Select
              label="Unit"
              hint="The records of its tables are kept there."
              value={unitId}
              onChange={(value) => set('unitId', value)}
              options={[...unitOptions(units), { value: NEW_UNIT, label: 'A new unit…' }]}
            />
            {newUnit && (
              <TextField
                label="Name of the unit"
                required
                value={values.unitName}
                onChange={(value) => set('unitName', value)}
                error={problemOf('unitName')}
              />
            )}
          </Section>
          <Section
            title="Kit"
            aside={
              <p>
                <Link href="/workshops/kits">All kits</Link>
              </p>
            }
          >
            <Select
              label="Kit"
              hint={kit.summary}
              value={entry.key}
              onChange={(value) => set('kitKey', value)}
              options={entries.map(({ key, kit: { name }, own }) => ({
                value: key,
                label: own === null ? name : `${name} (written here)`,
              }))}
            />
            <div className="prepare-card" aria-hidden="true">
              <KitCardFigure card={kit.card} name={kit.name} />
            </div>
            <p>
              <Link href={`/workshops/kits/${entry.key}`}>{`Read ${kit.name}`}</Link>
            </p>
            <PromptsField
              prompts={kit.prompts}
              off={values.promptsOff}
              onChange={(promptsOff) => set('promptsOff', promptsOff)}
            />
          </Section>
          <Section title="Rounds">
            <Select
              className="narrow"
              label="Rounds"
              hint="Three to five are common practice."
              value={String(values.rounds)}
              onChange={(value) => set('rounds', Number(value))}
              options={ROUND_CHOICES.map((n) => ({ value: String(n), label: String(n) }))}
            />
            <RadioCards<Pace>
              legend="Pace"
              across
              value={values.pace}
              onChange={(pace) => set('pace', pace)}
              choices={[
                { value: 'together', label: 'Together', hint: 'You start each round for all.' },
                { value: 'alone', label: 'On their own', hint: 'Each table starts its rounds.' },
              ]}
            />
            <RadioCards<RoomSettings['predicts']>
              legend="Tables predict"
              across
              value={values.predicts}
              onChange={(predicts) => set('predicts', predicts)}
              choices={[
                { value: 'range', label: 'A range', hint: 'Low, expected and high.' },
                { value: 'single', label: 'One number', hint: 'Quicker; teaches less on ranges.' },
              ]}
            />
          </Section>
          <Section title="Time">
            <TimeBoxFields
              values={values}
              set={set}
              problemOf={problemOf}
              onUnread={(field, is) =>
                setUnread((old) => (old[field] === is ? old : { ...old, [field]: is }))
              }
            />
          </Section>
          <Section title="People">
            <Checkbox
              label="Roles move on by one seat every round"
              checked={values.rotateRoles}
              onChange={(value) => set('rotateRoles', value)}
            />
            <Checkbox
              label="Ask before and after how confident people are to run a test of change"
              checked={values.asksConfidence}
              onChange={(value) => set('asksConfidence', value)}
            />
          </Section>
        </div>
        {action.error !== null && <ErrorNotice error={action.error} />}
        <div className="row">
          <Button look="main" type="submit" busy={action.busy} busyText="Opening the room…">
            Open the room
          </Button>
          <Button busy={action.busy} onClick={() => void open(true)}>
            Try it out alone
          </Button>
        </div>
        <p className="small soft">
          Trying out opens a room for one person, and its table in a new tab.
        </p>
      </Form>
    </Page>
  )
}

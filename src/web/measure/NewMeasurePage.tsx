import './measure.css'
import { useState } from 'react'
import { useLocation } from 'wouter'
import type { NewMeasure } from '../../api/contract.ts'
import type { DataKind, MeasureRole, ValueFormat } from '../../domain/record.ts'
import { parseNumber } from '../../domain/value-text.ts'
import type { AppError } from '../../errors.ts'
import { chooseChart } from '../../stats/choose-chart.ts'
import { asAppError, call } from '../lib/api.ts'
import { newId } from '../lib/ids.ts'
import { useQuery } from '../lib/query.ts'
import { issuesByField } from '../lib/record-editor.ts'
import { useDraft } from '../lib/use-draft.ts'
import { Button, LinkButton } from '../ui/Button.tsx'
import { ErrorNotice, Notice } from '../ui/Notice.tsx'
import { Page } from '../ui/Page.tsx'
import { RadioCards } from '../ui/RadioCards.tsx'
import { Section } from '../ui/Section.tsx'
import { TextArea } from '../ui/TextArea.tsx'
import { TextField } from '../ui/TextField.tsx'
import { BETTER_CHOICES } from './DefinitionSections.tsx'
import { columnsOf } from './grid-columns.ts'
import { KIND_CHOICES, ROLE_CHOICES } from './kinds.ts'
import { entryHint, readEntry } from './number-entry.ts'
import { useFocusHome } from './use-focus-home.ts'

interface Fields {
  readonly name: string
  readonly role: MeasureRole | null
  readonly dataKind: DataKind | null
  readonly valueFormat: ValueFormat
  readonly unitLabel: string
  readonly per: string
  readonly better: 'up' | 'down' | 'neither' | null
  readonly operationalDefinition: string
  readonly collectionPlan: string
  readonly goal: string
}

const EMPTY: Fields = {
  name: '',
  role: null,
  dataKind: null,
  valueFormat: 'number',
  unitLabel: '',
  per: '1000',
  better: null,
  operationalDefinition: '',
  collectionPlan: '',
  goal: '',
}

/** A new measure: what it is decides its columns and its chart, and the page says why. */
export function NewMeasurePage({ projectId }: { readonly projectId: string }) {
  useFocusHome()
  const query = useQuery('GET /api/projects/:id', { id: projectId })
  const [, navigate] = useLocation()
  const form = useDraft<Fields>(`measure:new:${projectId}`, EMPTY)
  const fields = form.values
  const [id] = useState(newId)
  const [asked, setAsked] = useState(false)
  const [saving, setSaving] = useState(false)
  const [error, setError] = useState<AppError | null>(null)
  const refused = issuesByField(error)

  const { dataKind } = fields
  const per = dataKind === 'rates' ? parseNumber(fields.per.replaceAll(',', '')) : 1
  const shape = {
    dataKind: dataKind ?? 'single',
    valueFormat: dataKind === 'single' ? fields.valueFormat : ('number' as const),
    unitLabel: fields.unitLabel,
    per: per ?? 1,
  }
  const goal = readEntry(shape, fields.goal)
  const wrong: Partial<Record<keyof Fields, string>> = {
    ...(fields.name.trim() === '' ? { name: 'Give the measure a name.' } : {}),
    ...(fields.role === null ? { role: 'Choose what the measure is for.' } : {}),
    ...(dataKind === null ? { dataKind: 'Choose what one observation is.' } : {}),
    ...(fields.better === null ? { better: 'Say which way is better.' } : {}),
    ...(per === null || !(per > 0) ? { per: 'Write a number above 0, such as 1,000.' } : {}),
    ...(goal.kind === 'error' ? { goal: goal.message } : {}),
    ...(goal.kind === 'question' ? { goal: goal.message } : {}),
  }
  const shown = (field: keyof Fields) => (asked ? wrong[field] : undefined) ?? refused[field]

  const save = async () => {
    setAsked(true)
    const first = Object.keys(wrong)[0]
    if (first !== undefined) {
      document
        .querySelector<HTMLElement>(`[data-field="${first}"] :is(input, textarea, select)`)
        ?.focus()
      return
    }
    setSaving(true)
    const body: NewMeasure = {
      id,
      projectId,
      name: fields.name.trim(),
      role: fields.role!,
      dataKind: dataKind!,
      valueFormat: shape.valueFormat,
      unitLabel: fields.unitLabel.trim(),
      per: per!,
      better: fields.better === 'neither' ? null : fields.better,
      operationalDefinition: fields.operationalDefinition.trim(),
      collectionPlan: fields.collectionPlan.trim(),
      goal: goal.kind === 'value' ? goal.value : null,
      chartKind: 'auto',
      ruleSet: 'auto',
    }
    try {
      const measure = await call('POST /api/measures', { body })
      form.clear()
      navigate(`/measures/${measure.id}`)
    } catch (thrown) {
      setError(asAppError(thrown))
      setSaving(false)
    }
  }

  return (
    <Page
      title="New measure"
      crumbs={
        query.data === undefined
          ? []
          : [
              { label: query.data.unit.name, href: '/projects' },
              { label: query.data.project.name, href: `/projects/${projectId}` },
            ]
      }
      lead={
        <p>
          What is counted, how, and which way is better. All of it can be edited later but the kind
          of data.
        </p>
      }
    >
      <form
        noValidate
        onSubmit={(event) => {
          event.preventDefault()
          void save()
        }}
      >
        <Section title="What it is">
          <div data-field="name" className="fill-width">
            <TextField
              label="Name"
              hint="Short, and plain about what is counted: Discharge summaries sent within 24 hours"
              required
              value={fields.name}
              onChange={(value) => form.set('name', value)}
              error={shown('name')}
            />
          </div>
          <div data-field="role" className="fill-width">
            <RadioCards<MeasureRole>
              legend="What is it for?"
              across
              value={fields.role}
              choices={ROLE_CHOICES.map(({ role, label, hint }) => ({ value: role, label, hint }))}
              onChange={(value) => form.set('role', value)}
              error={shown('role')}
            />
          </div>
          <div data-field="better" className="fill-width">
            <RadioCards<'up' | 'down' | 'neither'>
              legend="Which way is better?"
              across
              value={fields.better}
              choices={BETTER_CHOICES}
              onChange={(value) => form.set('better', value)}
              error={shown('better')}
            />
          </div>
        </Section>
        <Section
          title="Kind of data"
          aside={<p>What one observation is. It decides the columns you fill in and the chart.</p>}
        >
          <div data-field="dataKind" className="fill-width">
            <RadioCards<DataKind>
              legend="One observation is"
              value={dataKind}
              choices={KIND_CHOICES.map(({ kind, label, example }) => ({
                value: kind,
                label,
                hint: example,
              }))}
              onChange={(value) => form.set('dataKind', value)}
              error={shown('dataKind')}
            />
          </div>
          {dataKind !== null && (
            <>
              {dataKind === 'single' && (
                <RadioCards<ValueFormat>
                  legend="How are the values written?"
                  across
                  value={fields.valueFormat}
                  choices={[
                    { value: 'number', label: 'As numbers', hint: '12.5' },
                    { value: 'duration', label: 'As minutes and seconds', hint: '1:02' },
                  ]}
                  onChange={(value) => form.set('valueFormat', value)}
                />
              )}
              {!(dataKind === 'single' && fields.valueFormat === 'duration') && (
                <TextField
                  label={UNIT_LABEL[dataKind]}
                  hint={UNIT_HINT[dataKind]}
                  optional
                  value={fields.unitLabel}
                  onChange={(value) => form.set('unitLabel', value)}
                />
              )}
              {dataKind === 'rates' && (
                <div data-field="per">
                  <TextField
                    label="Shown per"
                    hint="So many units of area, such as 1,000 bed-days"
                    short
                    inputMode="numeric"
                    value={fields.per}
                    onChange={(value) => form.set('per', value)}
                    error={shown('per')}
                  />
                </div>
              )}
              <Notice>
                <p>
                  Columns:{' '}
                  {columnsOf(shape)
                    .map((c) => c.label.toLowerCase())
                    .join(', ')}
                  . {chooseChart(dataKind).reason} With few points it is shown as a run chart about
                  the median.
                </p>
              </Notice>
              <div data-field="goal" data-focus-home="input">
                <TextField
                  label="Goal"
                  hint={entryHint(shape)}
                  optional
                  short
                  value={fields.goal}
                  onChange={(value) => form.set('goal', value)}
                  error={shown('goal')}
                />
                {goal.kind === 'question' && (
                  <div className="row">
                    {!asked && <span>{goal.message}</span>}
                    {goal.choices.map(({ text, label }) => (
                      <Button key={text} onClick={() => form.set('goal', text)}>
                        {label}
                      </Button>
                    ))}
                  </div>
                )}
              </div>
            </>
          )}
        </Section>
        <Section
          title="How it is counted"
          aside={<p>So that two people who count the same thing get the same number.</p>}
        >
          <TextArea
            label="Operational definition"
            hint="How it is counted, by whom, when, and what is left out."
            optional
            rows={3}
            value={fields.operationalDefinition}
            onChange={(value) => form.set('operationalDefinition', value)}
          />
          <TextArea
            label="Collection plan"
            hint="Who collects it, how often, from where, how many."
            optional
            value={fields.collectionPlan}
            onChange={(value) => form.set('collectionPlan', value)}
          />
          {error !== null && <ErrorNotice error={error} />}
          {asked && Object.keys(wrong).length > 0 && (
            <p className="field-error" role="alert">
              {Object.values(wrong).join(' ')}
            </p>
          )}
          <div className="row">
            <Button type="submit" look="main" busy={saving} busyText="Making it…">
              Make the measure
            </Button>
            <LinkButton href={`/projects/${projectId}`} look="quiet">
              Back to the project
            </LinkButton>
          </div>
          {form.restored && (
            <p className="small soft">What you typed earlier was kept on this device.</p>
          )}
        </Section>
      </form>
    </Page>
  )
}

const UNIT_LABEL: Readonly<Record<DataKind, string>> = {
  single: 'Unit',
  subgrouped: 'Unit',
  classified: 'What the items are',
  counts: 'What is counted',
  rates: 'What the area is',
  'cases-between': 'What the cases are',
  'time-between': 'Unit of time',
}

const UNIT_HINT: Readonly<Record<DataKind, string>> = {
  single: 'minutes, points, °C',
  subgrouped: 'minutes, points, °C',
  classified: 'discharges, visits, charts',
  counts: 'falls, calls',
  rates: 'bed-days, line-days, visits',
  'cases-between': 'operations, births',
  'time-between': 'days, hours',
}

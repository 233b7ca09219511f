import './measure.css'
import { useState } from 'react'
import { useLocation } from 'wouter'
import type { NewMeasure } from '../../api/contract.ts'
import type { MeasureRole } from '../../domain/record.ts'
import { parseNumber } from '../../domain/value-text.ts'
import type { AppError } from '../../errors.ts'
import { asAppError, call } from '../lib/api.ts'
import { newId } from '../lib/ids.ts'
import { useQuery } from '../lib/query.ts'
import { issuesByField } from '../lib/refusals.ts'
import { useCan } from '../lib/session.ts'
import { useDraft } from '../lib/use-draft.ts'
import { Button, LinkButton } from '../ui/Button.tsx'
import { ErrorNotice } from '../ui/Notice.tsx'
import { Page } from '../ui/Page.tsx'
import { RadioCards } from '../ui/RadioCards.tsx'
import { Section } from '../ui/Section.tsx'
import { TextArea } from '../ui/TextArea.tsx'
import { TextField } from '../ui/TextField.tsx'
import { BETTER_CHOICES } from './DefinitionSections.tsx'
import { KindSection, type NewMeasureFields } from './KindSection.tsx'
import { ROLE_CHOICES } from './kinds.ts'
import { readEntry } from './number-entry.ts'
import { useFocusHome } from './use-focus-home.ts'

const EMPTY: NewMeasureFields = {
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

export interface NewMeasurePageProps {
  readonly projectId: string
}

/** The form, for those who may save it: nobody types what would be refused. */
export function NewMeasurePage({ projectId }: NewMeasurePageProps) {
  if (useCan('member')) return <NewMeasureForm projectId={projectId} />
  return (
    <Page title="New measure" crumbs={[{ label: 'The project', href: `/projects/${projectId}` }]}>
      <p>
        Viewers can look at measures but not add them. Ask an owner of this Pawl for another role.
      </p>
    </Page>
  )
}

/** A new measure: what it is decides its columns and its chart, and the page says why. */
function NewMeasureForm({ projectId }: NewMeasurePageProps) {
  useFocusHome()
  const query = useQuery('GET /api/projects/:id', { id: projectId })
  const [, navigate] = useLocation()
  const form = useDraft<NewMeasureFields>(`measure:new:${projectId}`, EMPTY)
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
  const wrong: Partial<Record<keyof NewMeasureFields, string>> = {
    ...(fields.name.trim() === '' ? { name: 'Give the measure a name.' } : {}),
    ...(fields.role === null ? { role: 'Choose what the measure is for.' } : {}),
    ...(dataKind === null ? { dataKind: 'Choose what one observation is.' } : {}),
    ...(fields.better === null ? { better: 'Say which way is better.' } : {}),
    ...(per === null || !(per > 0) ? { per: 'Write a number above 0, such as 1,000.' } : {}),
    ...(goal.kind === 'error' ? { goal: goal.message } : {}),
    ...(goal.kind === 'question' ? { goal: goal.message } : {}),
  }
  const shown = (field: keyof NewMeasureFields) =>
    (asked ? wrong[field] : undefined) ?? refused[field]

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
        <KindSection fields={fields} shape={shape} goal={goal} set={form.set} shown={shown} />
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

import { Link } from 'wouter'
import type { MeasureReply } from '../../api/contract.ts'
import type { Measure, MeasureRole } from '../../domain/record.ts'
import { chartKindOf, ruleSetOf } from '../../domain/series.ts'
import { chooseChart } from '../../stats/choose-chart.ts'
import { RULE_SETS } from '../../stats/rules.ts'
import type { ChartKind, RuleSetId } from '../../stats/types.ts'
import { call } from '../lib/api.ts'
import { patchQuery } from '../lib/query.ts'
import { useRecordEditor } from '../lib/use-record-editor.ts'
import { ConflictDialog } from '../ui/ConflictDialog.tsx'
import { RadioCards } from '../ui/RadioCards.tsx'
import { SaveLine } from '../ui/SaveLine.tsx'
import { Section } from '../ui/Section.tsx'
import { Select } from '../ui/Select.tsx'
import { TextArea } from '../ui/TextArea.tsx'
import { TextField } from '../ui/TextField.tsx'
import { CHART_NAMES, CHARTS_FOR, KIND_CHOICES, ROLE_CHOICES, ruleSetsFor } from './kinds.ts'
import { entryHint } from './number-entry.ts'
import { ValueField } from './ValueField.tsx'

const LABELS: Partial<Record<keyof Measure, string>> = {
  name: 'Name',
  role: 'Role',
  unitLabel: 'Unit',
  per: 'Shown per',
  better: 'Better direction',
  operationalDefinition: 'Operational definition',
  collectionPlan: 'Collection plan',
  goal: 'Goal',
  chartKind: 'Chart',
  ruleSet: 'Rule set',
}

type Better = 'up' | 'down' | 'neither'
export const BETTER_CHOICES = [
  { value: 'up', label: 'Up' },
  { value: 'down', label: 'Down' },
  { value: 'neither', label: 'Neither by itself' },
] as const

const signalRules = (id: RuleSetId) =>
  id === 'none' ? 'No rules: signals are not looked for' : capital(RULE_SETS[id].name)
const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)

/** Chart, rules, goal, definition and collection plan of a measure, edited in place. */
export function DefinitionSections({ data }: { readonly data: MeasureReply }) {
  const { id } = data.measure
  const editing = useRecordEditor<Measure>(
    `measure:${id}`,
    data.measure,
    async (changes, version) => {
      const measure = await call('PATCH /api/measures/:id', {
        params: { id },
        body: { ...changes, version },
      })
      patchQuery('GET /api/measures/:id', { id }, (old) => ({ ...old, measure }))
      return measure
    },
  )
  const { values, set, flush } = editing
  const original = data.family.find((m) => m.id === values.sameAsId)
  const kind = chartKindOf(values)
  const onBlur = () => void flush()

  return (
    <>
      <Section
        title="Chart and rules"
        id="chart"
        aside={<p>Chosen once, before looking for signals, and stated beside the chart.</p>}
      >
        <Select<ChartKind | 'auto'>
          label="Chart"
          hint={chooseChart(values.dataKind).reason}
          value={values.chartKind}
          options={[
            {
              value: 'auto',
              label: `The usual one: ${CHART_NAMES[chooseChart(values.dataKind).kind]}`,
            },
            ...CHARTS_FOR[values.dataKind].map((value) => ({ value, label: CHART_NAMES[value] })),
          ]}
          onChange={(value) => {
            set('chartKind', value)
            // A rule set that the new chart cannot carry gives way to the usual one.
            const next = chartKindOf({ ...values, chartKind: value })
            if (values.ruleSet !== 'auto' && !ruleSetsFor(next).includes(values.ruleSet)) {
              set('ruleSet', 'auto')
            }
          }}
          onBlur={onBlur}
        />
        <Select<RuleSetId | 'auto'>
          label="Rule set"
          hint={rulesHint(ruleSetOf(values))}
          value={values.ruleSet}
          options={[
            {
              value: 'auto',
              label: `The usual one: ${signalRules(ruleSetOf({ ...values, ruleSet: 'auto' }))}`,
            },
            ...ruleSetsFor(kind).map((value) => ({ value, label: signalRules(value) })),
          ]}
          onChange={(value) => set('ruleSet', value)}
          onBlur={onBlur}
        />
        <ValueField
          measure={values}
          label="Goal"
          hint={entryHint(values)}
          optional
          value={values.goal}
          onChange={(value) => set('goal', value)}
          onBlur={onBlur}
          draftKey={`measure:${id}:goal-text`}
        />
        <SaveLine state={editing} />
      </Section>
      <Section
        title="Definition"
        id="definition"
        aside={<p>So that two people who count the same thing get the same number.</p>}
      >
        <TextField
          label="Name"
          value={values.name}
          onChange={(value) => set('name', value)}
          onBlur={onBlur}
          error={values.name.trim() === '' ? 'A measure needs a name.' : null}
        />
        {original === undefined ? (
          <TextArea
            label="Operational definition"
            hint="How it is counted, by whom, when, and what is left out."
            value={values.operationalDefinition}
            rows={3}
            onChange={(value) => set('operationalDefinition', value)}
            onBlur={onBlur}
          />
        ) : (
          <>
            <p className="pre">
              {values.operationalDefinition || 'No operational definition is recorded.'}
            </p>
            <p className="soft">
              Definition, role and better direction are those of{' '}
              <Link href={`/measures/${original.id}`}>{original.name}</Link>, so that its units can
              be compared. Change them there.
            </p>
          </>
        )}
        <TextArea
          label="Collection plan"
          hint="Who collects it, how often, from where, how many."
          value={values.collectionPlan}
          rows={2}
          onChange={(value) => set('collectionPlan', value)}
          onBlur={onBlur}
        />
        {original === undefined && (
          <>
            <RadioCards<MeasureRole>
              legend="Role"
              across
              value={values.role}
              choices={ROLE_CHOICES.map(({ role, label, hint }) => ({ value: role, label, hint }))}
              onChange={(value) => set('role', value)}
            />
            <RadioCards<Better>
              legend="Which way is better?"
              across
              value={values.better ?? 'neither'}
              choices={BETTER_CHOICES}
              onChange={(value) => set('better', value === 'neither' ? null : value)}
            />
          </>
        )}
        <p className="soft">
          Kind of data: {KIND_CHOICES.find((k) => k.kind === values.dataKind)?.label.toLowerCase()}.
          It decides the columns of the data, so it stays as it is.
        </p>
        <SaveLine state={editing} />
      </Section>
      <ConflictDialog
        editing={editing}
        labels={LABELS}
        show={(field, value) =>
          field === 'chartKind' && value !== 'auto'
            ? CHART_NAMES[value as ChartKind]
            : value === null || value === ''
              ? '(empty)'
              : String(value)
        }
      />
    </>
  )
}

function rulesHint(id: RuleSetId): string {
  return id === 'none'
    ? 'The chart is drawn without rules.'
    : `Published in: ${RULE_SETS[id].source}.`
}

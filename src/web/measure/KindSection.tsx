import type { DataKind, Measure, MeasureRole, ValueFormat } from '../../domain/record.ts'
import { chooseChart } from '../../stats/choose-chart.ts'
import { Button } from '../ui/Button.tsx'
import { Notice } from '../ui/Notice.tsx'
import { RadioCards } from '../ui/RadioCards.tsx'
import { Section } from '../ui/Section.tsx'
import { TextField } from '../ui/TextField.tsx'
import { columnsOf } from './grid-columns.ts'
import { KIND_CHOICES } from './kinds.ts'
import { type EntryReading, entryHint } from './number-entry.ts'

/** What is typed of a measure that does not exist yet. */
export interface NewMeasureFields {
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

export interface KindSectionProps {
  readonly fields: NewMeasureFields
  /** The measure as it would be, as far as its values go. */
  readonly shape: Pick<Measure, 'dataKind' | 'valueFormat' | 'unitLabel' | 'per'>
  readonly goal: EntryReading
  readonly set: <K extends keyof NewMeasureFields>(field: K, value: NewMeasureFields[K]) => void
  readonly shown: (field: keyof NewMeasureFields) => string | undefined
}

/** What one observation is: it decides the columns and the chart, and the page says why. */
export function KindSection({ fields, shape, goal, set, shown }: KindSectionProps) {
  const { dataKind } = fields
  return (
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
          onChange={(value) => set('dataKind', value)}
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
              onChange={(value) => set('valueFormat', value)}
            />
          )}
          {!(dataKind === 'single' && fields.valueFormat === 'duration') && (
            <TextField
              label={UNIT_LABEL[dataKind]}
              hint={UNIT_HINT[dataKind]}
              optional
              value={fields.unitLabel}
              onChange={(value) => set('unitLabel', value)}
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
                onChange={(value) => set('per', value)}
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
              . {chooseChart(dataKind).reason} With few points it is shown as a run chart about the
              median.
            </p>
          </Notice>
          <div data-field="goal" data-focus-home="input">
            <TextField
              label="Goal"
              hint={entryHint(shape)}
              optional
              short
              value={fields.goal}
              onChange={(value) => set('goal', value)}
              error={shown('goal')}
            />
            {goal.kind === 'question' && (
              <div className="row">
                {shown('goal') === undefined && <span>{goal.message}</span>}
                {goal.choices.map(({ text, label }) => (
                  <Button key={text} onClick={() => set('goal', text)}>
                    {label}
                  </Button>
                ))}
              </div>
            )}
          </div>
        </>
      )}
    </Section>
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

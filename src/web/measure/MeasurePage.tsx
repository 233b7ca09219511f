import '../chart/chart.css'
import './measure.css'
import { useMemo } from 'react'
import type { MeasureReply } from '../../api/contract.ts'
import { useQuery } from '../lib/query.ts'
import { useCan } from '../lib/session.ts'
import { Page } from '../ui/Page.tsx'
import { Section } from '../ui/Section.tsx'
import { Loaded } from '../ui/Waiting.tsx'
import { AnnotationsSection } from './AnnotationsSection.tsx'
import { ChartBlock } from './ChartBlock.tsx'
import { DataSection } from './DataSection.tsx'
import { DefinitionSections } from './DefinitionSections.tsx'
import { kindSentence } from './kinds.ts'
import { measureChart } from './measure-chart.ts'
import { PhasesSection } from './PhasesSection.tsx'
import { UnitsSection } from './UnitsSection.tsx'
import { useFocusHome } from './use-focus-home.ts'

/** A measure: its chart, its data, its phases, and how it is counted. */
export function MeasurePage({ id }: { readonly id: string }) {
  const query = useQuery('GET /api/measures/:id', { id })
  return (
    <Loaded query={query} what="the measure">
      {(data) => <MeasureView data={data} reload={query.reload} />}
    </Loaded>
  )
}

function MeasureView({
  data,
  reload,
}: {
  readonly data: MeasureReply
  readonly reload: () => void
}) {
  useFocusHome()
  const readOnly = !useCan('member')
  const { measure, unit, project, cycles } = data
  const { observations, phases, annotations } = data
  const chart = useMemo(
    () => measureChart({ measure, observations, phases, annotations }, cycles),
    [measure, observations, phases, annotations, cycles],
  )
  const unitName =
    measure.unitId === null || measure.unitId === unit.id
      ? null
      : (data.units.find((u) => u.id === measure.unitId)?.name ?? null)
  return (
    <Page
      title={measure.name}
      crumbs={[
        { label: unit.name, href: '/projects' },
        { label: project.name, href: `/projects/${project.id}` },
      ]}
      lead={
        <p>
          {kindSentence(measure)}
          {unitName !== null && ` Taken on ${unitName}.`}
        </p>
      }
    >
      <div className="measure-chart">
        <ChartBlock chart={chart} />
      </div>
      <Section title="Data" id="data" wide>
        <DataSection key={measure.id} data={data} reload={reload} readOnly={readOnly} />
      </Section>
      <PhasesSection data={data} analysis={chart.analysis} readOnly={readOnly} />
      <UnitsSection data={data} readOnly={readOnly} />
      {readOnly ? (
        <Section title="Definition">
          <p className="pre">{measure.operationalDefinition || 'No definition is recorded.'}</p>
          <p className="pre">{measure.collectionPlan}</p>
        </Section>
      ) : (
        <DefinitionSections data={data} />
      )}
      <AnnotationsSection data={data} readOnly={readOnly} />
    </Page>
  )
}

import '../chart/chart.css'
import './effect.css'
import { Fragment, useMemo, useState } from 'react'
import { Link } from 'wouter'
import type { MeasureData, ProjectReply } from '../../api/contract.ts'
import type { Id, Measure, Project, Unit } from '../../domain/record.ts'
import { familiesOf, unitIdOf } from '../../domain/repeats.ts'
import { useQuery } from '../lib/query.ts'
import { Page } from '../ui/Page.tsx'
import { Loaded } from '../ui/Waiting.tsx'
import { ByUnit } from './ByUnit.tsx'
import { MeasureEffect } from './MeasureEffect.tsx'

const ORDER = { balancing: 2, outcome: 0, process: 1 } as const

/** What the measures of a project did once its tests began. */
export function EffectPage({ projectId }: { readonly projectId: string }) {
  const query = useQuery('GET /api/projects/:id', { id: projectId })
  return (
    <Loaded query={query} what="the project">
      {(data) => <Effects data={data} />}
    </Loaded>
  )
}

function Effects({ data }: { readonly data: ProjectReply }) {
  const { unit, project, units, measures, cycles } = data
  const [chosen, setChosen] = useState<ReadonlyMap<Id, string>>(new Map())
  const groups = useMemo(() => groupsOf(measures), [measures])
  return (
    <Page
      title="Effect over time"
      crumbs={[
        { label: unit.name, href: '/projects' },
        { label: project.name, href: `/projects/${project.id}` },
      ]}
      lead={
        <>
          <p>
            A line through the points before a date, carried on, and what the points did instead. It
            can show when a measure moved. It cannot show why.
          </p>
          <p>
            To see what several changes do, and whether one depends on another, plan{' '}
            <Link href={`/projects/${project.id}/experiments`}>several changes at once</Link>.
          </p>
        </>
      }
    >
      {groups.length === 0 && <p className="soft">This project has no measure yet.</p>}
      {groups.map(({ members, family }) => (
        <Fragment key={members[0]!.measure.id}>
          {family.length > 0 && (
            <ByUnit
              family={members}
              project={project}
              units={units}
              cycles={cycles}
              chosen={chosen}
            />
          )}
          {members.map((m) => (
            <MeasureEffect
              key={m.measure.id}
              data={m}
              cycles={cycles}
              family={family}
              unitName={unitNameOf(m.measure, project, units, family.length > 0)}
              chosen={chosen.get(m.measure.id)}
              onChoose={(key) => setChosen(new Map(chosen).set(m.measure.id, key))}
            />
          ))}
        </Fragment>
      ))}
    </Page>
  )
}

interface Group {
  /** A measure, followed by those that repeat it on other units. */
  readonly members: readonly MeasureData[]
  /** Their ids; empty where it is one only. */
  readonly family: readonly Id[]
}

function groupsOf(measures: readonly MeasureData[]): Group[] {
  const families = familiesOf(measures)
  return measures
    .filter(({ measure }) => measure.sameAsId === null)
    .sort((a, b) => ORDER[a.measure.role] - ORDER[b.measure.role])
    .map((original) => {
      const repeats = families.find((f) => f.original === original)?.repeats ?? []
      const members = [original, ...repeats]
      return { members, family: repeats.length === 0 ? [] : members.map((m) => m.measure.id) }
    })
}

/** The unit, where it is not plain from the project alone. */
function unitNameOf(
  measure: Measure,
  project: Project,
  units: readonly Unit[],
  always: boolean,
): string | null {
  const id = unitIdOf(measure, project)
  if (!always && id === project.unitId) return null
  return units.find((unit) => unit.id === id)?.name ?? null
}

import '../chart/chart.css'
import './effect.css'
import { Link } from 'wouter'
import type { ProjectReply } from '../../api/contract.ts'
import { useQuery } from '../lib/query.ts'
import { Page } from '../ui/Page.tsx'
import { Loaded } from '../ui/Waiting.tsx'
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
  const { unit, project, measures, cycles } = data
  const sorted = [...measures].sort((a, b) => ORDER[a.measure.role] - ORDER[b.measure.role])
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
      {sorted.length === 0 && <p className="soft">This project has no measure yet.</p>}
      {sorted.map((m) => (
        <MeasureEffect key={m.measure.id} data={m} cycles={cycles} />
      ))}
    </Page>
  )
}

import { Link } from 'wouter'
import type { ProjectReply } from '../../api/contract.ts'
import { FidelitySection } from '../fidelity/FidelitySection.tsx'
import { call } from '../lib/api.ts'
import { patchQuery, useQuery } from '../lib/query.ts'
import { useCan } from '../lib/session.ts'
import { useRecordEditor } from '../lib/use-record-editor.ts'
import { LinkButton } from '../ui/Button.tsx'
import { ConflictDialog } from '../ui/ConflictDialog.tsx'
import { InPlace } from '../ui/InPlace.tsx'
import { Page } from '../ui/Page.tsx'
import { SaveLine } from '../ui/SaveLine.tsx'
import { Section } from '../ui/Section.tsx'
import { Select } from '../ui/Select.tsx'
import { TextArea } from '../ui/TextArea.tsx'
import { TextField } from '../ui/TextField.tsx'
import { Loaded } from '../ui/Waiting.tsx'
import { ProjectMeasures } from './ProjectMeasures.tsx'
import { ProjectTests } from './ProjectTests.tsx'
import './project.css'

const LABELS = { name: 'Name of the project', aim: 'Aim', leadId: 'Lead' } as const
const NOBODY = 'nobody'

/** A project as a story from top to bottom: its aim, its measures, its tests of change. */
export function ProjectPage({ id }: { id: string }) {
  const query = useQuery('GET /api/projects/:id', { id })
  return (
    <Loaded query={query} what="the project">
      {(data) => <Story data={data} />}
    </Loaded>
  )
}

function Story({ data }: { data: ProjectReply }) {
  const mayWrite = useCan('member')
  const { unit, people, measures, cycles } = data
  const { id } = data.project
  const editing = useRecordEditor(`project:${id}`, data.project, async (changes, version) => {
    const project = await call('PATCH /api/projects/:id', {
      params: { id },
      body: { ...changes, version },
    })
    patchQuery('GET /api/projects/:id', { id }, (old) => ({ ...old, project }))
    return project
  })
  const { values, set, flush } = editing
  const lead = people.find((person) => person.id === values.leadId)
  const nameOf = (personId: unknown) =>
    people.find((person) => person.id === personId)?.name ?? 'nobody'
  const saveLine = <SaveLine state={editing} />

  return (
    <Page
      title={values.name}
      crumbs={[
        { label: 'Projects', href: '/projects' },
        { label: unit.name, href: '/projects' },
      ]}
      lead={
        values.origin === 'example' ? (
          <p>Invented, like everything at Saltmarsh Vale Hospital.</p>
        ) : undefined
      }
    >
      <ConflictDialog
        editing={editing}
        labels={LABELS}
        show={(field, value) =>
          field === 'leadId' ? nameOf(value) : String(value === '' ? '(empty)' : value)
        }
      />
      <Section
        title="Aim"
        aside={<p>What, how much, by when, for whom, and from which baseline.</p>}
      >
        <InPlace
          what="aim, name and lead"
          editable={mayWrite}
          startOpen={editing.restored}
          onDone={() => flush('again')}
          foot={saveLine}
          shown={
            <>
              {values.aim.trim() === '' ? (
                <p className="soft">The aim is not written yet.</p>
              ) : (
                <p className="aim">{values.aim}</p>
              )}
              <p className="small soft">
                {lead === undefined ? 'Nobody leads it yet.' : `${lead.name} leads it.`}
              </p>
            </>
          }
        >
          <TextField
            label={LABELS.name}
            value={values.name}
            onChange={(value) => set('name', value)}
            onBlur={() => void flush()}
            error={values.name.trim() === '' ? 'Give the project a name.' : null}
          />
          <TextArea
            label={LABELS.aim}
            rows={3}
            value={values.aim}
            onChange={(value) => set('aim', value)}
            onBlur={() => void flush()}
          />
          <Select
            label={LABELS.leadId}
            value={values.leadId ?? NOBODY}
            onChange={(value) => set('leadId', value === NOBODY ? null : value)}
            options={[
              { value: NOBODY, label: 'Nobody yet' },
              ...people
                .filter((person) => person.closedAt === null || person.id === values.leadId)
                .map((person) => ({ value: person.id, label: person.name })),
            ]}
          />
        </InPlace>
      </Section>
      <Section
        title="Measures"
        aside={
          <>
            <p>How the team will know that a change is an improvement.</p>
            {mayWrite && (
              <LinkButton href={`/projects/${id}/new-measure`}>Add a measure</LinkButton>
            )}
            <p>
              <Link href={`/projects/${id}/effect`}>Effect over time</Link>
            </p>
            <p>
              <Link href={`/projects/${id}/experiments`}>Several changes at once</Link>
            </p>
          </>
        }
      >
        <ProjectMeasures
          project={data.project}
          units={data.units}
          measures={measures}
          cycles={cycles}
        />
      </Section>
      <ProjectTests projectId={id} cycles={cycles} measures={measures} notes={data.rampNotes} />
      <FidelitySection scope="project" tests={cycles} measures={measures} />
    </Page>
  )
}

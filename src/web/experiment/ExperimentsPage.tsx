import { useState } from 'react'
import { Link, useLocation } from 'wouter'
import type { ExperimentBrief, ExperimentsReply } from '../../api/experiment-contract.ts'
import { experimentFinding } from '../../domain/experiment-finding.ts'
import { experimentText } from '../../domain/experiment-text.ts'
import type { Id } from '../../domain/record.ts'
import { call } from '../lib/api.ts'
import { formatDate } from '../lib/dates.ts'
import { newId } from '../lib/ids.ts'
import { useQuery } from '../lib/query.ts'
import { issuesByField } from '../lib/refusals.ts'
import { useCan } from '../lib/session.ts'
import { useAction } from '../lib/use-action.ts'
import { useDraft } from '../lib/use-draft.ts'
import { Button } from '../ui/Button.tsx'
import { Form } from '../ui/Form.tsx'
import { ErrorNotice } from '../ui/Notice.tsx'
import { Page } from '../ui/Page.tsx'
import { Section } from '../ui/Section.tsx'
import { TextField } from '../ui/TextField.tsx'
import { Loaded } from '../ui/Waiting.tsx'

/** The planned experiments of a project, and a new one. */
export function ExperimentsPage({ projectId }: { readonly projectId: string }) {
  const query = useQuery('GET /api/projects/:id/experiments', { id: projectId })
  return (
    <Loaded query={query} what="the plans">
      {(data) => <Experiments data={data} />}
    </Loaded>
  )
}

function Experiments({ data }: { readonly data: ExperimentsReply }) {
  const mayWrite = useCan('member')
  const { unit, project, experiments } = data
  return (
    <Page
      title="Several changes at once"
      crumbs={[
        { label: unit.name, href: '/projects' },
        { label: project.name, href: `/projects/${project.id}` },
      ]}
      lead={
        <p>
          Two to seven changes varied together by a plan, in random order. It takes fewer runs than
          one change after the other, and shows where one change depends on another.
        </p>
      }
    >
      <Section
        title="Plans"
        aside={<p>For tasks that can be run many times: a tray, a form, a handover.</p>}
      >
        {experiments.length === 0 && <p className="soft">No plan yet.</p>}
        {experiments.length > 0 && (
          <ul className="bare stack">
            {experiments.map((one) => (
              <li key={one.experiment.id}>
                <h3>
                  <Link href={`/experiments/${one.experiment.id}`}>{one.experiment.title}</Link>
                </h3>
                <p>{standOf(one)}</p>
              </li>
            ))}
          </ul>
        )}
      </Section>
      {mayWrite && (
        <Section title="New plan">
          <NewExperiment projectId={project.id} />
        </Section>
      )}
    </Page>
  )
}

/** Where a plan stands, in one line. */
function standOf({ experiment, factors, runs }: ExperimentBrief): string {
  const changes = `${factors.length} ${factors.length === 1 ? 'change' : 'changes'}`
  if (experiment.lockedAt === null)
    return `Being planned, ${changes} so far; the predictions are not locked yet.`
  const { headline } = experimentText(experimentFinding(experiment, factors, runs))
  return `${changes}, locked on ${formatDate(experiment.lockedAt)}. ${headline}`
}

/** Opens a plan: its title, then its page. */
function NewExperiment({ projectId }: { readonly projectId: Id }) {
  const [, navigate] = useLocation()
  const form = useDraft(`new-experiment:${projectId}`, { title: '' })
  const [asked, setAsked] = useState(false)
  const [id] = useState(newId)
  const action = useAction()
  const missing = form.values.title.trim() === '' ? 'Say in a few words what it is about.' : null

  const create = async () => {
    setAsked(true)
    if (missing !== null) return
    const fine = await action.run(() =>
      call('POST /api/experiments', { body: { id, projectId, title: form.values.title.trim() } }),
    )
    if (!fine) return
    form.clear()
    navigate(`/experiments/${id}`)
  }

  return (
    <Form onSubmit={() => void create()}>
      <TextField
        label="What it is about"
        hint="A few words, such as “Four changes to laying the tray”"
        required
        value={form.values.title}
        onChange={(value) => form.set('title', value)}
        error={(asked ? missing : null) ?? issuesByField(action.error)['title']}
      />
      {action.error !== null && <ErrorNotice error={action.error} />}
      <div className="row">
        <Button look="main" type="submit" busy={action.busy} busyText="Opening the plan…">
          Open the plan
        </Button>
      </div>
    </Form>
  )
}

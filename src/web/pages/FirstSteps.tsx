import { useLocation } from 'wouter'
import type { Unit } from '../../domain/record.ts'
import { call } from '../lib/api.ts'
import { receiveSession, useCan } from '../lib/session.ts'
import { useAction } from '../lib/use-action.ts'
import { Button } from '../ui/Button.tsx'
import { ErrorNotice } from '../ui/Notice.tsx'
import { NewProjectForm } from './NewProjectForm.tsx'

export interface FirstStepsProps {
  readonly units: readonly Unit[]
  /** The invented hospital is there already. */
  readonly example: boolean
}

/** For a copy of Pawl without work of its own: start a project, or look round first. */
export function FirstSteps({ units, example }: FirstStepsProps) {
  const mayAddExample = useCan('owner')
  const mayWrite = useCan('member')
  const [, navigate] = useLocation()
  const action = useAction()

  const lookRound = () =>
    action.run(async () => {
      const { projectId } = await call('POST /api/example')
      receiveSession(await call('GET /api/session'))
      navigate(`/projects/${projectId}`)
    })

  if (!mayWrite) {
    return <p>There is no project here yet. Your account may look; a member or coach starts one.</p>
  }
  return (
    <div className="first-steps">
      <section className="stack fill" aria-labelledby="first-project">
        <h2 id="first-project">Start your first project</h2>
        <p>
          A project holds one aim, its measures, and the tests of change that serve it. You can
          change every word later.
        </p>
        <NewProjectForm units={units.filter((unit) => unit.origin === 'own')} />
      </section>
      {!example && mayAddExample && (
        <section className="stack" aria-labelledby="look-round">
          <h2 id="look-round">Or look round first</h2>
          <p>
            Saltmarsh Vale Hospital does not exist. Its wards, people and figures are invented, and
            filled in so that you can see a project that has run for a while. It can be removed
            again as a whole.
          </p>
          <Button busy={action.busy} busyText="Setting it up…" onClick={() => void lookRound()}>
            Add the example
          </Button>
          {action.error !== null && <ErrorNotice error={action.error} />}
        </section>
      )}
    </div>
  )
}

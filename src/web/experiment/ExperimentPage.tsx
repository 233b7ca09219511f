import '../chart/chart.css'
import '../measure/measure.css'
import '../cycle/cycle.css'
import './experiment.css'
import { useMemo, useState } from 'react'
import type { ExperimentBrief, ExperimentReply } from '../../api/experiment-contract.ts'
import { experimentReadiness } from '../../domain/experiment.ts'
import type { Experiment, ExperimentFactor } from '../../domain/experiment-record.ts'
import { LockBlock } from '../cycle/LockBlock.tsx'
import { SavedLine } from '../cycle/SavedLine.tsx'
import { createSaveBoard, SaveBoardContext, useBoardPart } from '../cycle/save-board.ts'
import { call } from '../lib/api.ts'
import { formatInstant } from '../lib/dates.ts'
import { useQuery } from '../lib/query.ts'
import { useCan } from '../lib/session.ts'
import { useAction } from '../lib/use-action.ts'
import { useRecordEditor } from '../lib/use-record-editor.ts'
import { useFocusHome } from '../measure/use-focus-home.ts'
import { Button, LinkButton } from '../ui/Button.tsx'
import { ConflictDialog } from '../ui/ConflictDialog.tsx'
import { ErrorNotice } from '../ui/Notice.tsx'
import { Page } from '../ui/Page.tsx'
import { Section } from '../ui/Section.tsx'
import { Loaded } from '../ui/Waiting.tsx'
import { Analysis } from './Analysis.tsx'
import { patchExperiment, putExperiment } from './experiment-query.ts'
import { PlanForm } from './PlanForm.tsx'
import { PlanRead } from './PlanRead.tsx'
import { EXPERIMENT_LABELS } from './words.ts'

/** A planned experiment on one page: plan, runs, what was found. */
export function ExperimentPage({ id }: { readonly id: string }) {
  const query = useQuery('GET /api/experiments/:id', { id })
  const [board] = useState(createSaveBoard)
  const [removed, setRemoved] = useState<ExperimentBrief | null>(null)
  if (removed !== null) return <Removed plan={removed} onBack={() => setRemoved(null)} />
  return (
    <Loaded query={query} what="the plan">
      {(data) => (
        <SaveBoardContext value={board}>
          <ExperimentView data={data} board={board} onRemoved={setRemoved} />
        </SaveBoardContext>
      )}
    </Loaded>
  )
}

/** The button that removed the plan had the focus. */
const focusFirst = (row: HTMLElement | null) => row?.querySelector('button')?.focus()

/** In place of a plan that was just removed: what happened, and the way back. */
function Removed({
  plan,
  onBack,
}: {
  readonly plan: ExperimentBrief
  readonly onBack: () => void
}) {
  const { title, projectId, id } = plan.experiment
  const action = useAction()
  const list = `/projects/${projectId}/experiments`
  const back = () =>
    action.run(async () => {
      const made = await putBack(plan)
      patchExperiment(id, () => made)
      onBack()
    })
  return (
    <Page title={title} crumbs={[{ label: 'Several changes at once', href: list }]}>
      <div className="stack">
        <p role="status">The plan is removed.</p>
        {action.error !== null && <ErrorNotice error={action.error} />}
        <div className="row" ref={focusFirst}>
          <Button busy={action.busy} busyText="Putting it back…" onClick={() => void back()}>
            Undo
          </Button>
          <LinkButton href={list}>To the plans</LinkButton>
        </div>
      </div>
    </Page>
  )
}

interface ViewProps {
  readonly data: ExperimentReply
  readonly board: ReturnType<typeof createSaveBoard>
  readonly onRemoved: (plan: ExperimentBrief) => void
}

function ExperimentView({ data, board, onRemoved }: ViewProps) {
  useFocusHome()
  const mayWrite = useCan('member')
  const { unit, project, experiment, runs } = data
  const { id } = experiment
  const locked = experiment.lockedAt !== null
  const editing = useRecordEditor<Experiment>(
    `experiment:${id}`,
    experiment,
    async ({ learned, ...plan }, version) => {
      const params = { id }
      const saved =
        learned === undefined
          ? await call('PATCH /api/experiments/:id/plan', { params, body: { ...plan, version } })
          : await call('PATCH /api/experiments/:id/learned', {
              params,
              body: { learned, version },
            })
      putExperiment(saved)
      return saved
    },
  )
  const lockedBy = data.people.find((p) => p.id === experiment.lockedById)?.name
  const done = runs.filter((r) => r.response !== null || r.leftOutReason !== null).length
  return (
    <Page
      title={editing.values.title}
      crumbs={[
        { label: unit.name, href: '/projects' },
        { label: project.name, href: `/projects/${project.id}` },
        { label: 'Several changes at once', href: `/projects/${project.id}/experiments` },
      ]}
      lead={
        <p>
          {experiment.lockedAt === null
            ? 'Several changes at once: being planned.'
            : `Locked on ${formatInstant(experiment.lockedAt)}${lockedBy === undefined ? '' : ` by ${lockedBy}`}.`}
        </p>
      }
    >
      <Section
        title="Plan"
        aside={
          mayWrite && !locked ? (
            <>
              <p>Saved as you type.</p>
              <SavedLine />
            </>
          ) : undefined
        }
      >
        <div className="stack fill loose experiment">
          {mayWrite && !locked ? (
            <OpenPlan data={data} board={board} onRemoved={onRemoved} editing={editing} />
          ) : (
            <PlanRead data={data} />
          )}
        </div>
      </Section>
      <Section title="Runs">
        {locked ? (
          <>
            <p>
              {done === runs.length
                ? `All ${done} runs are in.`
                : `${done === 0 ? 'No run is' : `${done} of ${runs.length} runs are`} in. Keep to the order of the sheet: it was drawn at random, so that a drift or a long day does not pass for an effect.`}
            </p>
            <LinkButton
              href={`/experiments/${id}/runs`}
              look={done < runs.length ? 'main' : 'plain'}
            >
              Run sheet
            </LinkButton>
          </>
        ) : (
          <p className="soft">The order of the runs is drawn once the plan is locked.</p>
        )}
      </Section>
      {locked && <Analysis data={data} editing={editing} mayWrite={mayWrite} />}
      <ConflictDialog
        editing={editing}
        labels={EXPERIMENT_LABELS}
        show={(field, value) =>
          field === 'measureId' || field === 'stopMeasureId'
            ? (data.measures.find((m) => m.id === value)?.name ?? 'none')
            : value === null || value === ''
              ? '(empty)'
              : String(value)
        }
      />
    </Page>
  )
}

function OpenPlan({
  data,
  board,
  onRemoved,
  editing,
}: ViewProps & { readonly editing: ReturnType<typeof useRecordEditor<Experiment>> }) {
  const { experiment, factors, measures } = data
  const { values, editor, status, error, flush } = editing
  const [unread, setUnread] = useState(false)
  useBoardPart('experiment', { status, error, unread, flush })
  const [tries, setTries] = useState(0)
  const lock = useAction()
  const removal = useAction()
  const issues = useMemo(
    () => experimentReadiness(values, factors, measures),
    [values, factors, measures],
  )
  const shown = (field: string) =>
    tries > 0 ? (issues.find((issue) => issue.field === field)?.message ?? null) : null
  const params = { id: experiment.id }

  const onLock = () =>
    lock.run(async () => {
      setTries((n) => n + 1)
      if (!(await board.flushAll()) || board.state.get().unread || issues.length > 0) return
      const { version } = editor.state.get().saved
      const made = await call('POST /api/experiments/:id/lock', { params, body: { version } })
      patchExperiment(experiment.id, () => made)
    })
  const onRemove = () =>
    removal.run(async () => {
      await board.flushAll()
      const plan = editor.state.get().saved
      await call('DELETE /api/experiments/:id', { params, body: { version: plan.version } })
      onRemoved({ experiment: plan, factors, runs: [] })
    })
  return (
    <>
      <PlanForm data={data} editing={editing} error={shown} onUnread={setUnread} />
      <LockBlock issues={issues} tries={tries} action={lock} onLock={() => void onLock()} />
      {removal.error !== null && <ErrorNotice error={removal.error} />}
      <div className="row">
        <Button look="quiet" busy={removal.busy} onClick={() => void onRemove()}>
          Remove this plan
        </Button>
      </div>
    </>
  )
}

/** Makes a removed plan anew, as it was. */
async function putBack({ experiment, factors }: ExperimentBrief): Promise<ExperimentBrief> {
  const { id, projectId, title } = experiment
  const made = await call('POST /api/experiments', { body: { id, projectId, title } })
  const { origin: _1, createdAt: _2, lockedAt: _3, lockedById: _4, seed: _5, ...rest } = experiment
  const { id: _6, projectId: _7, learned: _8, version: _9, ...fields } = rest
  const saved = await call('PATCH /api/experiments/:id/plan', {
    params: { id },
    body: { ...fields, version: made.experiment.version },
  })
  const again: ExperimentFactor[] = []
  for (const { id: factorId, name, low, high, middle, expected, why } of factors)
    again.push(
      await call('PUT /api/experiments/:id/factors/:factorId', {
        params: { id, factorId },
        body: { name, low, high, middle, expected, why, version: null },
      }),
    )
  return { experiment: saved, factors: again, runs: [] }
}

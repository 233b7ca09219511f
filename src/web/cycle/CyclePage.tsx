import '../chart/chart.css'
import '../measure/measure.css'
import './cycle.css'
import { type ReactNode, useEffect, useMemo, useRef, useState } from 'react'
import type { CycleReply } from '../../api/contract.ts'
import { readiness, type Stage, stageOf } from '../../domain/cycle.ts'
import type { Cycle } from '../../domain/record.ts'
import { call } from '../lib/api.ts'
import { formatDate, formatInstant, formatSpan } from '../lib/dates.ts'
import { useQuery } from '../lib/query.ts'
import { useCan } from '../lib/session.ts'
import { useAction } from '../lib/use-action.ts'
import { useRecordEditor } from '../lib/use-record-editor.ts'
import { useFocusHome } from '../measure/use-focus-home.ts'
import { ConflictDialog } from '../ui/ConflictDialog.tsx'
import { Page } from '../ui/Page.tsx'
import { Loaded } from '../ui/Waiting.tsx'
import { ActForm, Closed } from './ActSection.tsx'
import { Addenda } from './Addenda.tsx'
import { putCycle } from './cycle-query.ts'
import { DoRead } from './DoRead.tsx'
import { DoSection } from './DoSection.tsx'
import { focusField } from './focus-field.ts'
import { LockBlock } from './LockBlock.tsx'
import { PlanForm } from './PlanForm.tsx'
import { PlanRead } from './PlanRead.tsx'
import { RampStrip } from './RampStrip.tsx'
import { StageBar, type StageName } from './StageBar.tsx'
import { StagePart } from './StagePart.tsx'
import { Comparison, StudyWords } from './StudySection.tsx'
import { createSaveBoard, SaveBoardContext, useBoardPart } from './save-board.ts'
import { saveCycle } from './save-cycle.ts'
import { PLAN_LABELS, planText, standing } from './words.ts'

/** One test of change: Plan, Do, Study, Act on one page, in that order. */
export function CyclePage({ id }: { readonly id: string }) {
  const query = useQuery('GET /api/cycles/:id', { id })
  const [board] = useState(createSaveBoard)
  return (
    <Loaded query={query} what="the test">
      {(data) => (
        <SaveBoardContext value={board}>
          <CycleView data={data} reload={query.reload} board={board} />
        </SaveBoardContext>
      )}
    </Loaded>
  )
}

interface CycleViewProps {
  readonly data: CycleReply
  readonly reload: () => void
  readonly board: ReturnType<typeof createSaveBoard>
}

const LABELS = {
  ...PLAN_LABELS,
  ranFrom: 'Really ran from',
  ranTo: 'Really ran to',
  happened: 'What happened',
  wentWrong: 'What went wrong',
  surprises: 'Surprises',
  learned: 'What was learned',
  predictionReview: 'Was the prediction right',
}

function CycleView({ data, reload, board }: CycleViewProps) {
  useFocusHome()
  const readOnly = !useCan('member')
  const { unit, project, cycle, decision, siblings } = data
  const measures = useMemo(() => data.measures.map(({ measure }) => measure), [data.measures])
  const editing = useRecordEditor<Cycle>(`cycle:${cycle.id}`, cycle, async (changes, version) => {
    const saved = await saveCycle(cycle.id, changes, version)
    putCycle(saved)
    return saved
  })
  const { values, editor, flush } = editing
  useBoardPart('cycle', { status: editing.status, error: editing.error, unread: false, flush })

  const stage = stageOf(cycle, decision)
  const before = siblings.find((s) => s.cycle.id === cycle.buildsOnId) ?? null
  const issues = useMemo(
    () => readiness(values, data.predictions, measures),
    [values, data.predictions, measures],
  )
  const [tries, setTries] = useState(0)
  const lock = useAction()
  const done = useAction()
  const studied = useAction()

  // What was just finished makes room for what comes next, and reading goes on there.
  const moved = useRef(stage)
  const [said, setSaid] = useState('')
  useEffect(() => {
    if (moved.current === stage) return
    moved.current = stage
    setSaid(MOVED[stage])
    const next = STAGE_OF[stage]
    const heading = document.getElementById(`${next}-heading`)
    heading?.focus({ preventScroll: true })
    heading?.scrollIntoView({ block: 'start' })
  }, [stage])

  /** Everything typed is on the server first; then the step, made on the version just saved. */
  const step = async (send: (version: number) => Promise<Cycle>) => {
    if (!(await board.flushAll())) return
    putCycle(await send(editor.state.get().saved.version))
  }
  const params = { id: cycle.id }
  const onLock = () =>
    lock.run(async () => {
      setTries((n) => n + 1)
      if (!(await board.flushAll()) || board.state.get().unread || issues.length > 0) return
      await step((version) => call('POST /api/cycles/:id/lock', { params, body: { version } }))
    })
  const onDone = () =>
    done.run(() =>
      step((version) => call('POST /api/cycles/:id/done', { params, body: { version } })),
    )
  const onStudied = async () => {
    const fine = await studied.run(() =>
      step((version) => call('POST /api/cycles/:id/studied', { params, body: { version } })),
    )
    if (!fine) focusField(values.predictionReview.trim() === '' ? 'predictionReview' : 'learned')
  }

  const lockedBy = data.people.find((p) => p.id === cycle.lockedById)?.name
  const open = !readOnly && decision === null
  const told = marginOf(cycle, stage)

  return (
    <Page
      title={values.title.trim() === '' ? `Test ${cycle.number}` : values.title}
      crumbs={[
        { label: unit.name, href: '/projects' },
        { label: project.name, href: `/projects/${project.id}` },
      ]}
      lead={
        <p>
          Test {cycle.number}. {standing(cycle, decision, formatDate)}
        </p>
      }
    >
      <RampStrip cycle={cycle} siblings={siblings} />
      <StageBar stage={stage} />
      <p className="hidden-text" role="status">
        {said}
      </p>
      <StagePart name="plan" title="Plan" told={told.plan}>
        {stage === 'plan' && open ? (
          <>
            <PlanForm
              data={data}
              editing={editing}
              before={before}
              issues={tries > 0 ? issues : []}
            />
            <LockBlock issues={issues} tries={tries} action={lock} onLock={() => void onLock()} />
          </>
        ) : (
          <div className="plan-locked">
            <div>
              {cycle.lockedAt !== null && (
                <p className="locked-line">
                  Locked on {formatInstant(cycle.lockedAt)}
                  {lockedBy === undefined ? '' : ` by ${lockedBy}`}.
                </p>
              )}
              <PlanRead data={data} before={before} />
            </div>
            {cycle.lockedAt !== null && <Addenda data={data} readOnly={readOnly} />}
          </div>
        )}
      </StagePart>
      <StagePart name="do" title="Do" told={told.do}>
        {stage === 'plan' ? (
          <Later>Opens once the plan is locked.</Later>
        ) : stage === 'do' && open ? (
          <DoSection
            data={data}
            editing={editing}
            reload={reload}
            action={done}
            onDone={() => void onDone()}
          />
        ) : (
          <DoRead data={data} editing={editing} reload={reload} readOnly={!open} />
        )}
      </StagePart>
      <StagePart name="study" title="Study" told={told.study}>
        {stage === 'plan' || stage === 'do' ? (
          <Later>
            The outcome is set against the prediction here once Do is finished; then words are asked
            for.
          </Later>
        ) : (
          <>
            <Comparison data={data} />
            {open ? (
              <StudyWords editing={editing} action={studied} onStudied={() => void onStudied()} />
            ) : (
              <StudyRead cycle={cycle} />
            )}
          </>
        )}
      </StagePart>
      <StagePart name="act" title="Act" told={told.act}>
        {stage === 'act' && open ? (
          <ActForm data={data} />
        ) : stage === 'closed' ? (
          <Closed data={data} readOnly={readOnly} />
        ) : (
          <Later>Adopt, adapt or abandon: decided once the study is saved.</Later>
        )}
      </StagePart>
      <ConflictDialog
        editing={editing}
        labels={LABELS}
        show={(field, value) =>
          value === null || typeof value === 'string'
            ? planText(field as keyof typeof PLAN_LABELS, value, measures, formatDate)
            : String(value)
        }
      />
    </Page>
  )
}

const STAGE_OF: Readonly<Record<Stage, StageName>> = {
  plan: 'plan',
  do: 'do',
  study: 'study',
  act: 'act',
  closed: 'act',
}

/** What somebody who does not see the page is told when the test has moved on. */
const MOVED: Readonly<Record<Stage, string>> = {
  plan: '',
  do: 'The prediction is locked.',
  study: 'Do is finished.',
  act: 'The study is saved.',
  closed: 'The decision is recorded.',
}

/** What each stage says about itself in its margin. */
function marginOf(cycle: Cycle, stage: Stage): Readonly<Record<StageName, string>> {
  return {
    plan: stage === 'plan' ? 'Saved as you type.' : '',
    do: cycle.lockedAt === null ? '' : (formatSpan(cycle.ranFrom, cycle.ranTo) ?? ''),
    study: cycle.studiedAt === null ? '' : `Study saved ${formatDate(cycle.studiedAt)}.`,
    act: '',
  }
}

function Later({ children }: { readonly children: ReactNode }) {
  return <p className="soft">{children}</p>
}

function StudyRead({ cycle }: { readonly cycle: Cycle }) {
  return (
    <dl className="plan-read">
      <div className="entry">
        <dt>Was the prediction right?</dt>
        <dd className="pre">{cycle.predictionReview || 'Nothing is written.'}</dd>
      </div>
      <div className="entry">
        <dt>What was learned</dt>
        <dd className="pre">{cycle.learned || 'Nothing is written.'}</dd>
      </div>
    </dl>
  )
}

import '../measure/measure.css'
import './experiment.css'
import { type KeyboardEvent, useMemo, useState } from 'react'
import type { ExperimentReply } from '../../api/experiment-contract.ts'
import { inOrder } from '../../domain/experiment.ts'
import { responseStyle } from '../../domain/experiment-words.ts'
import { SavedLine } from '../cycle/SavedLine.tsx'
import { createSaveBoard, SaveBoardContext } from '../cycle/save-board.ts'
import { useQuery } from '../lib/query.ts'
import { useCan } from '../lib/session.ts'
import { entryHint } from '../measure/number-entry.ts'
import { useFocusHome } from '../measure/use-focus-home.ts'
import { Button, LinkButton } from '../ui/Button.tsx'
import { Page } from '../ui/Page.tsx'
import { Loaded } from '../ui/Waiting.tsx'
import { PrintedSheet } from './PrintedSheet.tsx'
import { RunItem } from './RunItem.tsx'

/** The runs in the order they were drawn: to fill in on the screen, or to print. */
export function RunSheetPage({ id }: { readonly id: string }) {
  const query = useQuery('GET /api/experiments/:id', { id })
  const [board] = useState(createSaveBoard)
  return (
    <Loaded query={query} what="the run sheet">
      {(data) => (
        <SaveBoardContext value={board}>
          <RunSheet data={data} />
        </SaveBoardContext>
      )}
    </Loaded>
  )
}

function RunSheet({ data }: { readonly data: ExperimentReply }) {
  useFocusHome()
  const mayWrite = useCan('member')
  const { project, experiment, runs } = data
  const factors = useMemo(() => inOrder(data.factors), [data.factors])
  const next = runs.find((r) => r.response === null && r.leftOutReason === null)
  const done = runs.filter((r) => r.response !== null || r.leftOutReason !== null).length
  const crumbs = [
    { label: project.name, href: `/projects/${project.id}` },
    { label: experiment.title, href: `/experiments/${experiment.id}` },
  ]
  if (experiment.lockedAt === null)
    return (
      <Page title="Run sheet" crumbs={crumbs}>
        <p>The order of the runs is drawn once the plan is locked.</p>
        <LinkButton href={`/experiments/${experiment.id}`}>Back to the plan</LinkButton>
      </Page>
    )
  return (
    <Page
      title="Run sheet"
      crumbs={crumbs}
      lead={
        <p className="screen-only">
          {experiment.title}. One run after the other, in this order, which was drawn at random.{' '}
          <b>Bold</b> is what differs from the run before. Enter goes to the next run.
        </p>
      }
      actions={<Button onClick={() => window.print()}>Print the sheet</Button>}
    >
      <div className="screen-only stack fill">
        <div className="row ends baseline">
          <div className="row baseline">
            <p role="status">
              {done === runs.length
                ? `All ${done} runs are in.`
                : `${done} of ${runs.length} runs are in.`}
            </p>
            {mayWrite && next !== undefined && done > 0 && (
              <button type="button" className="as-link" onClick={() => focusRun(next.id)}>
                Go to run {next.position}
              </button>
            )}
          </div>
          <SavedLine />
        </div>
        <p className="small soft">
          Read off after every run: {experiment.response}.{' '}
          {entryHint({
            ...responseStyle(experiment.responseKind),
            unitLabel: experiment.unitLabel,
            per: 1,
          })}
        </p>
        <ol className="bare run-list" onKeyDown={moveOn}>
          {runs.map((run, i) => (
            <RunItem
              key={run.id}
              experiment={experiment}
              factors={factors}
              run={run}
              before={runs[i - 1] ?? null}
              mayWrite={mayWrite}
            />
          ))}
        </ol>
        {done === runs.length && (
          <div className="row">
            <LinkButton href={`/experiments/${experiment.id}`} look="main">
              See what was found
            </LinkButton>
          </div>
        )}
      </div>
      <PrintedSheet data={data} factors={factors} />
    </Page>
  )
}

/** The next open run may be far down. */
function focusRun(id: string): void {
  const field = document.querySelector<HTMLInputElement>(`[data-run="${id}"] .run-response input`)
  field?.closest('.run')?.scrollIntoView({ block: 'center' })
  field?.focus({ preventScroll: true })
}

/** Enter and the arrows up and down move from response to response, as in a spreadsheet. */
function moveOn(event: KeyboardEvent<HTMLElement>): void {
  const { key, shiftKey, target } = event
  const step = key === 'ArrowDown' || (key === 'Enter' && !shiftKey) ? 1 : -1
  if (key !== 'Enter' && key !== 'ArrowDown' && key !== 'ArrowUp') return
  const fields = [...event.currentTarget.querySelectorAll<HTMLInputElement>('.run-response input')]
  const at = fields.indexOf(target as HTMLInputElement)
  if (at === -1) return
  event.preventDefault()
  // After the last one the note of the same run is next, so that the response counts as finished.
  const note = fields[at]!.closest('.run')?.querySelector<HTMLInputElement>('.run-note input')
  const next = fields[at + step] ?? (key === 'Enter' && step === 1 ? note : undefined)
  next?.focus()
  next?.select()
}

import { useMemo, useState } from 'react'
import { Link, useLocation } from 'wouter'
import type { CycleReply } from '../../api/contract.ts'
import type { DecisionKind } from '../../domain/record.ts'
import { suggestDecision } from '../../domain/suggestion.ts'
import { call } from '../lib/api.ts'
import { formatDate } from '../lib/dates.ts'
import { newId } from '../lib/ids.ts'
import { useAction } from '../lib/use-action.ts'
import { useDraft } from '../lib/use-draft.ts'
import { Button } from '../ui/Button.tsx'
import { ErrorNotice } from '../ui/Notice.tsx'
import { RadioCards } from '../ui/RadioCards.tsx'
import { TextArea } from '../ui/TextArea.tsx'
import { putDecision } from './cycle-query.ts'
import { focusField } from './focus-field.ts'
import { neighboursOf } from './ramp.ts'
import { SuggestionBlock, SuggestionThen } from './SuggestionBlock.tsx'
import { useSaveBoard } from './save-board.ts'
import { useStudy } from './use-study.ts'
import { DECISION_WORDS } from './words.ts'

const CHOICES = [
  { value: 'adopt', label: 'Adopt', hint: 'Keep the change as it is.' },
  { value: 'adapt', label: 'Adapt', hint: 'Alter it and test again.' },
  { value: 'abandon', label: 'Abandon', hint: 'Drop it, and keep what was learned.' },
] as const

const BUTTONS: Readonly<Record<DecisionKind, string>> = {
  adopt: 'Adopt and close the test',
  adapt: 'Adapt and plan the next test',
  abandon: 'Abandon and close the test',
}

/** Act: what the team does next, and why; adapt opens the next test. */
export function ActForm({ data }: { readonly data: CycleReply }) {
  const { cycle } = data
  const [, navigate] = useLocation()
  const board = useSaveBoard()
  const form = useDraft<{
    kind: DecisionKind | null
    reason: string
    nextChange: string
    differsBecause: string
  }>(`decision:${cycle.id}`, { kind: null, reason: '', nextChange: '', differsBecause: '' })
  const { kind, reason, nextChange, differsBecause } = form.values
  const study = useStudy(data)
  const suggestion = useMemo(() => suggestDecision(study), [study])
  const differs = kind !== null && kind !== suggestion.kind
  const [ids] = useState(() => ({ id: newId(), nextId: newId() }))
  const [asked, setAsked] = useState(false)
  const action = useAction()
  const wrong = {
    kind: kind === null ? 'Choose one of the three.' : null,
    reason: reason.trim() === '' ? 'Say how the outcome compared with the prediction.' : null,
    nextChange:
      kind === 'adapt' && nextChange.trim() === ''
        ? 'Say what the next test will do differently.'
        : null,
  }

  const decide = async () => {
    setAsked(true)
    const first = (Object.keys(wrong) as (keyof typeof wrong)[]).find((key) => wrong[key] !== null)
    if (first !== undefined) return focusField(first === 'kind' ? 'decision' : first)
    await action.run(async () => {
      if (!(await board.flushAll())) return
      const answer = await call('POST /api/cycles/:id/decision', {
        params: { id: cycle.id },
        body: {
          ...ids,
          kind: kind!,
          reason: reason.trim(),
          nextChange: kind === 'adapt' ? nextChange.trim() : '',
          differsBecause: differs ? differsBecause.trim() : '',
          version: cycle.version,
        },
      })
      form.clear()
      putDecision(answer.cycle, answer.decision)
      if (answer.next !== null) navigate(`/tests/${answer.next.cycle.id}`)
      else requestAnimationFrame(() => document.getElementById('act-heading')?.focus())
    })
  }

  return (
    <form
      noValidate
      className="stack fill"
      onSubmit={(event) => {
        event.preventDefault()
        void decide()
      }}
    >
      <SuggestionBlock {...suggestion} />
      <div data-field="decision">
        <RadioCards<DecisionKind>
          legend="What does the team do with the change?"
          across
          value={kind}
          choices={CHOICES}
          onChange={(value) => form.set('kind', value)}
          error={asked ? wrong.kind : null}
        />
      </div>
      <div data-field="reason">
        <TextArea
          label="Reason"
          hint="How the outcome compared with the prediction, and what follows from it"
          value={reason}
          onChange={(value) => form.set('reason', value)}
          error={asked ? wrong.reason : null}
        />
      </div>
      {kind === 'adapt' && (
        <div data-field="nextChange">
          <TextArea
            label="What the next test will change"
            hint="The plan is carried over with this; dates and reasons are asked afresh."
            value={nextChange}
            onChange={(value) => form.set('nextChange', value)}
            error={asked ? wrong.nextChange : null}
          />
        </div>
      )}
      {differs && (
        <TextArea
          label="Why not as the figures suggest"
          optional
          hint="What you know and they do not. It is kept beside the decision, and may stay empty."
          value={differsBecause}
          onChange={(value) => form.set('differsBecause', value)}
        />
      )}
      {action.error !== null && <ErrorNotice error={action.error} />}
      <div className="row">
        <Button type="submit" look="main" busy={action.busy} busyText="Recording…">
          {kind === null ? 'Record the decision' : BUTTONS[kind]}
        </Button>
      </div>
    </form>
  )
}

/** The decision of a closed test as a sentence, and the ways on from it. */
export function Closed({
  data,
  readOnly,
}: {
  readonly data: CycleReply
  readonly readOnly: boolean
}) {
  const { cycle, decision, siblings, people } = data
  const [, navigate] = useLocation()
  const [nextId] = useState(newId)
  const action = useAction()
  const study = useStudy(data)
  const now = useMemo(() => suggestDecision(study), [study])
  if (decision === null) return null
  const name = people.find((p) => p.id === decision.byId)?.name
  const { before, after } = neighboursOf(siblings, cycle.id)
  const buildOn = () =>
    action.run(async () => {
      const { cycle: made } = await call('POST /api/cycles', {
        body: {
          id: nextId,
          projectId: cycle.projectId,
          title: cycle.title,
          buildsOnId: cycle.id,
        },
      })
      navigate(`/tests/${made.id}`)
    })
  return (
    <>
      <p className="decision">
        <strong>
          The team {DECISION_WORDS[decision.kind]} this change on {formatDate(decision.at)}
          {name === undefined ? '' : `, recorded by ${name}`}.
        </strong>
      </p>
      <p className="pre">{decision.reason}</p>
      {decision.nextChange !== '' && (
        <p className="pre">
          <b>What the next test changes:</b> {decision.nextChange}
        </p>
      )}
      <SuggestionThen decision={decision} now={now} />
      <ul className="bare neighbours">
        {before !== null && (
          <li>
            Builds on{' '}
            <Link href={`/tests/${before.cycle.id}`}>
              test {before.cycle.number}: {before.cycle.title}
            </Link>
          </li>
        )}
        {after.map((next) => (
          <li key={next.cycle.id}>
            Went on in{' '}
            <Link href={`/tests/${next.cycle.id}`}>
              test {next.cycle.number}: {next.cycle.title}
            </Link>
          </li>
        ))}
      </ul>
      {action.error !== null && <ErrorNotice error={action.error} />}
      {!readOnly && (
        <Button busy={action.busy} busyText="Opening…" onClick={() => void buildOn()}>
          {after.length === 0
            ? 'Plan a test that builds on this one'
            : 'Plan another test that builds on this one'}
        </Button>
      )}
    </>
  )
}

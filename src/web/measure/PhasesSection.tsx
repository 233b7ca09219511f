import { useMemo, useState } from 'react'
import { Link } from 'wouter'
import type { MeasureReply } from '../../api/contract.ts'
import type { Phase } from '../../domain/record.ts'
import { formatValue } from '../../domain/value-text.ts'
import type { Analysis } from '../../stats/types.ts'
import { call } from '../lib/api.ts'
import { formatDate } from '../lib/dates.ts'
import { newId } from '../lib/ids.ts'
import { patchQuery } from '../lib/query.ts'
import { offerUndo } from '../lib/undo.ts'
import { Button } from '../ui/Button.tsx'
import { Section } from '../ui/Section.tsx'
import { type PhaseFields, PhaseForm } from './PhaseForm.tsx'
import { proposedPhase } from './proposed-phase.ts'

export interface PhasesSectionProps {
  readonly data: MeasureReply
  /** `null` while there is no chart. */
  readonly analysis: Analysis | null
  readonly readOnly: boolean
}

const inOrder = (phases: readonly Phase[]) =>
  [...phases].sort((a, b) => ((a.startsAt ?? '') < (b.startsAt ?? '') ? -1 : 1))

/** The stretches of the chart, each with its own centre; a person starts one, with a reason. */
export function PhasesSection({ data, analysis, readOnly }: PhasesSectionProps) {
  const { measure, phases, cycles } = data
  const [open, setOpen] = useState<string | null>(null)
  const [start, setStart] = useState<PhaseFields | null>(null)
  const listed = inOrder(phases)
  const baseline = listed.find((phase) => phase.startsAt === null) ?? null
  const tests = useMemo(() => cycles.filter(({ cycle }) => cycle.lockedAt !== null), [cycles])
  const proposal = useMemo(
    () => (analysis === null ? null : proposedPhase(analysis, tests)),
    [analysis, tests],
  )

  const put = (change: (all: readonly Phase[]) => readonly Phase[]) =>
    patchQuery('GET /api/measures/:id', { id: measure.id }, (old) => ({
      ...old,
      phases: change(old.phases),
    }))
  const create = async (fields: PhaseFields, id = newId()) => {
    const body = { id, measureId: measure.id, ...fields }
    const phase = await call('POST /api/phases', { body })
    put((all) => [...all, phase])
  }
  const change = async (phase: Phase, fields: PhaseFields) => {
    const saved = await call('PATCH /api/phases/:id', {
      params: { id: phase.id },
      body: { ...fields, version: phase.version },
    })
    put((all) => all.map((p) => (p.id === saved.id ? saved : p)))
  }
  const remove = async (phase: Phase) => {
    await call('DELETE /api/phases/:id', {
      params: { id: phase.id },
      body: { version: phase.version },
    })
    put((all) => all.filter((p) => p.id !== phase.id))
    const { startsAt, frozenThrough, reason, cycleId } = phase
    offerUndo(`The phase ${nameOf(phase)} was removed.`, () =>
      create({ startsAt, frozenThrough, reason, cycleId }),
    )
  }

  const centerOf = (phase: Phase): string => {
    const first = phase.startsAt ?? ''
    const next = listed[listed.indexOf(phase) + 1]?.startsAt ?? null
    const found = analysis?.phases.find(
      ({ from }) => from >= first && (next === null || from < next),
    )
    if (found === undefined) return 'It has no points yet.'
    if (found.center === null) return ''
    return `Centre ${formatValue(measure, found.center)}, from ${found.n === 1 ? '1 point' : `${found.n} points`}.`
  }

  return (
    <Section
      title="Phases"
      id="phases"
      aside={
        <p>
          A phase is a stretch with its own centre and limits. Start one only where the level has
          changed for a reason you can name.
        </p>
      }
    >
      {listed.length === 0 && (
        <p>One phase: centre and limits come from all points. Nothing is frozen.</p>
      )}
      <ul className="stack fill phase-list">
        {listed.map((phase) => (
          <li key={phase.id}>
            {open === phase.id ? (
              <PhaseForm
                draftKey={`phase:${phase.id}`}
                initial={phase}
                baseline={phase.startsAt === null}
                tests={tests}
                saveText="Save the phase"
                onSave={(fields) => change(phase, fields)}
                onClose={() => setOpen(null)}
              />
            ) : (
              <>
                <p>
                  <strong>{capital(nameOf(phase))}.</strong> {centerOf(phase)}{' '}
                  {phase.frozenThrough !== null &&
                    `Frozen through ${formatDate(phase.frozenThrough)}.`}
                </p>
                {phase.reason !== '' && <p className="pre">{phase.reason}</p>}
                {explainedBy(phase, data)}
                {!readOnly && (
                  <div className="row">
                    <Button look="quiet" className="outdent" onClick={() => setOpen(phase.id)}>
                      Edit<span className="hidden-text"> the phase {nameOf(phase)}</span>
                    </Button>
                    <Button look="quiet" onClick={() => void remove(phase)}>
                      Remove<span className="hidden-text"> the phase {nameOf(phase)}</span>
                    </Button>
                  </div>
                )}
              </>
            )}
          </li>
        ))}
      </ul>
      {!readOnly && proposal !== null && start === null && (
        <div className="notice">
          <p>{proposal.text}</p>
          <Button
            onClick={() =>
              setStart({
                startsAt: proposal.startsAt,
                frozenThrough: null,
                reason: '',
                cycleId: proposal.cycleId,
              })
            }
          >
            Start a phase on {formatDate(proposal.startsAt)}
          </Button>
        </div>
      )}
      {!readOnly && start !== null && (
        <PhaseForm
          draftKey={`phase:new:${measure.id}:${start.startsAt ?? 'open'}`}
          initial={start}
          baseline={start.startsAt === null && open === 'baseline'}
          tests={tests}
          saveText={open === 'baseline' ? 'Freeze the baseline' : 'Start the phase'}
          onSave={(fields) => create(fields)}
          onClose={() => {
            setStart(null)
            setOpen(null)
          }}
        />
      )}
      {!readOnly && start === null && (
        <div className="row">
          <Button
            onClick={() =>
              setStart({ startsAt: null, frozenThrough: null, reason: '', cycleId: null })
            }
          >
            Start a phase
          </Button>
          {baseline === null && (
            <Button
              onClick={() => {
                setOpen('baseline')
                setStart({
                  startsAt: null,
                  frozenThrough: analysis?.points.at(-1)?.at.slice(0, 10) ?? null,
                  reason: '',
                  cycleId: null,
                })
              }}
            >
              Freeze the baseline
            </Button>
          )}
        </div>
      )}
    </Section>
  )
}

function nameOf(phase: Phase): string {
  return phase.startsAt === null ? 'baseline' : `from ${formatDate(phase.startsAt)}`
}

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)

function explainedBy(phase: Phase, data: MeasureReply) {
  const test = data.cycles.find(({ cycle }) => cycle.id === phase.cycleId)
  return test === undefined ? null : (
    <p>
      Explained by{' '}
      <Link href={`/tests/${test.cycle.id}`}>
        test {test.cycle.number}: {test.cycle.title}
      </Link>
      .
    </p>
  )
}

import { Link, useLocation } from 'wouter'
import type { CycleBrief, MeasureData } from '../../api/contract.ts'
import { type Stage, stageOf } from '../../domain/cycle.ts'
import type { Id, RampNote } from '../../domain/record.ts'
import { formatDate, formatSpan } from '../lib/dates.ts'
import { useCan } from '../lib/session.ts'
import { Section } from '../ui/Section.tsx'
import { NewTest } from './NewTest.tsx'
import { RampPicture } from './RampPicture.tsx'
import { rampsOf } from './ramps.ts'

export interface ProjectTestsProps {
  readonly projectId: Id
  readonly cycles: readonly CycleBrief[]
  readonly measures: readonly MeasureData[]
  readonly notes: readonly RampNote[]
}

const STANDS: Readonly<Record<Exclude<Stage, 'closed'>, string>> = {
  plan: 'is planned; its prediction is not locked yet',
  do: 'is running',
  study: 'has run and waits for its Study',
  act: 'is studied and waits for a decision',
}
const DECIDED = { adopt: 'Adopted', adapt: 'Adapted', abandon: 'Abandoned' } as const

/** `Test 3 is running, 2 Mar 2026 to 9 Mar 2026.` */
function standOf({ cycle, decision }: CycleBrief): string {
  const span =
    cycle.lockedAt === null
      ? formatSpan(cycle.plannedFrom, cycle.plannedTo)
      : formatSpan(cycle.ranFrom, cycle.ranTo)
  const when = span === null ? '' : `, ${span}`
  const stage = stageOf(cycle, decision)
  if (decision !== null) {
    return `${DECIDED[decision.kind]} on ${formatDate(decision.at)}${span === null ? '' : `; ran ${span}`}.`
  }
  return stage === 'closed' ? '' : `It ${STANDS[stage]}${when}.`
}

/** The tests of change: each idea as a ramp, and every test in one line. */
export function ProjectTests({ projectId, cycles, measures, notes }: ProjectTestsProps) {
  const mayWrite = useCan('member')
  const [, navigate] = useLocation()
  const ramps = rampsOf(cycles)
  return (
    <Section
      title="Tests of change"
      aside={
        <p>
          Each chain is one idea, tested again and again: small first, then wider as the team
          learns.
        </p>
      }
    >
      {mayWrite && <NewTest projectId={projectId} />}
      {ramps.length === 0 && (
        <p className="soft">
          No test yet. The first one can be as small as one patient list on one afternoon.
        </p>
      )}
      {ramps.map((ramp) => (
        <article className="ramp" key={ramp.id} aria-labelledby={`ramp-${ramp.id}`}>
          <h3 id={`ramp-${ramp.id}`}>
            <Link className="ramp-title" href={`/projects/${projectId}/ramp/${ramp.id}`}>
              {ramp.tests[0]?.cycle.title ?? 'Ramp'}
            </Link>
          </h3>
          <KnownNow note={notes.find((note) => note.rampId === ramp.id)} />
          <RampPicture
            tests={ramp.tests}
            measures={measures}
            onOpenTest={(id) => navigate(`/tests/${id}`)}
          />
          <ol className="bare ramp-tests">
            {ramp.tests.map((test) => (
              <li key={test.cycle.id}>
                <Link href={`/tests/${test.cycle.id}`}>
                  {`Test ${test.cycle.number}: ${test.cycle.title}`}
                </Link>
                <p className="small soft">{standOf(test)}</p>
              </li>
            ))}
          </ol>
        </article>
      ))}
    </Section>
  )
}

function KnownNow({ note }: { readonly note: RampNote | undefined }) {
  if (note === undefined || note.text.trim() === '') return null
  return (
    <p className="pre">
      <b>What we know now:</b> {note.text.trim()}
    </p>
  )
}

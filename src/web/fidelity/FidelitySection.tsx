import './fidelity.css'
import type { CycleBrief, MeasureData } from '../../api/contract.ts'
import { fidelity, type Principle, type PrincipleFinding } from '../../domain/fidelity.ts'
import { formatNumber } from '../../domain/value-text.ts'
import { Section } from '../ui/Section.tsx'

export interface FidelitySectionProps {
  /** What is looked at. */
  readonly scope: 'ramp' | 'project'
  readonly tests: readonly CycleBrief[]
  readonly measures: readonly MeasureData[]
}

const NAMES: Readonly<Record<Principle, string>> = {
  documented: 'All four stages are written down',
  'after-the-fact': 'Study comes after Do',
  learning: 'Something is learned',
  prediction: 'A prediction is on record',
  iteration: 'Tests build on each other',
  scale: 'The tests get larger',
  'data-over-time': 'Data are regular over time',
}

/** More marks than this are a blur; the count in words says it better. */
const MOST_MARKS = 12

/** How closely the record keeps to the method: seven principles, each held or not yet, and why. */
export function FidelitySection({ scope, tests, measures }: FidelitySectionProps) {
  const findings = fidelity(tests, measures)
  return (
    <Section
      title="How closely the method is kept"
      id="fidelity"
      aside={
        <p>
          Read from the record alone. A filled mark is a test, or a chain of tests, that keeps to
          the principle.
        </p>
      }
    >
      {findings.length === 0 ? (
        <p className="soft">No test of this {scope} is locked yet, so there is nothing to go by.</p>
      ) : (
        <>
          <ul className="bare fidelity">
            {findings.map((finding) => (
              <FidelityRow key={finding.principle} finding={finding} />
            ))}
          </ul>
          <p className="small soft fidelity-source">
            “Elsewhere” is the share that kept to each in 421 test cycles of 39 front-line teams
            (McNicholas and others 2019, BMJ Quality &amp; Safety 28:356). There readers judged the
            team’s own words. Here dates, numbers and filled fields decide, so the two are close but
            not the same.
          </p>
        </>
      )}
    </Section>
  )
}

function FidelityRow({ finding }: { readonly finding: PrincipleFinding }) {
  const { principle, held, sentence, published } = finding
  return (
    <li>
      <Marks held={held} />
      <div>
        <p>
          <b>{NAMES[principle]}:</b> {standOf(finding)}.{' '}
          <span className="small soft nowrap">Elsewhere {formatNumber(published * 100)} %.</span>
        </p>
        <p className="small soft">{sentence}</p>
      </div>
    </li>
  )
}

function standOf({ held, of }: PrincipleFinding): string {
  const kept = held.filter(Boolean).length
  if (kept === held.length) return 'held'
  return held.length === 1 ? 'not yet' : `not yet in all, ${kept} of ${held.length} ${of}`
}

function Marks({ held }: { readonly held: readonly boolean[] }) {
  const kept = held.every(Boolean)
  const shown = held.length <= MOST_MARKS ? held : [kept]
  return (
    <span className="fidelity-marks" aria-hidden="true">
      {shown.map((yes, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: marks stand for places in a row
        <span key={i} className={yes ? 'fidelity-mark held' : 'fidelity-mark'} />
      ))}
    </span>
  )
}

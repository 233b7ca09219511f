import { Link } from 'wouter'
import type { CycleBrief } from '../../api/contract.ts'
import type { TestMark } from '../../charts/spec.ts'
import type { Cycle } from '../../domain/record.ts'
import { testMark } from '../measure/measure-chart.ts'
import { rampOf } from './ramp.ts'
import { Tooth } from './Tooth.tsx'

const WORDS: Readonly<Record<TestMark, string>> = {
  adopt: 'adopted',
  adapt: 'adapted',
  abandon: 'abandoned',
  waiting: 'waits for Study',
  running: 'running',
  planned: 'planned',
}

export interface RampStripProps {
  readonly cycle: Cycle
  readonly siblings: readonly CycleBrief[]
}

/** The tests of one idea as teeth on a rail, each a way to its page; this one is marked. */
export function RampStrip({ cycle, siblings }: RampStripProps) {
  const tests = rampOf(siblings, cycle.rampId)
  return (
    <nav className="ramp-strip" aria-label="Tests of this idea">
      <ol>
        {tests.map((test) => {
          const own = test.cycle.id === cycle.id
          const mark = testMark(test)
          const words =
            test.decision === null && test.cycle.studiedAt !== null
              ? 'waits for a decision'
              : WORDS[mark]
          return (
            <li key={test.cycle.id}>
              <Link
                className="ramp-tooth railed"
                href={`/tests/${test.cycle.id}`}
                aria-current={own ? 'page' : undefined}
              >
                <Tooth mark={mark} />
                <span className={own ? 'ramp-name own' : 'ramp-name'}>
                  <b>{test.cycle.number}</b> {words}
                </span>
              </Link>
            </li>
          )
        })}
        <li>
          <Link
            className="ramp-tooth whole"
            href={`/projects/${cycle.projectId}/ramp/${cycle.rampId}`}
          >
            The whole ramp
          </Link>
        </li>
      </ol>
    </nav>
  )
}

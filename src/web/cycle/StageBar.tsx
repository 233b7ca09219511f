import type { Stage } from '../../domain/cycle.ts'
import { SavedLine } from './SavedLine.tsx'

const STAGES = ['plan', 'do', 'study', 'act'] as const
export type StageName = (typeof STAGES)[number]

const TITLES: Readonly<Record<StageName, string>> = {
  plan: 'Plan',
  do: 'Do',
  study: 'Study',
  act: 'Act',
}

/** The four stages as a rail that stays in view: which are done, which is open, and what is saved. */
export function StageBar({ stage }: { readonly stage: Stage }) {
  const now = stage === 'closed' ? STAGES.length : STAGES.indexOf(stage)
  return (
    <div className="stage-bar">
      <nav aria-label="Stages of this test">
        <ol className="bare">
          {STAGES.map((name, i) => {
            const state = i < now ? 'done' : i === now ? 'open' : 'later'
            return (
              <li key={name}>
                <a
                  className={`stage-link ${state}`}
                  href={`#${name}`}
                  aria-current={state === 'open' ? 'step' : undefined}
                >
                  {TITLES[name]}
                  <span className="hidden-text">{SAID[state]}</span>
                  <svg
                    className={`stage-tooth ${state}`}
                    viewBox="0 0 22 13"
                    width="22"
                    height="13"
                    aria-hidden="true"
                  >
                    <path d="M1 12.5L20.5 1.5V12.5" />
                  </svg>
                </a>
              </li>
            )
          })}
        </ol>
      </nav>
      <SavedLine />
    </div>
  )
}

const SAID = { done: ', finished', open: ', open now', later: ', later' } as const

import { useState } from 'react'
import { Button } from '../../ui/Button.tsx'
import { Select } from '../../ui/Select.tsx'
import { CountdownBox } from './CountdownBox.tsx'
import {
  backTo,
  LESSON,
  type LessonStep,
  MOMENT_WORDS,
  momentStep,
  nextStep,
} from './lesson-steps.ts'
import { useConsole } from './use-console.ts'

const COUNT_INS = [3, 4, 5, 6, 7, 8, 9, 10]

/** Where the class is, what comes next, and its clock. */
export function ConsoleLesson() {
  const { state, act, busy, serverNow } = useConsole()
  const [countIn, setCountIn] = useState(5)
  const { room } = state
  const { pace } = room.settings
  const go = (step: LessonStep) =>
    void act(step.moves, { text: step.done, moves: () => backTo(room, serverNow()) })
  const next = nextStep(state, countIn)
  const other = pace === 'together' ? 'alone' : 'together'
  return (
    <section className="console-part" aria-labelledby="console-lesson">
      <h2 id="console-lesson">
        {room.round === 0
          ? MOMENT_WORDS[room.moment]
          : `Round ${room.round} of ${room.settings.rounds}: ${MOMENT_WORDS[room.moment].toLowerCase()}`}
      </h2>
      <ol className="console-moments bare">
        {LESSON.map((moment) => (
          <li key={moment}>
            <button
              type="button"
              aria-current={moment === room.moment ? 'step' : undefined}
              onClick={() => moment !== room.moment && go(momentStep(state, moment))}
            >
              {MOMENT_WORDS[moment]}
            </button>
          </li>
        ))}
      </ol>
      <CountdownBox />
      {next !== null && (
        <div className="console-next">
          <Button look="main" busy={busy} busyText="Sending…" onClick={() => go(next)}>
            {next.label}
          </Button>
          {room.moment === 'predict' && pace === 'together' && (
            <Select
              label={<span className="hidden-text">Count in</span>}
              value={String(countIn)}
              options={COUNT_INS.map((n) => ({ value: String(n), label: `${n} s` }))}
              onChange={(value) => setCountIn(Number(value))}
            />
          )}
          {next.early !== '' && <p className="small soft">{next.early}</p>}
        </div>
      )}
      <p className="small">
        {pace === 'together'
          ? 'You start each round for all tables. '
          : 'Each table starts its own rounds. '}
        <Button
          look="quiet"
          className="small"
          onClick={() =>
            void act(
              { kind: 'pace', pace: other },
              {
                text: other === 'together' ? 'Rounds start together.' : 'Tables run alone.',
                moves: () => [{ kind: 'pace', pace }],
              },
            )
          }
        >
          {pace === 'together' ? 'Let tables run alone' : 'Start rounds together'}
        </Button>
      </p>
    </section>
  )
}

import { Button } from '../../ui/Button.tsx'
import { clockText, secondsLeft } from './countdown-words.ts'
import { countdownBack } from './lesson-steps.ts'
import { useConsole } from './use-console.ts'
import { useTicking } from './use-ticking.ts'

/** The clock that everybody sees, and what can be done to it. */
export function CountdownBox() {
  const { state, act, serverNow } = useConsole()
  const { countdown, moment, settings } = state.room
  useTicking(countdown === null ? null : 250)
  const undo = (text: string) => ({
    text,
    moves: () => countdownBack(state.room, serverNow()),
  })
  const extend = (seconds: number, words: string) =>
    void act({ kind: 'extend', seconds }, undo(`${words} more.`))
  if (countdown === null) {
    if (moment !== 'predict') return null
    const seconds = settings.planSeconds ?? 180
    return (
      <Button
        onClick={() =>
          void act({ kind: 'countdown', of: 'plan', seconds }, undo('The time box runs.'))
        }
      >
        {`Give ${clockText(seconds)} for planning`}
      </Button>
    )
  }
  const left = secondsLeft(countdown, serverNow())
  const words =
    countdown.kind === 'plan'
      ? left > 0
        ? 'left to plan and predict'
        : 'Time for planning is up'
      : left > 0
        ? 'until the clocks start'
        : 'since the clocks started'
  const shown =
    countdown.kind === 'start' && left <= 0
      ? clockText((serverNow() - Date.parse(countdown.endsAt)) / 1000)
      : clockText(left)
  return (
    <div className="console-clock">
      <p role="timer">
        <strong>{shown}</strong> <span className="small soft">{words}</span>
      </p>
      {countdown.kind === 'plan' && (
        <div className="row">
          <Button onClick={() => extend(30, '30 seconds')}>+30 s</Button>
          <Button onClick={() => extend(60, 'One minute')}>+1 min</Button>
          <Button
            look="quiet"
            onClick={() =>
              void act({ kind: 'countdown', of: 'plan', seconds: 0 }, undo('The clock is off.'))
            }
          >
            Take it away
          </Button>
        </div>
      )}
    </div>
  )
}

import { useMemo } from 'react'
import { TALKING_POINTS, talkingPointAt } from '../../../domain/workshop/talking-points.ts'
import { Button } from '../../ui/Button.tsx'
import { Checkbox } from '../../ui/Checkbox.tsx'
import { countdownBack } from './lesson-steps.ts'
import { useConsole } from './use-console.ts'
import { useKeys, useKeysWanted } from './use-keys.ts'

const PICTURES = {
  times: 'times and predictions',
  errors: 'how far off predictions were',
  scatter: 'time against quality',
  spread: 'the spread between tables',
  curve: 'the curve of the class',
} as const

/** What to say next; the room screen turns its picture along. */
export function ConsoleTalk() {
  const { state, act, serverNow } = useConsole()
  const { room } = state
  const { moment, talkingPoint, kit } = room
  const [keysOn, setKeysOn] = useKeysWanted()
  const points = TALKING_POINTS[moment]
  const at = talkingPoint % points.length
  const point = talkingPointAt(moment, talkingPoint)
  const turn = useMemo(
    () => (by: number) => {
      const index = (at + by + points.length) % points.length
      void act(
        { kind: 'talking-point', index },
        {
          text: `Talking point: ${points[index]!.title}.`,
          moves: () => [{ kind: 'talking-point', index: talkingPoint }],
        },
      )
    },
    [act, at, points, talkingPoint],
  )
  const keys = useMemo(
    () => ({
      n: () => turn(1),
      p: () => turn(-1),
      '+': () => {
        if (room.countdown?.kind !== 'plan') return
        void act(
          { kind: 'extend', seconds: 30 },
          { text: '30 seconds more.', moves: () => countdownBack(room, serverNow()) },
        )
      },
    }),
    [turn, act, room, serverNow],
  )
  useKeys(keysOn, keys)
  return (
    <section className="console-part" aria-labelledby="console-talk">
      <h2 id="console-talk">{`Say: ${point.title}`}</h2>
      <p>{point.say}</p>
      {point.question !== null && <p className="console-ask">{point.question}</p>}
      {point.picture !== null && (
        <p className="small soft">{`The room screen shows ${PICTURES[point.picture]}.`}</p>
      )}
      <div className="row">
        <Button onClick={() => turn(1)}>Next point</Button>
        <Button look="quiet" onClick={() => turn(-1)}>
          Point before
        </Button>
        <span className="small soft">{`${at + 1} of ${points.length}`}</span>
      </div>
      {kit.hints.length > 0 && (
        <details>
          <summary>{`Hints for “${kit.name}”`}</summary>
          <ul>
            {kit.hints.map((hint) => (
              <li key={hint}>{hint}</li>
            ))}
          </ul>
        </details>
      )}
      <div className="console-keys">
        <Checkbox label="Single keys" checked={keysOn} onChange={setKeysOn} />
        {keysOn && (
          <span className="small soft">
            <kbd>N</kbd> next point, <kbd>P</kbd> point before, <kbd>+</kbd> 30 s more for planning
          </span>
        )}
      </div>
    </section>
  )
}

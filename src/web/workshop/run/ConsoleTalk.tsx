import { Button } from '../../ui/Button.tsx'
import { useConsole } from './use-console.ts'
import { useTalk } from './use-talk.ts'

const PICTURES = {
  times: 'times and predictions',
  errors: 'how far off predictions were',
  scatter: 'time against quality',
  spread: 'the spread between tables',
  curve: 'the curve of the class',
} as const

/** What to say next; the room screen turns its picture along. */
export function ConsoleTalk() {
  const { kit } = useConsole().state.room
  const { point, at, count, turn } = useTalk()
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
        <span className="small soft">{`${at + 1} of ${count}`}</span>
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
    </section>
  )
}

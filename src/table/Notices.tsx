import type { MoveBody } from '../domain/workshop/moves.ts'
import type { OutMove } from './outbox.ts'
import { Button, Screen, toMain } from './Screen.tsx'
import { useDraft, useTable } from './use-phone.ts'
import { predictionText } from './words.ts'

/** What a move says in words, so that nothing typed is lost with a refusal. */
function wordsOf(body: MoveBody, items: number): string {
  const text = (value: unknown) => (typeof value === 'string' ? value.trim() : '')
  const { strategy, why, reason, surprises, learned, predictionReview, nextChange, name, seconds } =
    body as unknown as Record<string, unknown>
  return [
    typeof seconds === 'number' && body.kind === 'stop' ? `${seconds} s` : '',
    'quality' in body ? predictionText(body, items) : '',
    ...[strategy, why, surprises, learned, predictionReview, reason, nextChange, name].map(text),
  ]
    .filter((part) => part !== '')
    .join(' · ')
}

/** What the server did not take, why, and what to do. */
export function RefusedMoves() {
  const { view, phone, state } = useTable()
  return (
    <>
      {view.refused.map((move) => {
        const words = wordsOf(move.body, state.room.kit.checklist.length)
        return (
          <section key={move.id} class="refused" role="alert">
            <p>
              <strong>Not taken.</strong> {move.message} {move.hint}
            </p>
            {words !== '' && <p class="small">Kept here: {words}</p>}
            <Button
              as="link"
              onClick={() => {
                toMain()
                phone.forget(move)
              }}
            >
              Done with this
            </Button>
          </section>
        )
      })}
    </>
  )
}

/** Text that looks as if it could point at a patient. */
export function CareQuestion({ move }: { move: OutMove }) {
  const { phone, state } = useTable()
  return (
    <Screen
      name={`care ${move.id}`}
      title="Does this point at a patient?"
      controls={
        <>
          <Button as="main" onClick={() => phone.answer(move, 'take-out')}>
            Go back and change it
          </Button>
          <Button onClick={() => phone.answer(move, 'send')}>It points at nobody: go on</Button>
        </>
      }
    >
      <p>{move.message}</p>
      <p>Pawl keeps no patient identifiers. Your local policy comes first.</p>
      <blockquote>{wordsOf(move.body, state.room.kit.checklist.length)}</blockquote>
    </Screen>
  )
}

/** A word from the facilitator. */
export function Nudge() {
  const { phone, table } = useTable()
  const [seen, setSeen] = useDraft(phone, 'nudge', '')
  const { nudge } = table
  // The place is always there, so that a screen reader hears what comes into it.
  return (
    <div role="status">
      {nudge !== null && nudge.text !== '' && nudge.at !== seen && (
        <p class="nudge">
          {nudge.text}{' '}
          <Button
            as="link"
            onClick={() => {
              toMain()
              setSeen(nudge.at)
            }}
          >
            Seen
          </Button>
        </p>
      )}
    </div>
  )
}

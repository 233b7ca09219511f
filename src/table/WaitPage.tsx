import { Button, Screen } from './Screen.tsx'
import { TaskView } from './TaskView.tsx'
import { useTable } from './use-phone.ts'

/** The class has not come to this round yet. */
export function WaitPage({ onAhead }: { onAhead: () => void }) {
  const { where, state, table } = useTable()
  const before = table.rounds.at(-1)
  return (
    <Screen
      name={`wait ${where.number}`}
      title={`Round ${where.number} opens soon`}
      controls={<Button onClick={onAhead}>Plan round {where.number} now</Button>}
    >
      {before?.decision && (
        <p>
          Round {before.number} is done.{' '}
          {before.decision.nextChange !== null &&
            before.decision.nextChange !== '' &&
            `Next you change: ${before.decision.nextChange}`}
        </p>
      )}
      <p>The facilitator opens it for all tables. Meanwhile, this is the task.</p>
      <TaskView kit={state.room.kit} />
    </Screen>
  )
}

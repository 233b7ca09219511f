import { PlotFigure } from './PlotFigure.tsx'
import { Screen } from './Screen.tsx'
import { useTable } from './use-phone.ts'
import { unsentText } from './words.ts'

/** All rounds are over, or the room is closed: what the table did, and thanks. */
export function FinishedPage() {
  const { state, table, view } = useTable()
  const closed = state.room.closedAt !== null
  return (
    <Screen
      name="finished"
      title={closed ? 'Thank you' : 'That was the last round'}
      controls={
        view.unsent > 0 ? (
          <p>{unsentText(view.unsent, view.lasting)}</p>
        ) : (
          closed && <p>You can close this page.</p>
        )
      }
    >
      <p>
        {closed
          ? 'The room is closed. What your table has sent is on its record.'
          : 'Look at the room screen; the facilitator goes on from here.'}
      </p>
      {table.rounds.some(({ lockedAt }) => lockedAt !== null) && (
        <PlotFigure rounds={table.rounds} items={state.room.kit.checklist.length} />
      )}
    </Screen>
  )
}

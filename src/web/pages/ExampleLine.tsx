import { call } from '../lib/api.ts'
import { receiveSession, useCan } from '../lib/session.ts'
import { offerUndo } from '../lib/undo.ts'
import { useAction } from '../lib/use-action.ts'
import { Button } from '../ui/Button.tsx'
import { ErrorNotice } from '../ui/Notice.tsx'

/** Says that the example is invented, and lets the owner remove it. */
export function ExampleLine({ reload }: { reload: () => void }) {
  const mayRemove = useCan('owner')
  const action = useAction()

  const refresh = async () => {
    receiveSession(await call('GET /api/session'))
    reload()
  }
  const remove = () =>
    action.run(async () => {
      await call('DELETE /api/example')
      await refresh()
      offerUndo('The example is removed.', async () => {
        await call('POST /api/example')
        await refresh()
      })
    })

  return (
    <div className="stack tight">
      <div className="row baseline">
        <p className="soft">
          Saltmarsh Vale Hospital is invented: its people, figures and tests are there to look round
          in.
        </p>
        {mayRemove && (
          <Button
            look="quiet"
            busy={action.busy}
            busyText="Removing the example…"
            onClick={() => void remove()}
          >
            Remove the example
          </Button>
        )}
      </div>
      {action.error !== null && <ErrorNotice error={action.error} />}
    </div>
  )
}

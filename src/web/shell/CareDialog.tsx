import { careQuestion } from '../lib/care-question.ts'
import { suspectsIn } from '../lib/care-suspects.ts'
import { useStore } from '../lib/use-store.ts'
import { Button } from '../ui/Button.tsx'
import { Dialog } from '../ui/Dialog.tsx'

/** Asks about text that looks like a patient's identifier, before it is saved. */
export function CareDialog() {
  const question = useStore(careQuestion)
  if (question === null) return null
  const suspects = suspectsIn(question.error, question.body, new Date().getFullYear())
  return (
    <Dialog
      title="Is this about one patient?"
      onClose={() => question.answer(false)}
      actions={
        <>
          <Button look="main" onClick={() => question.answer(false)}>
            Go back and edit
          </Button>
          <Button onClick={() => question.answer(true)}>It is not an identifier, save</Button>
        </>
      }
    >
      <p>
        Pawl keeps no patient identifiers. Part of this text looks like one, so it is not saved yet.
      </p>
      {suspects.length > 0 && (
        <ul>
          {suspects.map((suspect) => (
            <li key={suspect.field + suspect.found}>
              <strong>{suspect.found}</strong>
              {` looks like ${suspect.kind}${suspect.field === '' ? '' : `, in “${suspect.field}”`}.`}
            </li>
          ))}
        </ul>
      )}
      <p>Write about the ward, the week or the number of patients instead.</p>
    </Dialog>
  )
}

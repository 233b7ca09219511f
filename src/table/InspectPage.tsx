import { useEffect } from 'preact/hooks'
import { newId } from './device.ts'
import { currentTrial, lookKey } from './optimistic.ts'
import { Button, Screen } from './Screen.tsx'
import { useDraft, useTable } from './use-phone.ts'

type Mark = 0 | 1 | null
interface Look {
  readonly id: string
  readonly marks: readonly Mark[]
  /** Item it shows; the number of items: all are done. */
  readonly item: number
}
const WORDS = new Map<Mark, string>([
  [1, 'Right'],
  [0, 'Not right'],
  [null, 'Not looked at'],
])

/** The checklist, one item at a time, with thumb-sized answers. */
export function InspectPage({ onBusy }: { onBusy: (look: string | null) => void }) {
  const { phone, state, where, view } = useTable()
  const trial = currentTrial(where.round)
  const key = lookKey(trial, view.seat.seatId)
  const { checklist } = state.room.kit
  const [look, setLook] = useDraft<Look>(phone, `look.${key}`, {
    ...{ id: '', marks: checklist.map(() => null), item: 0 },
  })
  // biome-ignore lint/correctness/useExhaustiveDependencies: once a trial.
  useEffect(() => onBusy(key), [key])
  if (trial === undefined) return null
  const { marks, item } = look
  const total = checklist.length

  const answer = (mark: Mark) =>
    setLook({
      id: look.id || newId(),
      marks: marks.map((was, i) => (i === item ? mark : was)),
      item: item + 1,
    })
  function send() {
    const inspectionId = look.id || newId()
    phone.move({ kind: 'inspect', trialId: trial!.id, inspectionId, marks: [...marks] })
    onBusy(null)
  }

  if (item >= total) {
    const right = marks.filter((mark) => mark === 1).length
    const looked = marks.filter((mark) => mark !== null).length
    return (
      <Screen
        name="inspected"
        title={`${right} of ${looked} right`}
        controls={
          <>
            <Button as="main" disabled={looked === 0} onClick={send}>
              That is the inspection
            </Button>
            <Button onClick={() => setLook({ ...look, item: total - 1 })}>Back</Button>
          </>
        }
      >
        <p>{looked === 0 ? 'Look at one item at least.' : 'Press an item to change it.'}</p>
        <ol class="marks">
          {checklist.map((text, i) => (
            <li key={text}>
              <button type="button" class="row" onClick={() => setLook({ ...look, item: i })}>
                <span>{text}</span>
                <strong>{WORDS.get(marks[i] ?? null)}</strong>
              </button>
            </li>
          ))}
        </ol>
      </Screen>
    )
  }
  return (
    <Screen
      name={`item ${item}`}
      title={checklist[item]!}
      controls={
        <>
          <div class="answers">
            <Button as="huge" pressed={marks[item] === 0} onClick={() => answer(0)}>
              Not right
            </Button>
            <Button as="huge" pressed={marks[item] === 1} onClick={() => answer(1)}>
              Right
            </Button>
          </div>
          <div class="answers">
            <Button disabled={item === 0} onClick={() => setLook({ ...look, item: item - 1 })}>
              Back
            </Button>
            <Button onClick={() => answer(null)}>Not looked at</Button>
          </div>
        </>
      }
    >
      <p>
        Item {item + 1} of {total}
      </p>
      {trial.inspections.length > 0 && (
        <p class="small">Inspect on your own: do not look at the other inspector’s answers.</p>
      )}
    </Screen>
  )
}

import { useEffect, useRef } from 'preact/hooks'
import { findIdentifiers } from '../domain/identifiers.ts'
import type { Expectation, RoundPlan } from '../domain/workshop/moves.ts'
import { LockStep } from './LockStep.tsx'
import { PredictStep } from './PredictStep.tsx'
import { itemsTyped, readItems, readTime, type Typed, timeTyped } from './plan-form.ts'
import { carriedOver } from './round-before.ts'
import { Said } from './Said.tsx'
import { Button, Screen } from './Screen.tsx'
import { StrategyStep } from './StrategyStep.tsx'
import { changesParts } from './step.ts'
import { TaskView } from './TaskView.tsx'
import { useDraft, useTable } from './use-phone.ts'
import { predictionText } from './words.ts'

type Sub = 'task' | 'strategy' | 'time' | 'quality' | 'lock'

/** Strategy, prediction of time, prediction of quality, lock: one after the other. */
export function PlanPage({ watching }: { watching: boolean }) {
  const { phone, state, table, where, take } = useTable()
  const { number, round } = where
  const { kit, settings } = state.room
  const items = kit.checklist.length
  const carried = carriedOver(table, number)
  const known = round ?? null
  const predictions = known?.predictions ?? carried.predictions
  const place = `plan.${number}`
  const [sub, setSub] = useDraft<Sub>(
    phone,
    `${place}.sub`,
    carried.from === null ? 'task' : 'strategy',
  )
  const [strategy, setStrategy] = useDraft(
    phone,
    `${place}.strategy`,
    known?.strategy || carried.strategy,
  )
  const [time, setTime] = useDraft<Typed>(
    phone,
    `${place}.time`,
    timeTyped(predictions?.time ?? null),
  )
  const [quality, setQuality] = useDraft<Typed>(
    phone,
    `${place}.quality`,
    itemsTyped(predictions?.quality ?? null, items),
  )
  const [why, setWhy] = useDraft(phone, `${place}.why`, known?.predictions?.why ?? '')
  const [confidence, setConfidence] = useDraft(
    phone,
    `${place}.confidence`,
    known?.predictions?.confidence ?? 0.8,
  )

  const rangeOf = (read: ReturnType<typeof readTime>): Expectation | null =>
    read.is === 'right' ? read.value : null
  const plan = (): RoundPlan => ({
    strategy: strategy.trim(),
    time: rangeOf(readTime(time, settings.predicts)),
    quality: rangeOf(readItems(quality, settings.predicts, items)),
    ...{ confidence, why: why.trim() },
  })
  const said = useRef('')
  /** The other phones of the table see the plan as it grows. */
  function share() {
    const now = plan()
    const text = JSON.stringify(now)
    // What may point at a patient is asked about at the lock, not in the middle of a word.
    if (text === said.current || findIdentifiers(text, new Date().getFullYear()).length > 0) return
    said.current = text
    phone.move({ kind: 'plan', round: number, ...now })
  }
  // biome-ignore lint/correctness/useExhaustiveDependencies: two seconds after the last key.
  useEffect(() => {
    if (watching || strategy.trim() === '' || strategy.trim() === (known?.strategy ?? '')) return
    const timer = setTimeout(share, 2000)
    return () => clearTimeout(timer)
  }, [strategy, watching])

  const go = (next: Sub) => {
    share()
    setSub(next)
  }

  if (watching)
    return (
      <Screen
        name={`watch plan ${number}`}
        title="The plan is being written"
        controls={<Button onClick={() => take(`plan ${number}`)}>Write it on this phone</Button>}
      >
        {changesParts(state, table, number) && (
          <p>Change parts for this round, under “This phone”.</p>
        )}
        <p>{known?.strategy || 'Nothing written yet. Talk it over together.'}</p>
        {known?.predictions && (
          <p>
            <Said>{predictionText(known.predictions, items)}</Said>
          </p>
        )}
      </Screen>
    )
  switch (sub) {
    case 'task':
      return (
        <Screen
          name={`task ${number}`}
          title="This is the task"
          controls={
            <Button as="main" onClick={() => setSub('strategy')}>
              Next: your strategy
            </Button>
          }
        >
          <TaskView kit={kit} />
        </Screen>
      )
    case 'strategy':
      return (
        <StrategyStep
          carried={carried}
          strategy={strategy}
          onText={setStrategy}
          onNext={() => go('time')}
        />
      )
    case 'time':
      return (
        <PredictStep
          key="time"
          of="time"
          typed={time}
          onTyped={setTime}
          onBack={() => setSub('strategy')}
          onNext={() => go('quality')}
        />
      )
    case 'quality':
      return (
        <PredictStep
          key="quality"
          of="quality"
          typed={quality}
          onTyped={setQuality}
          onBack={() => setSub('time')}
          onNext={() => go('lock')}
        />
      )
    case 'lock':
      return (
        <LockStep
          plan={plan()}
          why={why}
          onWhy={setWhy}
          onConfidence={setConfidence}
          onEdit={setSub}
          onLock={() => {
            phone.move({ kind: 'lock', round: number, ...plan() })
            setSub(null)
          }}
        />
      )
  }
}

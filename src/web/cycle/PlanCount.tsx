import { useEffect, useRef } from 'react'
import type { SignalPlan } from '../../domain/planner.ts'
import { countedText, progressText } from '../../domain/planner-text.ts'
import { Button } from '../ui/Button.tsx'
import type { PlanAnswer } from './use-plan.ts'

export interface PlanCountProps {
  readonly plan: SignalPlan
  readonly answer: PlanAnswer
  readonly name: string
}

/** Which rules the planner's answer counts; while the rest is worked out, how far it is. */
export function PlanCount({ plan, answer, name }: PlanCountProps) {
  const { state, progress } = answer
  const root = useRef<HTMLDivElement>(null)
  const pressed = useRef(false)
  // The button that was pressed gives way to another one, or to none: the focus stays in this place.
  // biome-ignore lint/correctness/useExhaustiveDependencies: only a change of state moves it
  useEffect(() => {
    if (!pressed.current) return
    pressed.current = false
    ;(root.current?.querySelector('button') ?? root.current)?.focus()
  }, [state])
  const press = (action: () => void) => () => {
    pressed.current = true
    action()
  }
  return (
    <div className="planner-count" ref={root} tabIndex={-1}>
      <p className="small" role="status">
        {state === 'failed' ? 'The rest could not be worked out here. ' : ''}
        {state === 'stopped' ? 'Stopped. ' : ''}
        {countedText(plan)}
      </p>
      {state === 'working' && (
        <div className="row">
          {/* Not announced at each step: the sentence above says when it is done. */}
          <span className="small soft planner-progress">
            {progress === null ? 'Counting them…' : progressText(progress)}
          </span>
          <Button look="quiet" onClick={press(answer.stop)}>
            Stop counting<span className="hidden-text"> for {name}</span>
          </Button>
        </div>
      )}
      {(state === 'stopped' || state === 'failed') && (
        <Button look="quiet" onClick={press(answer.goOn)}>
          Count them<span className="hidden-text"> for {name}</span>
        </Button>
      )}
    </div>
  )
}

import { useState } from 'preact/hooks'
import type { RoundPlan } from '../domain/workshop/moves.ts'
import { Said } from './Said.tsx'
import { Button, focusOn, Screen, TextField } from './Screen.tsx'
import { useTable } from './use-phone.ts'
import { predictionText } from './words.ts'

interface LockStepProps {
  readonly plan: RoundPlan
  readonly why: string
  readonly onWhy: (text: string) => void
  readonly onConfidence: (confidence: number) => void
  readonly onEdit: (sub: 'strategy' | 'time' | 'quality') => void
  readonly onLock: () => void
}

const SURE = [0.5, 0.8, 0.95]

/** The last look before the prediction is locked. */
export function LockStep({ plan, why, onWhy, onConfidence, onEdit, onLock }: LockStepProps) {
  const { state, where } = useTable()
  const { kit, settings } = state.room
  const [error, setError] = useState<string>()

  function lock() {
    if (plan.strategy === '') return onEdit('strategy')
    if (plan.time === null) return onEdit('time')
    if (plan.quality === null) return onEdit('quality')
    if (plan.why === '') {
      setError('Say in a few words why you expect this.')
      return focusOn('why')
    }
    onLock()
  }
  return (
    <Screen
      name={`lock ${where.number}`}
      title="Lock your prediction"
      controls={
        <>
          {settings.predicts === 'range' && (
            <fieldset class="scale three">
              <legend>How sure are you of these ranges?</legend>
              {SURE.map((share) => (
                <label key={share}>
                  <input
                    type="radio"
                    name="sure"
                    checked={plan.confidence === share}
                    onChange={() => onConfidence(share)}
                  />
                  <span>{Math.round(share * 100)} %</span>
                </label>
              ))}
            </fieldset>
          )}
          <TextField
            id="why"
            label="Why do you expect this?"
            rows={2}
            value={why}
            error={error}
            onText={(text) => {
              onWhy(text)
              setError(undefined)
            }}
          />
          <Button as="main" onClick={lock}>
            Lock it
          </Button>
          <Button as="link" onClick={() => onEdit('quality')}>
            Back
          </Button>
        </>
      }
    >
      <p class="strategy">{plan.strategy}</p>
      <p>
        <strong>
          <Said>{predictionText(plan, kit.checklist.length)}</Said>
        </strong>
      </p>
      <p class="small">After this nobody can change it. The clock can start then, not before.</p>
    </Screen>
  )
}

import { useState } from 'preact/hooks'
import type { CarriedOver } from './round-before.ts'
import { Said } from './Said.tsx'
import { Button, focusOn, Screen, TextField } from './Screen.tsx'
import { changesParts } from './step.ts'
import { TaskView } from './TaskView.tsx'
import { useTable } from './use-phone.ts'
import { foundText } from './words.ts'

interface StrategyStepProps {
  readonly carried: CarriedOver
  readonly strategy: string
  readonly onText: (text: string) => void
  readonly onNext: () => void
}

export function StrategyStep({ carried, strategy, onText, onNext }: StrategyStepProps) {
  const { state, table, where } = useTable()
  const { kit, settings } = state.room
  const [error, setError] = useState<string>()
  const prompts = settings.prompts.map((index) => kit.prompts[index]).filter((p) => p !== undefined)
  return (
    <Screen
      name={`strategy ${where.number}`}
      title="How will you do it?"
      controls={
        <>
          <TextField
            id="strategy"
            label="Your strategy for this round"
            hint={
              carried.from === null
                ? undefined
                : carried.nextChange === ''
                  ? 'From the round before. Change what you will do differently.'
                  : 'Carried over, with your next change at the end. Edit it freely.'
            }
            rows={4}
            value={strategy}
            error={error}
            onText={(text) => {
              onText(text)
              setError(undefined)
            }}
          />
          <Button
            as="main"
            onClick={() => {
              if (strategy.trim() !== '') return onNext()
              setError('Write in a few words what you will do.')
              focusOn('strategy')
            }}
          >
            Next: predict the time
          </Button>
        </>
      }
    >
      {carried.from !== null && (
        <p>
          Round {carried.from.number}:{' '}
          <Said>{foundText(carried.from, kit.checklist.length).join(' ')}</Said>
        </p>
      )}
      {changesParts(state, table, where.number) && (
        <p>Change parts for this round, under “This phone”.</p>
      )}
      <TaskView kit={kit} open={false} />
      {prompts.length > 0 && (
        <>
          <h2>Ask yourselves</h2>
          <ul>
            {prompts.map((prompt) => (
              <li key={prompt}>{prompt}</li>
            ))}
          </ul>
        </>
      )}
    </Screen>
  )
}

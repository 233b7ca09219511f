import { useState } from 'preact/hooks'
import { Button, Screen } from './Screen.tsx'
import { useTable } from './use-phone.ts'

const STEPS = Array.from({ length: 11 }, (_, value) => value)

/** The question before the first round, and again after the last. */
export function ConfidencePage({ when, onSkip }: { when: 'before' | 'after'; onSkip: () => void }) {
  const { phone } = useTable()
  const [value, setValue] = useState<number | null>(null)
  return (
    <Screen
      name={`confidence ${when}`}
      title="How confident are you?"
      controls={
        <>
          <fieldset class="scale">
            <legend>0 not at all, 10 completely</legend>
            {STEPS.map((step) => (
              <label key={step}>
                <input
                  type="radio"
                  name="confidence"
                  checked={value === step}
                  onChange={() => setValue(step)}
                />
                <span>{step}</span>
              </label>
            ))}
          </fieldset>
          <Button
            as="main"
            disabled={value === null}
            onClick={() => value !== null && phone.move({ kind: 'confidence', when, value })}
          >
            Answer
          </Button>
          <Button as="link" onClick={onSkip}>
            Rather not
          </Button>
        </>
      }
    >
      <p>
        {when === 'before' ? 'Before we begin' : 'Now that the rounds are over'}: how confident are
        you that you can plan and run a small test of change where you work?
      </p>
      <p class="small">Only the class as a whole is shown.</p>
    </Screen>
  )
}

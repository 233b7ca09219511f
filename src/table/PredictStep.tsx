import { useState } from 'preact/hooks'
import { formatDuration } from '../domain/duration.ts'
import { type Part, readItems, readTime, type Typed } from './plan-form.ts'
import { Button, FieldError, focusOn, Screen } from './Screen.tsx'
import { useTable } from './use-phone.ts'

interface PredictStepProps {
  readonly of: 'time' | 'quality'
  readonly typed: Typed
  readonly onTyped: (typed: Typed) => void
  readonly onBack: () => void
  readonly onNext: () => void
}

const LABELS: Readonly<Record<Part, string>> = {
  low: 'At least',
  expected: 'Most likely',
  high: 'At most',
}
type Unclear = { readonly part: Part; readonly seconds: number; readonly perhaps: number }

/** The prediction of one measure: a range with what is most likely, or one number. */
export function PredictStep({ of, typed, onTyped, onBack, onNext }: PredictStepProps) {
  const { state, where } = useTable()
  const { settings, kit } = state.room
  const items = kit.checklist.length
  const [wrong, setWrong] = useState<{ part: Part; message: string } | null>(null)
  const [unclear, setUnclear] = useState<Unclear | null>(null)
  const parts: Part[] = settings.predicts === 'single' ? ['expected'] : ['low', 'expected', 'high']

  function next(now: Typed = typed) {
    const read =
      of === 'time' ? readTime(now, settings.predicts) : readItems(now, settings.predicts, items)
    setWrong(read.is === 'wrong' ? read : null)
    setUnclear(read.is === 'unclear' ? read : null)
    if (read.is === 'right') onNext()
    else if (read.is === 'wrong') focusOn(`${of}-${read.part}`)
  }
  function settle(part: Part, seconds: number) {
    const now = { ...typed, [part]: formatDuration(seconds) }
    onTyped(now)
    next(now)
  }

  if (unclear !== null)
    return (
      <Screen
        name={`unclear ${unclear.part}`}
        title={`What is ${typed[unclear.part].trim()}?`}
        controls={
          <>
            {[unclear.perhaps, unclear.seconds].map((seconds) => (
              <Button key={seconds} as="main" onClick={() => settle(unclear.part, seconds)}>
                {formatDuration(seconds)}, that is {seconds} seconds
              </Button>
            ))}
            <Button as="link" onClick={() => setUnclear(null)}>
              Neither
            </Button>
          </>
        }
      >
        <p>It may be a stopwatch read without its colon, or seconds.</p>
      </Screen>
    )
  return (
    <Screen
      name={`${of} ${where.number}`}
      title={of === 'time' ? 'How long will it take?' : 'How many items will be right?'}
      controls={
        <>
          <div class="fields">
            {parts.map((part) => (
              <div key={part} class="field">
                <label for={`${of}-${part}`}>{LABELS[part]}</label>
                <input
                  id={`${of}-${part}`}
                  value={typed[part]}
                  inputMode={of === 'time' ? 'text' : 'numeric'}
                  autocomplete="off"
                  enterkeyhint="next"
                  aria-invalid={wrong?.part === part}
                  aria-describedby={
                    wrong?.part === part
                      ? `${of}-error`
                      : part === parts[0]
                        ? `${of}-hint`
                        : undefined
                  }
                  onInput={(event) => onTyped({ ...typed, [part]: event.currentTarget.value })}
                />
              </div>
            ))}
          </div>
          <FieldError id={of} error={wrong?.message} />
          <Button as="main" onClick={() => next()}>
            {of === 'time' ? 'Next: predict quality' : 'Next: lock it'}
          </Button>
          <Button as="link" onClick={onBack}>
            Back
          </Button>
        </>
      }
    >
      <p id={`${of}-hint`}>
        {of === 'time'
          ? 'Minutes and seconds such as 1:02, or seconds such as 62 s.'
          : `Of the ${items} items on the checklist.`}
      </p>
      {settings.predicts === 'range' && (
        <p>Say a range that you would be surprised to miss, and what is most likely.</p>
      )}
    </Screen>
  )
}

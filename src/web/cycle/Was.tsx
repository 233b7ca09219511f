import { Button } from '../ui/Button.tsx'

export interface WasProps {
  /** Number of the test before. */
  readonly number: number
  readonly text: string
  /** Takes the old value back; left out where the plan is only read. */
  readonly onPutBack?: (() => void) | undefined
  readonly what: string
}

/** What a field held in the test before, where this one differs. */
export function Was({ number, text, onPutBack, what }: WasProps) {
  return (
    <div className="was">
      <p>
        <b>Was in test {number}:</b> {text}
      </p>
      {onPutBack !== undefined && (
        <Button look="quiet" className="small" onClick={onPutBack}>
          Put it back<span className="hidden-text"> ({what})</span>
        </Button>
      )}
    </div>
  )
}

import { useState } from 'preact/hooks'
import type { DecisionKind } from '../domain/record.ts'
import { currentTrial, lookKey } from './optimistic.ts'
import { PlotFigure } from './PlotFigure.tsx'
import { Found } from './Said.tsx'
import { Button, FieldError, focusOn, Screen, TextField } from './Screen.tsx'
import type { Step } from './step.ts'
import { useDraft, useTable } from './use-phone.ts'
import { VoidForm } from './VoidForm.tsx'

type Sub = 'look' | 'words' | 'decide'
interface Words {
  readonly surprises: string
  readonly learned: string
  readonly predictionReview: string
  readonly reason: string
  readonly nextChange: string
  readonly kind: DecisionKind | null
}
const NONE: Words = {
  ...{ surprises: '', learned: '', predictionReview: '', reason: '', nextChange: '', kind: null },
}
const CHOICES: readonly { kind: DecisionKind; label: string; means: string }[] = [
  { kind: 'adopt', label: 'Adopt', means: 'do it this way from now on' },
  { kind: 'adapt', label: 'Adapt', means: 'keep it, with a change' },
  { kind: 'abandon', label: 'Abandon', means: 'drop it, try something else' },
]
const TITLES: Partial<Record<Step, string>> = {
  'watch-inspect': 'The inspection runs',
  'watch-debrief': 'Talk it over',
}

interface DebriefPageProps {
  readonly watching: Step
  readonly onInspect: (look: string) => void
}

/** The plot, the debrief in words, and the decision. */
export function DebriefPage({ watching, onInspect }: DebriefPageProps) {
  const { phone, state, table, where, take, view } = useTable()
  const { number, round } = where
  const items = state.room.kit.checklist.length
  const [sub, setSub] = useDraft<Sub>(phone, `debrief.${number}.sub`, 'look')
  const [words, setWords] = useDraft<Words>(phone, `debrief.${number}`, NONE)
  const [wrong, setWrong] = useState<{ at: string; message: string } | null>(null)
  const [voiding, setVoiding] = useState(false)
  const trial = currentTrial(round)
  const set = (part: Partial<Words>) => {
    setWords({ ...words, ...part })
    setWrong(null)
  }
  const errorAt = (at: string) => (wrong?.at === at ? wrong.message : undefined)
  /** The first thing that is missing gets the focus. */
  function missing(needs: readonly [at: string, value: unknown, message: string][]): boolean {
    const first = needs.find(([, value]) => value === null || value === '')
    if (first === undefined) return false
    setWrong({ at: first[0], message: first[2] })
    focusOn(first[0])
    return true
  }
  if (voiding && trial !== undefined)
    return <VoidForm trial={trial} onDone={() => setVoiding(false)} />

  if (watching !== 'debrief' || sub === 'look') {
    const looked = trial?.inspections.some(({ seatId }) => seatId === view.seat.seatId)
    return (
      <Screen
        name={`look ${number} ${watching}`}
        title={TITLES[watching] ?? 'What happened?'}
        controls={
          <>
            {watching === 'debrief' ? (
              <Button as="main" onClick={() => setSub('words')}>
                Next: talk it over
              </Button>
            ) : (
              <Button
                onClick={() =>
                  take(`${watching === 'watch-inspect' ? 'inspect' : 'debrief'} ${number}`)
                }
              >
                {watching === 'watch-inspect' ? 'Inspect on this phone' : 'Write on this phone'}
              </Button>
            )}
            {!looked && trial !== undefined && watching !== 'watch-inspect' && (
              <Button onClick={() => onInspect(lookKey(trial, view.seat.seatId))}>
                Inspect it a second time
              </Button>
            )}
            <Button as="link" onClick={() => setVoiding(true)}>
              Void this trial
            </Button>
          </>
        }
      >
        {round !== undefined && <Found round={round} items={items} />}
        {round?.trials.filter(({ voidReason }) => voidReason === null)[1] && (
          <p>This round has two trials; this is the last. Void it if it was not the test.</p>
        )}
        {watching !== 'watch-inspect' && <PlotFigure rounds={table.rounds} items={items} />}
      </Screen>
    )
  }
  if (sub === 'words')
    return (
      <Screen
        name={`words ${number}`}
        title="Talk it over"
        controls={
          <>
            <TextField
              id="surprises"
              label="What surprised you?"
              hint="Leave it blank if nothing did."
              rows={2}
              value={words.surprises}
              onText={(surprises) => set({ surprises })}
            />
            <TextField
              id="predictionReview"
              label="Was the prediction right? Why, or why not?"
              rows={2}
              value={words.predictionReview}
              error={errorAt('predictionReview')}
              onText={(predictionReview) => set({ predictionReview })}
            />
            <TextField
              id="learned"
              label="What did you learn?"
              rows={2}
              value={words.learned}
              error={errorAt('learned')}
              onText={(learned) => set({ learned })}
            />
            <Button
              as="main"
              onClick={() => {
                const need = 'Write a few words; "we cannot tell yet" is a finding too.'
                const { predictionReview, learned } = words
                if (
                  !missing([
                    ['predictionReview', predictionReview.trim(), need],
                    ['learned', learned.trim(), need],
                  ])
                )
                  setSub('decide')
              }}
            >
              Next: decide
            </Button>
            <Button as="link" onClick={() => setSub('look')}>
              Back
            </Button>
          </>
        }
      >
        {round !== undefined && <Found round={round} items={items} />}
      </Screen>
    )

  function decide() {
    const { kind, reason, nextChange } = words
    if (
      missing([
        ['kind', kind, 'Choose one of the three.'],
        ['reason', reason.trim(), 'A decision needs a reason.'],
        [
          'nextChange',
          kind === 'adapt' ? nextChange.trim() : 'none',
          'Say what you change in the next round.',
        ],
      ])
    )
      return
    phone.move({
      ...{ kind: 'decide', round: number, decision: kind!, reason: reason.trim() },
      surprises: words.surprises.trim(),
      learned: words.learned.trim(),
      predictionReview: words.predictionReview.trim(),
      nextChange: kind === 'adapt' ? nextChange.trim() : '',
    })
  }
  return (
    <Screen
      name={`decide ${number}`}
      title="What do you do with it?"
      controls={
        <>
          <fieldset class="choices" id="kind" tabIndex={-1} aria-describedby="kind-error">
            <legend class="hidden">Decision</legend>
            {CHOICES.map(({ kind, label, means }) => (
              <label key={kind} class="choice">
                <input
                  type="radio"
                  name="kind"
                  checked={words.kind === kind}
                  onChange={() => set({ kind })}
                />
                <span>
                  {label} <small>{means}</small>
                </span>
              </label>
            ))}
          </fieldset>
          <FieldError id="kind" error={errorAt('kind')} />
          <TextField
            id="reason"
            label="Because"
            rows={2}
            value={words.reason}
            error={errorAt('reason')}
            onText={(reason) => set({ reason })}
          />
          {words.kind === 'adapt' && (
            <TextField
              id="nextChange"
              label="What will you change next?"
              rows={2}
              value={words.nextChange}
              error={errorAt('nextChange')}
              onText={(nextChange) => set({ nextChange })}
            />
          )}
          <Button as="main" onClick={decide}>
            Decide
          </Button>
          <Button as="link" onClick={() => setSub('words')}>
            Back
          </Button>
        </>
      }
    />
  )
}

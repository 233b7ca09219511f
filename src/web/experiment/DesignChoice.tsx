import { useMemo } from 'react'
import type { ExperimentReply } from '../../api/experiment-contract.ts'
import { inOrder, runsNeeded } from '../../domain/experiment.ts'
import { designsFor, LEAST_FACTORS } from '../../domain/experiment-design.ts'
import { designOptions } from '../../domain/experiment-design-text.ts'
import type { Experiment } from '../../domain/experiment-record.ts'
import { responseStyle } from '../../domain/experiment-words.ts'
import type { Editing } from '../lib/use-record-editor.ts'
import { ValueField } from '../measure/ValueField.tsx'
import { RadioCards } from '../ui/RadioCards.tsx'
import { Select } from '../ui/Select.tsx'

export interface DesignChoiceProps {
  readonly data: ExperimentReply
  readonly editing: Editing<Experiment>
  readonly error: (field: string) => string | null
  readonly onUnread: (unread: boolean) => void
}

const REPEATS = ['1', '2', '3', '4'] as const
const MIDDLE = ['0', '1', '2', '3', '4', '5', '6'] as const
const TIMES: Readonly<Record<(typeof REPEATS)[number], string>> = {
  1: 'once',
  2: 'twice',
  3: 'three times',
  4: 'four times',
}

/** Which combinations are run and how often, with what each choice can tell, in words. */
export function DesignChoice({ data, editing, error, onUnread }: DesignChoiceProps) {
  const { values, set, flush } = editing
  const factors = useMemo(() => inOrder(data.factors), [data.factors])
  const { replicates, centerPoints, guessedSd, responseKind, unitLabel } = values
  const options = useMemo(
    () => designOptions({ replicates, centerPoints, guessedSd, responseKind, unitLabel }, factors),
    [replicates, centerPoints, guessedSd, responseKind, unitLabel, factors],
  )
  const chosen = options.find((o) => o.generators === values.generators)
  const runs = runsNeeded(values, factors.length)
  return (
    <div className="plan-group" data-field="generators">
      <h3>Design</h3>
      <div className="design-numbers">
        <Select
          label="Run each combination"
          hint="Repeats show how much chance alone does"
          value={String(replicates) as (typeof REPEATS)[number]}
          onChange={(value) => set('replicates', Number(value))}
          onBlur={() => void flush()}
          options={REPEATS.map((value) => ({ value, label: TIMES[value] }))}
        />
        <Select
          label="Middle runs"
          hint="Only where a half-way exists; they show a bend"
          value={String(centerPoints) as (typeof MIDDLE)[number]}
          onChange={(value) => set('centerPoints', Number(value))}
          onBlur={() => void flush()}
          options={MIDDLE.map((value) => ({ value, label: value === '0' ? 'none' : value }))}
        />
        <ValueField
          key={responseKind}
          measure={responseStyle(responseKind)}
          label="Guess: how far runs differ"
          hint="By chance alone, as a standard deviation; about a quarter of the usual range"
          optional
          value={guessedSd}
          onChange={(value) => set('guessedSd', value !== null && value > 0 ? value : null)}
          onBlur={() => void flush()}
          draftKey={`experiment:${values.id}:guess-text`}
          onUnread={onUnread}
        />
      </div>
      {factors.length < LEAST_FACTORS ? (
        <p className="soft">The designs appear once two changes are named.</p>
      ) : (
        <RadioCards
          legend="Which combinations"
          value={chosen?.generators ?? null}
          onChange={(value) => set('generators', value)}
          error={error('generators')}
          choices={options.map((option) => ({
            value: option.generators,
            label: `${option.headline}: ${option.runs} runs`,
            hint: (
              <>
                {option.tells}
                {option.visibleText !== null && ` ${option.visibleText}`}
              </>
            ),
          }))}
        />
      )}
      <p role="status" className="design-said">
        {runs !== null && designsFor(factors.length).length > 0 && `This plan takes ${runs} runs.`}
        {guessedSd !== null && ' The size that stands out rests on your guess.'}
      </p>
      {chosen !== undefined && chosen.mixes.length > 0 && (
        <details>
          <summary>What this design cannot tell apart</summary>
          <p className="small soft">
            In each line, what stands on both sides of a sign shows as one effect.
          </p>
          <ul>
            {chosen.mixes.map((mix) => (
              <li key={mix}>{mix}</li>
            ))}
          </ul>
        </details>
      )}
    </div>
  )
}

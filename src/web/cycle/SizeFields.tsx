import type { ReactNode } from 'react'
import { suggestedSize } from '../../domain/planner-size.ts'
import type { Belief, Cycle, FailureCost, Plan, Readiness } from '../../domain/record.ts'
import type { Editing } from '../lib/use-record-editor.ts'
import { RadioCards } from '../ui/RadioCards.tsx'
import { BELIEF_WORDS, COST_WORDS, READINESS_WORDS } from './words.ts'

export interface SizeFieldsProps {
  readonly values: Cycle
  readonly set: Editing<Cycle>['set']
  readonly was: (field: keyof Plan) => ReactNode
}

const choices = <V extends string>(words: Readonly<Record<V, string>>) =>
  (Object.keys(words) as V[]).map((value) => ({ value, label: words[value] }))

/** Three answers that suggest how large the test should be. None of them is needed for the lock. */
export function SizeFields({ values, set, was }: SizeFieldsProps) {
  const suggestion = suggestedSize(values)
  return (
    <div className="plan-group size" id="size">
      <h3>How large should the test be?</h3>
      <p className="soft">Three answers suggest a size. They are optional; the team decides.</p>
      <div className="plan-cell" data-field="belief">
        <RadioCards<Belief>
          legend="How sure are you that the change works here?"
          across
          value={values.belief}
          choices={choices(BELIEF_WORDS)}
          onChange={(value) => set('belief', value)}
        />
        {was('belief')}
      </div>
      <div className="plan-cell" data-field="failureCost">
        <RadioCards<FailureCost>
          legend="If the test fails, what would it cost, in harm, money or goodwill?"
          across
          value={values.failureCost}
          choices={choices(COST_WORDS)}
          onChange={(value) => set('failureCost', value)}
        />
        {was('failureCost')}
      </div>
      <div className="plan-cell" data-field="readiness">
        <RadioCards<Readiness>
          legend="How ready are the people affected?"
          across
          value={values.readiness}
          choices={choices(READINESS_WORDS)}
          onChange={(value) => set('readiness', value)}
        />
        {was('readiness')}
      </div>
      <div className="size-said" role="status">
        {suggestion === null ? (
          <p className="soft">The suggestion appears once all three are answered.</p>
        ) : (
          <>
            <p>
              <strong>{suggestion.headline}</strong> {suggestion.reason}
            </p>
            <p className="small soft">
              After Langley and colleagues, The Improvement Guide (2009), table 7.1, written down
              from memory. Local policy and the stop rule come before it.
            </p>
          </>
        )}
      </div>
    </div>
  )
}

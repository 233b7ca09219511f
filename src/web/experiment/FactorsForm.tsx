import { useState } from 'react'
import type { ExperimentReply } from '../../api/experiment-contract.ts'
import { MOST_FACTORS } from '../../domain/experiment-design.ts'
import type { ExperimentFactor } from '../../domain/experiment-record.ts'
import { useSaveBoard } from '../cycle/save-board.ts'
import { call } from '../lib/api.ts'
import { newId } from '../lib/ids.ts'
import { offerUndo } from '../lib/undo.ts'
import { useAction } from '../lib/use-action.ts'
import { Button } from '../ui/Button.tsx'
import { ErrorNotice } from '../ui/Notice.tsx'
import { dropFactor, putFactor } from './experiment-query.ts'
import { FactorCard } from './FactorCard.tsx'

export interface FactorsFormProps {
  readonly data: ExperimentReply
  readonly error: (field: string) => string | null
}

const EMPTY = { name: '', low: '', high: '', middle: '', expected: null, why: '' }

/** The changes that are varied, each with two ways and a prediction. */
export function FactorsForm({ data, error }: FactorsFormProps) {
  const { experiment, factors } = data
  const board = useSaveBoard()
  const action = useAction()
  const [added, setAdded] = useState<string | null>(null)

  const put = async (id: string, fields: typeof EMPTY | ExperimentFactor) => {
    const { name, low, high, middle, expected, why } = fields
    const saved = await call('PUT /api/experiments/:id/factors/:factorId', {
      params: { id: experiment.id, factorId: id },
      body: { name, low, high, middle, expected, why, version: null },
    })
    putFactor(saved)
  }
  const add = () =>
    action.run(async () => {
      const id = newId()
      await put(id, EMPTY)
      setAdded(id)
    })
  const remove = (factor: ExperimentFactor) =>
    action.run(async () => {
      // What was typed last belongs to what can be taken back.
      await board.flushAll()
      await call('DELETE /api/experiments/:id/factors/:factorId', {
        params: { id: experiment.id, factorId: factor.id },
        body: { version: factor.version },
      })
      dropFactor(factor)
      offerUndo(`${factor.name.trim() || 'The change'} is out of the plan.`, () =>
        put(factor.id, factor),
      )
    })
  const missing = error('factors')

  return (
    <div className="plan-group" data-field="factors" data-focus-home="button">
      <h3>Changes and predictions</h3>
      <p className="soft">
        Each change has two ways. Take ways that differ as much as is sensible: small differences
        drown in chance. The predictions are locked before the first run.
      </p>
      {factors.map((factor, index) => (
        <FactorCard
          key={factor.id}
          experiment={experiment}
          factor={factor}
          index={index}
          error={error}
          takeFocus={added === factor.id}
          onRemove={() => void remove(factor)}
        />
      ))}
      {missing !== null && <p className="field-error">{missing}</p>}
      {action.error !== null && <ErrorNotice error={action.error} />}
      <div className="row">
        {factors.length < MOST_FACTORS ? (
          <Button busy={action.busy} busyText="Saving…" onClick={() => void add()}>
            {factors.length === 0 ? 'Add a change' : 'Add another change'}
          </Button>
        ) : (
          <p className="small soft">Seven changes are the most one plan takes.</p>
        )}
      </div>
    </div>
  )
}

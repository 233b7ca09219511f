import { useState } from 'react'
import { Link } from 'wouter'
import type { CycleBrief, CycleReply } from '../../api/contract.ts'
import { predictionDifferences } from '../../domain/carry-over.ts'
import type { Id, Prediction } from '../../domain/record.ts'
import { call } from '../lib/api.ts'
import { newId } from '../lib/ids.ts'
import { offerUndo } from '../lib/undo.ts'
import { useAction } from '../lib/use-action.ts'
import { Button } from '../ui/Button.tsx'
import { ErrorNotice } from '../ui/Notice.tsx'
import { dropPrediction, putPrediction } from './cycle-query.ts'
import { PredictionCard } from './PredictionCard.tsx'

export interface PredictionsFormProps {
  readonly data: CycleReply
  readonly before: CycleBrief | null
  readonly error: (field: string) => string | null
}

/** Says how often the range is meant to hold, unless the team says otherwise (METHODS 1). */
const USUAL_CONFIDENCE = 0.8

/** What the team expects of each measure, before anything is known. */
export function PredictionsForm({ data, before, error }: PredictionsFormProps) {
  const { cycle, predictions, measures } = data
  const action = useAction()
  const [made, setMade] = useState<Id | null>(null)
  const predicted = measures.filter((m) => predictions.some((p) => p.measureId === m.measure.id))
  const others = measures.filter((m) => !predicted.includes(m))
  const differences = predictionDifferences(before?.predictions ?? [], predictions)

  const put = async (fields: Omit<Prediction, 'id' | 'cycleId' | 'version'>) => {
    const id = newId()
    const prediction = await call('PUT /api/cycles/:id/predictions/:predictionId', {
      params: { id: cycle.id, predictionId: id },
      body: { ...fields, version: null },
    })
    putPrediction(prediction)
    setMade(id)
  }
  const add = (measureId: Id) =>
    action.run(() =>
      put({
        measureId,
        expected: null,
        low: null,
        high: null,
        confidence: USUAL_CONFIDENCE,
        why: '',
      }),
    )
  const remove = (prediction: Prediction, name: string) =>
    action.run(async () => {
      await call('DELETE /api/cycles/:id/predictions/:predictionId', {
        params: { id: cycle.id, predictionId: prediction.id },
        body: { version: prediction.version },
      })
      dropPrediction(prediction)
      const { id: _, cycleId: __, version: ___, ...fields } = prediction
      offerUndo(`The prediction for ${name} was removed.`, () => put(fields))
    })

  return (
    <div className="plan-group predictions" data-field="predictions">
      <h3>Predictions</h3>
      <p className="soft">
        What do you expect, and why? The range says how sure you are. It is locked before the test
        starts, so that it cannot be remembered differently later.
      </p>
      {error('predictions') !== null && <p className="field-error">{error('predictions')}</p>}
      {predicted.map((m) => {
        const prediction = predictions.find((p) => p.measureId === m.measure.id)!
        const difference = differences.find((d) => d.measureId === m.measure.id)
        return (
          <PredictionCard
            key={prediction.id}
            data={data}
            measureData={m}
            prediction={prediction}
            before={before}
            was={difference?.was ?? null}
            error={error}
            takeFocus={made === prediction.id}
            onRemove={() => void remove(prediction, m.measure.name)}
          />
        )
      })}
      {others.length > 0 && (
        <div className="row">
          {others.map(({ measure }) => (
            <Button key={measure.id} onClick={() => void add(measure.id)}>
              Predict {measure.name}
            </Button>
          ))}
        </div>
      )}
      {measures.length === 0 && (
        <p>
          The project has no measure yet, and a prediction needs one.{' '}
          <Link href={`/projects/${data.project.id}/new-measure`}>Make a measure</Link>
        </p>
      )}
      {action.error !== null && <ErrorNotice error={action.error} />}
    </div>
  )
}

import type { RoundPredictions, RoundState, TableState } from '../domain/workshop/room-state.ts'

/** What a round takes over from the one before: the plan, with the next change added where it adapts. */
export interface CarriedOver {
  readonly from: RoundState | null
  readonly strategy: string
  readonly nextChange: string
  /** As a starting point; the reason is given afresh. */
  readonly predictions: RoundPredictions | null
}

export function carriedOver(table: TableState, number: number): CarriedOver {
  const from = table.rounds.find((round) => round.number === number - 1) ?? null
  const nextChange = from?.decision?.kind === 'adapt' ? (from.decision.nextChange ?? '') : ''
  const strategy = [from?.strategy ?? '', nextChange].filter((part) => part !== '').join('\n\n')
  const predictions = from?.predictions ? { ...from.predictions, why: '' } : null
  return { from, strategy, nextChange, predictions }
}

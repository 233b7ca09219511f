import type { ScoreStep } from '../kit.ts'

/**
 * A quality score of three steps whose top step means every item in place. Common practice.
 *
 * @param items Items on the checklist, 6 or more.
 * @returns Steps for every item right, one or two not right, and three or more not right.
 *
 * @example
 * threeSteps(8).map((step) => step.atLeast) // => [1, 0.75, 0]
 */
export function threeSteps(items: number): ScoreStep[] {
  return [
    { atLeast: 1, score: 3, label: 'Every item right' },
    { atLeast: (items - 2) / items, score: 2, label: 'One or two items not right' },
    { atLeast: 0, score: 1, label: 'Three or more items not right' },
  ]
}

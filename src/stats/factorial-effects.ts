import { AppError } from '../errors.ts'
import { effectColumn, type FactorialDesign } from './factorial-design.ts'
import { requireNumber } from './special/check.ts'
import { fTails } from './special/f-distribution.ts'
import { studentTTails } from './special/student-t.ts'

/** One estimated effect. */
export interface FactorialEffect {
  /** Its letters; for a fraction, the simplest of its alias set. */
  readonly effect: string
  readonly aliases: readonly string[]
  /** Mean at high minus mean at low. */
  readonly estimate: number
  readonly sumOfSquares: number
  /** Against the error of replicates or centre points; `null` without them. */
  readonly t: number | null
  readonly p: number | null
}

/** The effects of a two-level design. */
export interface FactorialEffects {
  readonly mean: number
  readonly effects: readonly FactorialEffect[]
  /** Mean square of replicated runs and centre points; `null` without any. */
  readonly errorMeanSquare: number | null
  readonly errorDf: number
  /** Standard error of an effect; `null` without replicates. */
  readonly standardError: number | null
  /** Centre points against the corners; `null` without centre points, `f` and `p` without an error. */
  readonly curvature: {
    readonly difference: number
    readonly sumOfSquares: number
    readonly f: number | null
    readonly p: number | null
  } | null
}

/**
 * Effects of a two-level factorial design, with an error from replicates or centre points where there are any.
 *
 * `effect = mean(y at +) − mean(y at −)`; `SS = N effect² / 4` for N responses.
 *
 * @param design    From `factorialDesign`.
 * @param responses One list for each run in the standard order of the design, of equal length (the
 *                  replicates), or one number for each run.
 * @param center    Responses at the centre points, if any.
 * @throws AppError `stats.length_mismatch`, `stats.not_finite`.
 *
 * @see Montgomery (2013), Design and Analysis of Experiments, 8th ed., sections 6.2, 6.5 and 6.8.
 *
 * @example
 * factorialEffects(factorialDesign(2), [1, 3, 1, 3]).effects[0].estimate // => 2
 */
export function factorialEffects(
  design: FactorialDesign,
  responses: readonly (number | readonly number[])[],
  center: readonly number[] = [],
): FactorialEffects {
  const cells = responses.map((r) => (typeof r === 'number' ? [r] : r))
  const replicates = cells[0]?.length ?? 0
  const runs = design.runs.length
  const odd = cells.findIndex((cell) => cell.length !== replicates || cell.length === 0)
  if (cells.length !== runs || odd !== -1) {
    throw new AppError(
      'stats.length_mismatch',
      cells.length !== runs
        ? `The design has ${runs} runs but ${cells.length} responses are given.`
        : `Run ${odd + 1} has ${cells[odd]!.length} responses, run 1 has ${replicates}.`,
      'Give every run the same number of responses, in the standard order of the design.',
      { runs, given: cells.length, index: odd },
    )
  }
  let errorSquares = 0
  const means = cells.map((cell, i) => {
    for (const y of cell) requireNumber('The responses', y, 'finite', i)
    const mean = cell.reduce((a, b) => a + b, 0) / replicates
    for (const y of cell) errorSquares += (y - mean) ** 2
    return mean
  })
  center.forEach((y, i) => {
    requireNumber('The centre points', y, 'finite', i)
  })
  const centerMean = center.reduce((a, b) => a + b, 0) / Math.max(1, center.length)
  for (const y of center) errorSquares += (y - centerMean) ** 2
  const errorDf = runs * (replicates - 1) + Math.max(0, center.length - 1)
  const errorMeanSquare = errorDf === 0 ? null : errorSquares / errorDf
  const total = runs * replicates
  const standardError = errorMeanSquare === null ? null : Math.sqrt((4 * errorMeanSquare) / total)
  const mean = means.reduce((a, b) => a + b, 0) / runs

  const effects = design.aliasSets.map(({ effect, aliases }): FactorialEffect => {
    const column = effectColumn(design, effect)
    const estimate = (2 * column.reduce((sum, sign, i) => sum + sign * means[i]!, 0)) / runs
    const t = standardError === null || standardError === 0 ? null : estimate / standardError
    return {
      effect,
      aliases,
      estimate,
      sumOfSquares: (total * estimate * estimate) / 4,
      t,
      p: t === null ? null : 2 * studentTTails(-Math.abs(t), errorDf).lower,
    }
  })

  const difference = mean - centerMean
  const sumOfSquares = ((total * center.length) / (total + center.length)) * difference ** 2
  const f =
    errorMeanSquare === null || errorMeanSquare === 0 ? null : sumOfSquares / errorMeanSquare
  const curvature =
    center.length === 0
      ? null
      : { difference, sumOfSquares, f, p: f === null ? null : fTails(f, 1, errorDf).upper }
  return { mean, effects, errorMeanSquare, errorDf, standardError, curvature }
}

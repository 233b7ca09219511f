import { AppError } from '../errors.ts'
import { isBefore, isThrough, type LabelOrder } from './labels.ts'
import type { PhaseStart } from './types.ts'

/** A phase as positions in the series. */
export interface PhaseSpan {
  /** Its first point. */
  readonly start: number
  /** One past its last point. */
  readonly end: number
  /** One past the last point that centre and limits are computed from. */
  readonly baseEnd: number
  readonly frozenThrough: string | null
  readonly reason: string | null
}

/** What `phaseSpans` finds. */
export interface PhaseSplit {
  readonly spans: readonly PhaseSpan[]
  /** Phase starts that no point has reached yet; they have no span. */
  readonly ahead: readonly string[]
}

/**
 * Divide a series into phases.
 *
 * A phase runs from the first point at or after its start to the point before the next phase. The
 * points before the first start, if any, are a phase of their own.
 *
 * @param at     Labels, checked and in order; length >= 1.
 * @param starts Phase starts in order of time; may be empty.
 * @param order  How the labels are ordered.
 * @returns The phases in order, none of them empty, and the starts still ahead of the data.
 * @throws AppError `stats.phases_unsorted`, `stats.bad_phase`.
 *
 * @example
 * phaseSpans(['1', '2', '3'], [{ at: '2' }], 'number').spans.map((s) => [s.start, s.end]) // => [[0, 1], [1, 3]]
 */
export function phaseSpans(
  at: readonly string[],
  starts: readonly PhaseStart[],
  order: LabelOrder,
): PhaseSplit {
  for (let k = 0; k < starts.length; k++) {
    const start = starts[k]!
    if (order === 'number' && !Number.isFinite(Number(start.at))) {
      throw new AppError(
        'stats.bad_phase',
        `The phase starts at ${start.at}, but the points have row numbers.`,
        'Give the row number at which the phase starts.',
        { index: k, at: start.at },
      )
    }
    if (k > 0 && !isBefore(starts[k - 1]!.at, start.at, order)) {
      throw new AppError(
        'stats.phases_unsorted',
        `Phase start ${start.at} does not come after ${starts[k - 1]!.at}.`,
        'Give the phase starts in order of time, each once.',
        { index: k, at: start.at },
      )
    }
  }

  const n = at.length
  const firsts = starts.map((start) => firstAtOrAfter(at, start.at, order))
  const spans: PhaseSpan[] = []
  const ahead: string[] = []
  const implicitEnd = firsts[0] ?? n
  if (implicitEnd > 0) {
    spans.push({
      start: 0,
      end: implicitEnd,
      baseEnd: implicitEnd,
      frozenThrough: null,
      reason: null,
    })
  }
  for (const [k, start] of starts.entries()) {
    const from = firsts[k]!
    const end = firsts[k + 1] ?? n
    if (from === n) {
      ahead.push(start.at)
      continue
    }
    // No point between this start and the next: there is nothing to draw.
    if (from === end) continue
    const through = start.frozenThrough ?? null
    let baseEnd = end
    if (through !== null) {
      baseEnd = from
      while (baseEnd < end && isThrough(at[baseEnd]!, through, order)) baseEnd++
      if (baseEnd === from) {
        throw new AppError(
          'stats.bad_phase',
          `The phase that starts at ${start.at} is frozen through ${through}, before its first point (${at[from]}).`,
          'Freeze it through a point of the phase itself.',
          { index: k, at: start.at, frozenThrough: through },
        )
      }
    }
    spans.push({ start: from, end, baseEnd, frozenThrough: through, reason: start.reason ?? null })
  }
  return { spans, ahead }
}

function firstAtOrAfter(at: readonly string[], label: string, order: LabelOrder): number {
  let low = 0
  let high = at.length
  while (low < high) {
    const middle = (low + high) >> 1
    if (isBefore(at[middle]!, label, order)) low = middle + 1
    else high = middle
  }
  return low
}

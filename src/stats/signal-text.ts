import type { Better } from './types.ts'

/** What a sentence about a signal needs to know. */
export interface SignalFacts {
  /** Rule slug, as in SPEC.md. */
  readonly rule: string
  /** Labels of the first and last point of the pattern. */
  readonly first: string
  readonly last: string
  /** Points that make the pattern. */
  readonly count: number
  readonly direction: 'up' | 'down' | null
  readonly better: Better
  /** Whether the centre line is the median. */
  readonly median: boolean
  /** For rules about a whole phase: what was counted, and the number chance alone allows. */
  readonly found?: number
  readonly allowed?: number
}

/**
 * One plain sentence that says which points, what they do, and whether that is the better way.
 *
 * @param facts The signal.
 * @returns A sentence in British English, with labels as they are on the chart.
 *
 * @example
 * signalText({ rule: 'beyond-limits', first: '2026-03-02', last: '2026-03-02', count: 1, direction: 'up', better: 'down', median: false }) // => '2026-03-02 is above the upper limit: the worse direction.'
 */
export function signalText(facts: SignalFacts): string {
  const { rule, first, last, count, direction, found, allowed } = facts
  const up = direction === 'up'
  const line = facts.median ? 'the median' : 'the centre line'
  const where = up ? 'above' : 'below'
  const inARow = `${count} points in a row, ${first} to ${last},`
  const ending = verdict(direction, facts.better)
  switch (rule) {
    case 'beyond-limits': {
      const limit = up ? 'above the upper limit' : 'below the lower limit'
      return count === 1 ? `${first} is ${limit}${ending}.` : `${inARow} are ${limit}${ending}.`
    }
    case 'shift':
      return `${inARow} are ${where} ${line}${ending}.`
    case 'trend':
      return `${inARow} keep ${up ? 'rising' : 'falling'}${ending}.`
    case 'two-of-three': {
      const close = `close to the ${up ? 'upper' : 'lower'} limit or past it${ending}.`
      return count === 2
        ? `Of 3 points in a row 2, ${first} and ${last}, are ${close}`
        : `From ${first} to ${last}, at least 2 of every 3 points are ${close}`
    }
    case 'four-of-five': {
      const out = `well ${where} ${line}${ending}.`
      return count === 4
        ? `Of 5 points in a row 4, ${first} to ${last}, are ${out}`
        : `From ${first} to ${last}, at least 4 of every 5 points are ${out}`
    }
    case 'near-center':
      return `${inARow} all lie unusually close to ${line}: the limits may be too wide, or the points may mix two sources.`
    case 'none-near-center':
      return `${inARow} all lie far from ${line}, on both sides of it: two different processes may share this chart.`
    case 'alternating':
      return `${inARow} go up and down in turn: two different sources may be taking turns.`
    case 'longest-run':
      return `${inARow} are ${where} ${line}, where chance alone seldom gives more than ${allowed} in a row${ending}.`
    case 'crossings-too-few':
      return `From ${first} to ${last} the line crosses ${line} only ${times(found!)}, where chance alone seldom gives fewer than ${allowed}: the level has probably moved.`
    case 'runs-too-few':
      return `From ${first} to ${last} there are only ${runs(found!)} about ${line}, where chance alone seldom gives fewer than ${allowed}: the level has probably moved.`
    case 'runs-too-many':
      return `From ${first} to ${last} there are ${runs(found!)} about ${line}, where chance alone seldom gives more than ${allowed}: two different sources may be taking turns.`
    default:
      return `${rule}: ${first} to ${last}${ending}.`
  }
}

function verdict(direction: 'up' | 'down' | null, better: Better): string {
  if (direction === null || better === null) return ''
  return direction === better ? ': the better direction' : ': the worse direction'
}

function times(n: number): string {
  if (n === 0) return 'zero times'
  return n === 1 ? 'once' : n === 2 ? 'twice' : `${n} times`
}

function runs(n: number): string {
  return n === 1 ? '1 run' : `${n} runs`
}

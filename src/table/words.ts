import { formatDuration, speakDurations } from '../domain/duration.ts'
import type { Expectation } from '../domain/workshop/moves.ts'
import type { SeatRole } from '../domain/workshop/room.ts'
import type { RoundPredictions, RoundState } from '../domain/workshop/room-state.ts'

export const ROLE_WORDS: Readonly<Record<SeatRole, string>> = {
  builder: 'Builds: does the task',
  timer: 'Times: starts and stops the clock',
  recorder: 'Records: writes plan and decision',
  inspector: 'Inspects: goes through the checklist',
}

/** A running clock: always with its tenth, so that it does not jump in width. */
export function clockParts(ms: number): { main: string; tenth: string } {
  const tenths = Math.max(0, Math.floor(ms / 100))
  return { main: formatDuration(Math.floor(tenths / 10)), tenth: `.${tenths % 10}` }
}

/** `0:38 to 0:55`, or one value where there is no range. */
export function rangeText({ low, high, expected }: Expectation): string {
  return low === high
    ? formatDuration(expected)
    : `${formatDuration(low)} to ${formatDuration(high)}`
}

/** A share of the checklist in items: `all 12 items right`, `9 to 11 of 12 items right`. */
export function itemsText({ low, high, expected }: Expectation, items: number): string {
  const n = (share: number) => Math.round(share * items)
  if (n(low) === items) return `all ${items} items right`
  const range = low === high ? `${n(expected)}` : `${n(low)} to ${n(high)}`
  return `${range} of ${items} items right`
}

export function predictionText(predictions: RoundPredictions | null, items: number): string {
  const { time = null, quality = null } = predictions ?? {}
  const parts = [
    time === null ? '' : rangeText(time),
    quality === null ? '' : itemsText(quality, items),
  ].filter((part) => part !== '')
  return parts.length === 0 ? 'Nothing predicted yet.' : `${capital(parts.join(', '))}.`
}

/** How a round came out against its prediction, one sentence a measure. */
export function foundText(round: RoundState, items: number): string[] {
  const { seconds, right, inspected, predictions } = round
  const found: string[] = []
  if (seconds !== null) {
    const time = predictions?.time ?? null
    const took = `It took ${formatDuration(seconds)}`
    found.push(
      time === null
        ? `${took}.`
        : `${took}; you said ${rangeText(time)}. ${placeText(seconds, time, 'quicker', 'slower')}`,
    )
  }
  if (right !== null && inspected !== null && inspected > 0) {
    const quality = predictions?.quality ?? null
    const got = `${right} of ${inspected} items were right`
    found.push(
      quality === null
        ? `${got}.`
        : `${got}; you said ${itemsText(quality, items)}. ${placeText(right / inspected, quality, 'worse', 'better')}`,
    )
  }
  return found
}

function placeText(value: number, { low, high }: Expectation, under: string, over: string): string {
  // Shares such as 11/12 are not exact.
  const near = 1e-9
  if (value < low - near) return `That is ${under} than you said.`
  if (value > high + near) return `That is ${over} than you said.`
  return low === high ? 'That is what you said.' : 'That is inside your range.'
}

export function unsentText(unsent: number, lasting: boolean): string {
  const things = `${unsent} ${unsent === 1 ? 'thing' : 'things'} to send`
  return lasting
    ? `Kept on this phone; ${things}.`
    : `This browser keeps nothing: leave the page open. ${capital(things)}.`
}

/** Minutes of a running clock that a screen reader is told about; blank between them. */
export function minuteText(ms: number): string {
  return ms < 60_000 ? '' : speakDurations(formatDuration(Math.floor(ms / 60_000) * 60))
}

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)

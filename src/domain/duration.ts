import { AppError } from '../errors.ts'

/** A duration as read from what a person typed. */
export interface DurationReading {
  readonly seconds: number
  /**
   * Set where the number makes more sense as minutes and seconds than as seconds: `102` is what a
   * stopwatch at 1:02 gets called out as. Ask; never change it silently.
   */
  readonly perhaps: number | null
}

/**
 * Seconds from a typed duration: `1:02`, `62`, `62 s`, `1 min 2 s`, `62.4`, `1:02.4`, `1:00:00`.
 *
 * A bare whole number of three or four digits whose last two are below 60 (`102`, `1030`) could be
 * a stopwatch read without its colon; `perhaps` then holds that reading.
 *
 * @param text As typed; a decimal comma is read as a point.
 * @returns Seconds, 0 or more, kept as typed to a tenth or finer.
 * @throws AppError `duration.unreadable`; `duration.sixty` when a part after a colon is 60 or more.
 * @see METHODS 2 (what goes wrong on paper). Common practice.
 *
 * @example
 * parseDuration('1 min 2 s').seconds // => 62
 * parseDuration('102') // => { seconds: 102, perhaps: 62 }
 */
export function parseDuration(text: string): DurationReading {
  const t = text.trim().toLowerCase().replace(',', '.')
  const sure = (seconds: number): DurationReading => ({ seconds: tidy(seconds), perhaps: null })

  const clock = /^(?:(\d+):)?(\d+):(\d{1,2}(?:\.\d+)?)$/.exec(t)
  if (clock) {
    const [, hours, minutes, seconds] = clock
    if (Number(seconds) >= 60 || (hours !== undefined && Number(minutes) >= 60))
      throw new AppError(
        'duration.sixty',
        `"${text.trim()}" has 60 or more after a colon.`,
        'Write minutes and seconds such as 1:02, seconds below 60.',
        { text },
      )
    return sure(Number(hours ?? 0) * 3600 + Number(minutes) * 60 + Number(seconds))
  }

  const bare = /^(\d+)(\.\d+)?$/.exec(t)
  if (bare) {
    const seconds = Number(t)
    const digits = bare[1]!
    const tail = Number(digits.slice(-2))
    const mightBeClock = (digits.length === 3 || digits.length === 4) && tail < 60
    const perhaps = Number(digits.slice(0, -2)) * 60 + tail + Number(bare[2] ?? 0)
    return { seconds: tidy(seconds), perhaps: mightBeClock ? tidy(perhaps) : null }
  }

  const words =
    /^(?:(\d+(?:\.\d+)?)\s*(?:h|hr|hrs|hour|hours))?\s*(?:(\d+(?:\.\d+)?)\s*(?:m|min|mins|minute|minutes))?\s*(?:(\d+(?:\.\d+)?)\s*(?:s|sec|secs|second|seconds))?$/.exec(
      t,
    )
  if (words?.slice(1).some((part) => part !== undefined)) {
    const [, h, m, s] = words
    return sure(Number(h ?? 0) * 3600 + Number(m ?? 0) * 60 + Number(s ?? 0))
  }

  throw new AppError(
    'duration.unreadable',
    `"${text.trim()}" is not a duration Pawl can read.`,
    'Write it like 1:02, 62 s or 1 min 2 s.',
    { text },
  )
}

/**
 * A duration as it is shown: `m:ss`, with a tenth where there is one, `h:mm:ss` from one hour on.
 *
 * @param seconds 0 or more, finite. Negative values (differences) carry a minus sign.
 *
 * @example
 * formatDuration(62) // => '1:02'
 * formatDuration(41.34) // => '0:41.3'
 */
export function formatDuration(seconds: number): string {
  const tenths = Math.round(Math.abs(seconds) * 10)
  const whole = Math.floor(tenths / 10)
  const two = (n: number) => String(n).padStart(2, '0')
  const h = Math.floor(whole / 3600)
  const m = Math.floor((whole % 3600) / 60)
  const tail = two(whole % 60) + (tenths % 10 === 0 ? '' : `.${tenths % 10}`)
  const sign = seconds < 0 && tenths > 0 ? '−' : ''
  return sign + (h > 0 ? `${h}:${two(m)}:${tail}` : `${m}:${tail}`)
}

/**
 * The same text with its durations in words, for a screen reader: `1:02` is otherwise read as a time
 * of day, or as two numbers.
 *
 * @param text Any text with durations as `formatDuration` writes them.
 *
 * @example
 * speakDurations('0:38 to 1:02.5') // => '38 seconds to 1 minute 2.5 seconds'
 * speakDurations('1:00:00 at most') // => '1 hour at most'
 */
export function speakDurations(text: string): string {
  return text.replace(
    /(?:(\d+):)?(\d+):(\d\d(?:\.\d)?)/g,
    (_, hours: string | undefined, minutes: string, seconds: string) =>
      [hours, minutes, seconds]
        .map((n, i) => [Number(n), ['hour', 'minute', 'second'][i]] as const)
        .filter(([n]) => n > 0)
        .map(([n, unit]) => `${n} ${unit}${n === 1 ? '' : 's'}`)
        .join(' ') || '0 seconds',
  )
}

// 1:02.4 must give 62.4, not 62.400000000000006.
const tidy = (seconds: number) => Math.round(seconds * 1e6) / 1e6

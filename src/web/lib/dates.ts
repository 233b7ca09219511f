import type { DateText, Instant } from '../../domain/record.ts'

const DAY = 86_400_000

const dateFormat = new Intl.DateTimeFormat(undefined, { dateStyle: 'medium', timeZone: 'UTC' })
const instantFormat = new Intl.DateTimeFormat(undefined, {
  dateStyle: 'medium',
  timeStyle: 'short',
})
const dayOfInstant = new Intl.DateTimeFormat(undefined, { dateStyle: 'medium' })

/** The moment a text names, where it is an ISO date or date-time; browsers read much else as dates. */
function momentOf(text: string): Date | null {
  const date = /^\d{4}-\d{2}-\d{2}/.test(text) ? new Date(text) : null
  return date === null || Number.isNaN(date.getTime()) ? null : date
}

/** A calendar date, or the day of a date-time, in the reader's format. */
export function formatDate(text: DateText | Instant): string {
  const date = momentOf(text)
  if (date === null) return text
  return text.length === 10 ? dateFormat.format(date) : dayOfInstant.format(date)
}

/** A date-time in the reader's format and time zone; a calendar date stays a date. */
export function formatInstant(text: DateText | Instant): string {
  const date = momentOf(text)
  if (date === null) return text
  return text.length === 10 ? dateFormat.format(date) : instantFormat.format(date)
}

const inDays = new Intl.NumberFormat(undefined, { style: 'unit', unit: 'day', unitDisplay: 'long' })

/** Longer waits are easier to grasp as a date. */
const MOST_DAYS = 99

/** How long something has waited: `since today`, `for 16 days`, `since 1 Mar 2024`. */
export function formatWait(since: DateText | Instant, now: number = Date.now()): string {
  const days = Math.floor(now / DAY) - Math.floor(new Date(since).getTime() / DAY)
  if (days > MOST_DAYS) return `since ${formatDate(since)}`
  return days < 1 ? 'since today' : `for ${inDays.format(days)}`
}

/** `2 Mar 2026 to 9 Mar 2026`; one date where both are the same; `null` where neither is known. */
export function formatSpan(from: DateText | null, to: DateText | null): string | null {
  if (from !== null && to !== null && from !== to) return `${formatDate(from)} to ${formatDate(to)}`
  if (from !== null) return to === null ? `from ${formatDate(from)}` : formatDate(from)
  return to === null ? null : `until ${formatDate(to)}`
}

/** Today's calendar date where the reader is. */
export function today(now: Date = new Date()): DateText {
  const two = (part: number) => String(part).padStart(2, '0')
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`
}

const ISO_INSIDE = /\b\d{4}-\d{2}-\d{2}(?:T\d{2}:\d{2}[\d:.]*Z?)?/g

/** A sentence of the server's with its dates in the reader's format. */
export function withReadableDates(sentence: string): string {
  return sentence.replace(ISO_INSIDE, formatInstant)
}

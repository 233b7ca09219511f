import type { DateText, Instant } from '../../domain/record.ts'

const DAY = 86_400_000

const dateFormat = new Intl.DateTimeFormat(undefined, { dateStyle: 'medium', timeZone: 'UTC' })
const instantFormat = new Intl.DateTimeFormat(undefined, {
  dateStyle: 'medium',
  timeStyle: 'short',
})
const dayOfInstant = new Intl.DateTimeFormat(undefined, { dateStyle: 'medium' })
const ago = new Intl.RelativeTimeFormat(undefined, { numeric: 'auto' })

/** A calendar date, or the day of a date-time, in the reader's format. */
export function formatDate(text: DateText | Instant): string {
  const date = new Date(text)
  if (Number.isNaN(date.getTime())) return text
  return text.length === 10 ? dateFormat.format(date) : dayOfInstant.format(date)
}

/** A date-time in the reader's format and time zone; a calendar date stays a date. */
export function formatInstant(text: DateText | Instant): string {
  const date = new Date(text)
  if (Number.isNaN(date.getTime())) return text
  return text.length === 10 ? dateFormat.format(date) : instantFormat.format(date)
}

/** `today`, `3 days ago`, `2 weeks ago`: how long something has waited, in the reader's language. */
export function formatAgo(text: DateText | Instant, now: number = Date.now()): string {
  const days = Math.floor(now / DAY) - Math.floor(new Date(text).getTime() / DAY)
  if (days < 14) return ago.format(-days, 'day')
  if (days < 60) return ago.format(-Math.round(days / 7), 'week')
  return ago.format(-Math.round(days / 30.4), 'month')
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

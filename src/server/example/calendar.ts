import type { DateText, Instant } from '../../domain/record.ts'

const DAY = 86_400_000

/** Days counted from the day the example is loaded, so that it always looks alive. */
export interface Calendar {
  /** The date `n` days before today. */
  ago(n: number): DateText
  /** The Monday of a week; week -1 is the last whole one, -2 the one before. */
  week(n: number): DateText
  /** The first day of a month; month -1 is the last whole one. */
  month(n: number): DateText
}

export function calendarOf(now: Instant): Calendar {
  const today = Date.parse(now.slice(0, 10))
  const sinceMonday = (new Date(today).getUTCDay() + 6) % 7
  const monday = today - sinceMonday * DAY
  return {
    ago: (n) => dateText(today - n * DAY),
    week: (n) => dateText(monday + n * 7 * DAY),
    month: (n) => {
      const day = new Date(today)
      return dateText(Date.UTC(day.getUTCFullYear(), day.getUTCMonth() + n, 1))
    },
  }
}

/** The date `days` after another. */
export const later = (date: DateText, days: number): DateText =>
  dateText(Date.parse(date) + days * DAY)

/** A date as people write it into a sentence: 31 January 2027. */
export const inWords = (date: DateText): string => WORDS.format(Date.parse(date))
const WORDS = new Intl.DateTimeFormat('en-GB', { dateStyle: 'long', timeZone: 'UTC' })

export const moment = (date: DateText, time: string): Instant => `${date}T${time}:00.000Z`

export const secondsLater = (at: Instant, seconds: number): Instant =>
  new Date(Date.parse(at) + seconds * 1000).toISOString()

const dateText = (ms: number): DateText => new Date(ms).toISOString().slice(0, 10)

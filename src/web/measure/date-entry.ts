/** Reading a date as a person types or pastes it. Shown back with the month as a word, so that a
 * misread day and month is seen at once. */

export type DateReading =
  | { readonly ok: true; readonly at: string }
  | { readonly ok: false; readonly message: string }

export type DateOrder = 'day-first' | 'month-first'

/** Which of day and month the reader's own format writes first. */
export function dateOrderOf(locale?: string): DateOrder {
  const parts = new Intl.DateTimeFormat(locale, { dateStyle: 'short' }).formatToParts(
    new Date(2026, 10, 25),
  )
  const order = parts.map((part) => part.type)
  return order.indexOf('month') < order.indexOf('day') && order.indexOf('year') !== 0
    ? 'month-first'
    : 'day-first'
}

const EXPECTED = 'Write it like 2026-03-02 or 2 Mar 2026.'

/**
 * A typed date: `2026-03-02`, `2 Mar 2026`, `Mar 2, 2026`, `02.03.2026`, `2/3/26` in the reader's
 * order, a month alone (`2026-03`, `Mar 2026`: its first day), each with a time of day if wanted.
 */
export function readDate(text: string, order: DateOrder): DateReading {
  const trimmed = text.trim()
  if (trimmed === '') return { ok: false, message: `A row needs a date. ${EXPECTED}` }
  const timed = /^(.*?)[T ,]+(\d{1,2}):(\d{2})(?::\d{2}(?:\.\d+)?)?(Z?)$/.exec(trimmed)
  const dateText = (timed?.[1] ?? trimmed).replace(/,$/, '')
  const found = readCalendarDate(dateText, order)
  if (found === null) return { ok: false, message: `“${trimmed}” is not a date. ${EXPECTED}` }
  const [year, month, day] = found
  const date = new Date(Date.UTC(year, month - 1, day))
  if (date.getUTCMonth() !== month - 1 || date.getUTCDate() !== day) {
    return { ok: false, message: `“${trimmed}” is not a day of the calendar. ${EXPECTED}` }
  }
  if (year < 1700 || year > 2200) {
    return { ok: false, message: `The year ${year} looks wrong. ${EXPECTED}` }
  }
  const iso = date.toISOString().slice(0, 10)
  if (timed === null) return { ok: true, at: iso }

  const hours = Number(timed[2])
  const minutes = Number(timed[3])
  if (hours > 23 || minutes > 59) {
    return { ok: false, message: `“${timed[2]}:${timed[3]}” is not a time of day.` }
  }
  const moment =
    timed[4] === 'Z'
      ? new Date(Date.UTC(year, month - 1, day, hours, minutes))
      : new Date(year, month - 1, day, hours, minutes)
  return { ok: true, at: moment.toISOString() }
}

function readCalendarDate(text: string, order: DateOrder): [number, number, number] | null {
  const iso = /^(\d{4})[-/.](\d{1,2})(?:[-/.](\d{1,2}))?$/.exec(text)
  if (iso) return [Number(iso[1]), Number(iso[2]), Number(iso[3] ?? 1)]

  const numeric = /^(\d{1,2})([-/.])(\d{1,2})\2(\d{2}|\d{4})$/.exec(text)
  if (numeric) {
    const first = Number(numeric[1])
    const second = Number(numeric[3])
    const year = fullYear(numeric[4]!)
    // Dots are written day first everywhere they are written.
    const dayFirst = numeric[2] === '.' || order === 'day-first'
    return dayFirst ? [year, second, first] : [year, first, second]
  }

  const dayMonth = /^(\d{1,2})\.?[ -](\p{L}+)\.?[ -](\d{2}|\d{4})$/u.exec(text)
  if (dayMonth) return withMonth(dayMonth[2]!, dayMonth[3]!, Number(dayMonth[1]))
  const monthDay = /^(\p{L}+)\.? (\d{1,2}),? (\d{4})$/u.exec(text)
  if (monthDay) return withMonth(monthDay[1]!, monthDay[3]!, Number(monthDay[2]))
  const monthOnly = /^(\p{L}+)\.?[ -](\d{2}|\d{4})$/u.exec(text)
  if (monthOnly) return withMonth(monthOnly[1]!, monthOnly[2]!, 1)
  return null
}

function fullYear(text: string): number {
  return text.length === 2 ? 2000 + Number(text) : Number(text)
}

function withMonth(word: string, year: string, day: number): [number, number, number] | null {
  const month = monthNumber(word)
  return month === null ? null : [fullYear(year), month, day]
}

let monthNames: Map<string, number> | null = null

function monthNumber(word: string): number | null {
  if (monthNames === null) {
    monthNames = new Map()
    for (const locale of [undefined, 'en-GB', 'en-US']) {
      for (const width of ['long', 'short'] as const) {
        const format = new Intl.DateTimeFormat(locale, { month: width, timeZone: 'UTC' })
        for (let month = 1; month <= 12; month++) {
          const name = format.format(new Date(Date.UTC(2026, month - 1, 1)))
          monthNames.set(name.toLowerCase().replace(/\.$/, ''), month)
        }
      }
    }
  }
  return monthNames.get(word.toLowerCase()) ?? null
}

/** What a cell says about time. */
export type DateReading =
  | { readonly kind: 'date'; readonly at: string }
  /** Both orders give a date, and they differ. */
  | { readonly kind: 'either'; readonly dayFirst: string; readonly monthFirst: string }
  /** Slashes, and only one order gives a date: it shows the order of the whole column. */
  | { readonly kind: 'ordered'; readonly at: string; readonly order: DateOrder }
  | { readonly kind: 'number'; readonly at: string }
  | { readonly kind: 'bad'; readonly why: string }

export type DateOrder = 'day-first' | 'month-first'

const MONTHS = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec']
const FULL_MONTHS = [
  'january',
  'february',
  'march',
  'april',
  'may',
  'june',
  'july',
  'august',
  'september',
  'october',
  'november',
  'december',
]
export const DATE_FORMS = 'a date such as 2026-03-02, 2026-03, 2 March 2026 or 2/3/2026'

/**
 * A date as people and programs write it: ISO dates, date-times, months and weeks, days first or
 * months first with slashes, days first with points, month names, and plain row numbers.
 *
 * A month stands for its first day, an ISO week for its Monday. A date-time without a zone is UTC.
 *
 * @example
 * readDate('2 March 2026') // => { kind: 'date', at: '2026-03-02' }
 */
export function readDate(cell: string): DateReading {
  const text = cell.trim().replace(/\s+/g, ' ')
  const bad = (why: string): DateReading => ({ kind: 'bad', why })
  const certain = (y: number, m: number, d: number): DateReading => {
    const at = isoDate(y, m, d)
    return at === null ? bad('is not a day of the calendar') : { kind: 'date', at }
  }
  if (/^\d{1,9}$/.test(text)) {
    // 20260302 is a date without marks rather than the twenty-millionth row.
    const packed = /^(\d{4})(\d{2})(\d{2})$/.exec(text)
    const at = packed && isoDate(Number(packed[1]), Number(packed[2]), Number(packed[3]))
    return at ? { kind: 'date', at } : { kind: 'number', at: String(Number(text)) }
  }

  const iso = /^(\d{4})[-/.](\d{1,2})(?:[-/.](\d{1,2}))?$/.exec(text)
  if (iso) return certain(Number(iso[1]), Number(iso[2]), Number(iso[3] ?? 1))

  const moment =
    /^(\d{4}-\d{2}-\d{2})[T ](\d{2}):(\d{2})(?::(\d{2})(\.\d+)?)?( ?Z|[+-]\d{2}:?\d{2})?$/i.exec(
      text,
    )
  if (moment) return readMoment(moment, bad)

  const week = /^(\d{4})-?W(\d{1,2})$/i.exec(text)
  if (week) {
    const at = isoWeekMonday(Number(week[1]), Number(week[2]))
    return at === null ? bad('is not a week of that year') : { kind: 'date', at }
  }

  const marked = /^(\d{1,2})([/.-])(\d{1,2})\2(\d{4}|\d{2})$/.exec(text)
  if (marked) {
    const [, first, mark, second, year] = marked
    if (year!.length === 2) return bad('has a year of two digits')
    const a = Number(first)
    const b = Number(second)
    const y = Number(year)
    // With points, only the order day, month, year is in use (common practice).
    if (mark === '.') return certain(y, b, a)
    return bothOrders(isoDate(y, b, a), isoDate(y, a, b), bad)
  }

  const named = readNamed(text)
  if (named !== null) return certain(named[0], named[1], named[2])
  // Spreadsheets write a month as Mar-26; with a space it could be a day of March.
  const shortMonth = /^([a-z]{3,9})-(\d{2})$/i.exec(text)
  const month = shortMonth === null ? 0 : monthOf(shortMonth[1]!)
  if (month > 0) return certain(2000 + Number(shortMonth![2]), month, 1)
  if (/\d{1,2}[ -][a-z]{3,9}[ -]\d{2}$/i.test(text)) return bad('has a year of two digits')
  if (/^(?:grand |sub)?-?(?:totals?|sum|mean|average|median)\b/i.test(text))
    return bad('is a summary and no date; leave that line out')
  return bad('is not a date')
}

function bothOrders(
  dayFirst: string | null,
  monthFirst: string | null,
  bad: (why: string) => DateReading,
): DateReading {
  if (dayFirst === null && monthFirst === null) return bad('is not a day of the calendar')
  if (dayFirst === null) return { kind: 'ordered', at: monthFirst!, order: 'month-first' }
  if (monthFirst === null) return { kind: 'ordered', at: dayFirst, order: 'day-first' }
  return dayFirst === monthFirst
    ? { kind: 'date', at: dayFirst }
    : { kind: 'either', dayFirst, monthFirst }
}

function readMoment(match: RegExpExecArray, bad: (why: string) => DateReading): DateReading {
  const [, day, hours, minutes, seconds = '00', fraction = '', zone = 'Z'] = match
  const z = zone.trim().toUpperCase()
  const offset = z === 'Z' ? 'Z' : z.replace(/^([+-]\d{2}):?(\d{2})$/, '$1:$2')
  const [y, m, d] = day!.split('-').map(Number)
  if (isoDate(y!, m!, d!) === null) return bad('is not a day of the calendar')
  const time = Date.parse(`${day}T${hours}:${minutes}:${seconds}${fraction.slice(0, 4)}${offset}`)
  return Number.isNaN(time)
    ? bad('has no such time of day')
    : { kind: 'date', at: new Date(time).toISOString() }
}

/** 1 to 12; 0 where the word is no month. */
function monthOf(word: string): number {
  const w = word.toLowerCase().replace(/\.$/, '')
  const full = FULL_MONTHS.indexOf(w)
  return 1 + (full >= 0 ? full : w === 'sept' ? 8 : MONTHS.indexOf(w))
}

/** Year, month, day of `2 March 2026`, `March 2, 2026`, `Mar 2026`, `2-Mar-2026`. */
function readNamed(text: string): readonly [number, number, number] | null {
  const shapes: readonly (readonly [RegExp, number, number, number])[] = [
    [/^(\d{1,2})(?:st|nd|rd|th)?[ -]([a-z]{3,9}\.?)[ ,-]+(\d{4})$/i, 3, 2, 1],
    [/^([a-z]{3,9}\.?) (\d{1,2})(?:st|nd|rd|th)?,? (\d{4})$/i, 3, 1, 2],
    [/^([a-z]{3,9}\.?)[ -](\d{4})$/i, 2, 1, 0],
  ]
  for (const [shape, y, m, d] of shapes) {
    const match = shape.exec(text)
    if (match === null) continue
    const month = monthOf(match[m]!)
    if (month > 0) return [Number(match[y]), month, d === 0 ? 1 : Number(match[d])]
  }
  return null
}

function isoDate(year: number, month: number, day: number): string | null {
  if (year < 1500 || year > 2199 || month < 1 || month > 12 || day < 1) return null
  if (day > new Date(Date.UTC(year, month, 0)).getUTCDate()) return null
  const two = (n: number) => String(n).padStart(2, '0')
  return `${year}-${two(month)}-${two(day)}`
}

/** ISO 8601: week 1 holds 4 January; weeks begin on Monday. */
function isoWeekMonday(year: number, week: number): string | null {
  if (week < 1 || week > 53 || year < 1500 || year > 2199) return null
  const fourth = new Date(Date.UTC(year, 0, 4))
  const monday = fourth.getTime() - ((fourth.getUTCDay() + 6) % 7) * 86_400_000
  const start = new Date(monday + (week - 1) * 7 * 86_400_000)
  // Week 53 exists only where its Thursday is still in the year.
  const thursday = new Date(start.getTime() + 3 * 86_400_000)
  return thursday.getUTCFullYear() === year ? start.toISOString().slice(0, 10) : null
}

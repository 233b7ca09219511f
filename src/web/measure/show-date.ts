import { formatDate, formatInstant } from '../lib/dates.ts'
import { type DateOrder, dateOrderOf, readDate } from './date-entry.ts'

export const READER_ORDER: DateOrder = dateOrderOf()

const shownBefore = new Map<string, string>()

/** A date of a row in the reader's own format where that can be typed back, else as ISO 8601. */
export function showDate(at: string): string {
  const known = shownBefore.get(at)
  if (known !== undefined) return known
  const shown = write(at)
  // Long enough for the longest measure; a tab left open for weeks must not grow without end.
  if (shownBefore.size > 50_000) shownBefore.clear()
  shownBefore.set(at, shown)
  return shown
}

function write(at: string): string {
  const shown = at.length === 10 ? formatDate(at) : formatInstant(at)
  const back = readDate(shown, READER_ORDER)
  if (back.ok && back.at === at) return shown
  if (at.length === 10) return at
  const moment = new Date(at)
  if (Number.isNaN(moment.getTime())) return at
  const two = (n: number) => String(n).padStart(2, '0')
  const local = `${moment.getFullYear()}-${two(moment.getMonth() + 1)}-${two(moment.getDate())} ${two(moment.getHours())}:${two(moment.getMinutes())}`
  return local
}

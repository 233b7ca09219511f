import { formatDate, formatInstant } from '../lib/dates.ts'

/** A computed sentence with its ISO 8601 dates and date-times in the reader's own format. */
export function readerDates(text: string): string {
  return text
    .replace(/\b\d{4}-\d{2}-\d{2}T[\d:.]+Z/g, (moment) => formatInstant(moment))
    .replace(/\b\d{4}-\d{2}-\d{2}\b/g, (date) => formatDate(date))
}

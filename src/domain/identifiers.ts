/** A stretch of free text that could point at a patient. */
export interface PossibleIdentifier {
  readonly kind: 'number' | 'date-of-birth' | 'email' | 'telephone'
  /** The text as it stands there. */
  readonly found: string
  /** Where it begins, in UTF-16 units. */
  readonly index: number
}

/**
 * Stretches of a text that look like a patient's identifier: long or grouped digit strings (record
 * and health-service numbers), dates of birth, e-mail addresses, telephone numbers.
 *
 * It looks for patterns only and cannot know; whoever calls it asks the person, and never claims
 * that a text without findings is free of identifiers. Recent and coming dates are left alone, since
 * tests have dates: a date counts as one of birth when words such as "born" or "DOB" stand before
 * it, or when its year is more than `youngest` years before `year`.
 *
 * @param text Free text, any length.
 * @param year The current year, so that recent dates pass. Passed in: the domain has no clock.
 * @returns Findings in order, not overlapping.
 * @see METHODS 7. The shapes are common practice; the check digit of 10-digit numbers is not tested,
 *   so that a mistyped one is caught too.
 *
 * @example
 * findIdentifiers('seen with NHS 943 476 5919', 2026).map((f) => f.kind) // => ['number']
 */
export function findIdentifiers(text: string, year: number): PossibleIdentifier[] {
  const found: PossibleIdentifier[] = []
  const take = (kind: PossibleIdentifier['kind'], match: RegExpExecArray, group = 0) => {
    const value = match[group]!
    const index = match.index + match[0].indexOf(value)
    const overlaps = found.some(
      (f) => index < f.index + f.found.length && f.index < index + value.length,
    )
    if (!overlaps) found.push({ kind, found: value, index })
  }

  for (const m of text.matchAll(EMAIL)) take('email', m)
  for (const m of text.matchAll(BORN)) take('date-of-birth', m, 1)
  for (const m of text.matchAll(DATE)) {
    const written = Number(m.groups?.['y1'] ?? m.groups?.['y2'] ?? m.groups?.['y3'])
    if (written <= year - YOUNGEST && written >= year - 120) take('date-of-birth', m)
    else take('recent' as never, m) // claims the stretch, so that its digits are not read as a number
  }
  for (const m of text.matchAll(TELEPHONE)) if (isTelephone(m[0])) take('telephone', m)
  for (const m of text.matchAll(NUMBER)) take('number', m)

  return found.filter((f) => (f.kind as string) !== 'recent').sort((a, b) => a.index - b.index)
}

/** A date this many years back reads as a date of birth; series of old data have dates of their own. */
const YOUNGEST = 12

const MONTH = '(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*'
// Each pattern starts at a border, so that a long run of like characters is read once.
const EMAIL = /(?<![\w.+-])[\w.+-]+@[\w-]+(?:\.[\w-]+)+/g
// "DOB 3/4/62", "born on 3 April 1962": whatever date follows the word.
const BORN = new RegExp(
  `\\b(?:d\\.?o\\.?b\\.?|date of birth|birth ?date|born(?: on)?)\\W{0,4}(\\d{1,4}[-/. ]\\d{1,2}[-/. ]\\d{2,4}|\\d{1,2}(?:st|nd|rd|th)? ${MONTH},? \\d{2,4}|${MONTH} \\d{1,2},? \\d{2,4})`,
  'gi',
)
const DATE = new RegExp(
  `\\b(?:(?<y1>\\d{4})-\\d{1,2}-\\d{1,2}|\\d{1,2}[-/.]\\d{1,2}[-/.](?<y2>\\d{4})|\\d{1,2}(?:st|nd|rd|th)? ${MONTH},? (?<y3>\\d{4}))\\b`,
  'gi',
)
const TELEPHONE = /(?<![\w.])(?:\+\d|\(?0\d)[\d\s().-]{6,18}\d(?![\w])/g
// Seven digits or more in one piece or grouped by spaces or dashes, with up to three letters before
// or after, such as MRN1234567, 943 476 5919, AB 12 34 56 C.
const NUMBER =
  /(?<![\w.,])(?:[A-Z]{1,3}[- ]?)?\d{7,}[A-Z]?(?!\w)|(?<![\w.,])(?:\d{3}[ -]\d{3}[ -]\d{3,4}|\d{3}[ -]\d{2}[ -]\d{4}|[A-Z]{2} ?\d{2} ?\d{2} ?\d{2} ?[A-D]|\d{6}[-+]\d{3,4}[A-Z]?)(?!\w)/g

/** Digits enough for a telephone, and not a plain decimal such as 0.1234567. */
function isTelephone(text: string): boolean {
  const digits = text.replace(/\D/g, '').length
  return digits >= 9 && digits <= 15 && !/^0\.\d+$/.test(text)
}

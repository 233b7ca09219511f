import { findIdentifiers, type PossibleIdentifier } from '../../domain/identifiers.ts'
import type { AppError } from '../../errors.ts'

/** A stretch of text that looks like an identifier, as the dialog names it. */
export interface Suspect {
  /** The field in words; `''` where it is not known. */
  readonly field: string
  readonly found: string
  /** What it looks like, with its article. */
  readonly kind: string
}

const KINDS: Readonly<Record<PossibleIdentifier['kind'], string>> = {
  number: 'a record number',
  'date-of-birth': 'a date of birth',
  email: 'an e-mail address',
  telephone: 'a telephone number',
}

/** `whatHappened` as `what happened`; the last part of a path that is a name. */
function inWords(path: string): string {
  const name = path.split(/[.:/[\]]/).findLast((part) => /^[a-z]/i.test(part)) ?? ''
  return name.replace(/([A-Z])/g, ' $1').toLowerCase()
}

function textsOf(value: unknown, path: string): { path: string; text: string }[] {
  if (typeof value === 'string') return [{ path, text: value }]
  if (typeof value !== 'object' || value === null) return []
  return Object.entries(value).flatMap(([key, inner]) => textsOf(inner, `${path}.${key}`))
}

/**
 * What the dialog lists: the findings the server sent, or the same search made here on what was to
 * be saved where it sent none.
 *
 * @param year The current year; the search lets recent dates pass.
 */
export function suspectsIn(error: AppError, body: unknown, year: number): Suspect[] {
  const sent = error.details['places']
  const findings = Array.isArray(sent)
    ? (sent as { field?: unknown; kind?: unknown; found?: unknown }[])
    : textsOf(body, '').flatMap(({ path, text }) =>
        findIdentifiers(text, year).map(({ kind, found }) => ({ field: path, kind, found })),
      )
  return findings
    .filter((finding) => typeof finding.found === 'string')
    .map(({ field, kind, found }) => ({
      field: inWords(typeof field === 'string' ? field : ''),
      found: String(found),
      kind: KINDS[kind as PossibleIdentifier['kind']] ?? 'an identifier',
    }))
}

import { findIdentifiers } from '../domain/identifiers.ts'
import { AppError } from '../errors.ts'

interface Place {
  readonly field: string
  readonly found: string
  readonly kind: string
}

/** Fields that are no free text: identifiers of ours, addresses, secrets, dates, files to be read. */
const NOT_TEXT =
  /(?:^|\.)(?:\w*[iI]d|email|password|current|next|at|\w+At|\w+From|\w+To|frozenThrough|code|columns\.\w+)$/

/**
 * Asks about free text that looks like a patient's identifier (METHODS 7).
 *
 * @param body A request's body.
 * @param year The current year.
 * @throws AppError `care.looks_like_identifier` with every place.
 */
export function checkText(body: unknown, year: number): void {
  const places = [...placesIn(body, '', year)]
  if (places.length === 0) return
  throw new AppError(
    'care.looks_like_identifier',
    places.length === 1
      ? `"${places[0]!.found}" looks like it could point at a patient.`
      : `${places.length} places look like they could point at a patient.`,
    'Pawl keeps no patient identifiers. Take it out, or confirm that it is none.',
    { places },
  )
}

function* placesIn(value: unknown, path: string, year: number): Generator<Place> {
  if (typeof value === 'string') {
    if (NOT_TEXT.test(path)) return
    for (const { found, kind } of findIdentifiers(value, year)) yield { field: path, found, kind }
  } else if (typeof value === 'object' && value !== null) {
    for (const [key, part] of Object.entries(value))
      yield* placesIn(part, path === '' ? key : `${path}.${key}`, year)
  }
}

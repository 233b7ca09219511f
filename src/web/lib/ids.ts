import { makeId } from '../../domain/id.ts'
import type { Id } from '../../domain/record.ts'

/** A new id for a record made here, so that a repeated save makes no second one. */
export function newId(): Id {
  return makeId(Date.now(), crypto.getRandomValues(new Uint8Array(10)))
}

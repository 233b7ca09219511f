import { z } from 'zod'
import { isId } from '../domain/id.ts'

const NAME_LENGTH = 200
const LABEL_LENGTH = 60
const TEXT_LENGTH = 20_000
/** No account is safer for a longer one, and hashing it costs time. */
const PASSWORD_LENGTH = 1000

// U+0000 cannot be kept by PostgreSQL, and half a surrogate pair would come back as another character.
const keepable = (text: string) => !text.includes('\0') && text.isWellFormed()
const string = () => z.string().refine(keepable, 'contains a character that cannot be kept')

/** Made by the client or the server: 26 characters, see domain/id.ts. */
export const id = z.string().refine(isId, 'is not an id: 26 characters, digits and capital letters')
export const name = string().trim().min(1, 'must not be empty').max(NAME_LENGTH)
export const text = string().max(TEXT_LENGTH)
/** A few letters, such as a unit of measurement; may be empty. */
export const label = string().trim().max(LABEL_LENGTH)
/** Text that says something. */
export const reason = string()
  .max(TEXT_LENGTH)
  .refine((t) => t.trim() !== '', 'must not be empty')
export const date = z.iso.date('is not a calendar date such as 2026-03-02')
export const instant = z.iso.datetime('is not a moment in UTC such as 2026-03-02T09:15:00Z')
/** Where an observation stands on the time axis. */
export const moment = z.union(
  [date, z.iso.datetime({ local: true })],
  'is not a date such as 2026-03-02, or a date with a time such as 2026-03-02T09:15:00',
)
export const version = z.int().min(1)
export const email = string()
  .trim()
  .toLowerCase()
  .max(254)
  .pipe(z.email('is not an e-mail address'))
export const password = string().max(PASSWORD_LENGTH)
export const number = z.number()
export const confidence = z
  .number()
  .refine((c) => c > 0 && c < 1, 'is not a share between 0 and 1 (80 % is 0.8)')

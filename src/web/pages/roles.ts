import type { Role } from '../../domain/record.ts'

export interface RoleWords {
  readonly name: string
  /** What a person in this role may do, as a sentence about them. */
  readonly does: string
}

/** Each role in words, from the least to the most it may do. */
export const ROLE_WORDS: Readonly<Record<Role, RoleWords>> = {
  viewer: { name: 'Viewer', does: 'Looks at everything, changes nothing.' },
  member: { name: 'Member', does: 'Writes records: projects, measures, tests.' },
  coach: { name: 'Coach', does: 'Writes records and shapes the units.' },
  owner: { name: 'Owner', does: 'Does everything, accounts included.' },
}

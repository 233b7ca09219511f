import type { KitReply } from '../../../api/workshop-contract.ts'
import type { Kit } from '../../../domain/workshop/kit.ts'
import { SHIPPED_KITS } from '../../../domain/workshop/kits/shipped-kits.ts'
import { type Query, useQuery } from '../../lib/query.ts'

/** A kit to choose from, whether it came with Pawl or was written here. */
export interface KitEntry {
  /** In addresses: a word for a kit that came with Pawl, the id of one written here. */
  readonly key: string
  readonly kit: Kit
  /** `null`: it came with Pawl and is only copied, never changed. */
  readonly own: KitReply | null
}

const byName = (a: KitEntry, b: KitEntry) => a.kit.name.localeCompare(b.kit.name)

/** All kits: those written here first, by name, then those that came with Pawl. */
function kitEntries(own: readonly KitReply[]): KitEntry[] {
  return [
    ...own.map((reply) => ({ key: reply.id, kit: reply.kit, own: reply })).sort(byName),
    ...SHIPPED_KITS.map(({ key, kit }) => ({ key, kit, own: null })),
  ]
}

export function useKits(): Query<KitEntry[]> {
  const { data, error, reload } = useQuery('GET /api/kits')
  return { data: data && kitEntries(data.kits), error, reload }
}

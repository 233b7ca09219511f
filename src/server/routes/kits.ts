import type { KitReply } from '../../api/workshop-contract.ts'
import type { Kit } from '../../domain/workshop/kit.ts'
import { kitIssues } from '../../domain/workshop/kit-issues.ts'
import type { OwnKit } from '../../domain/workshop/room.ts'
import { AppError } from '../../errors.ts'
import { listKits } from '../../storage/rooms.ts'
import type { Handlers } from '../call.ts'

const reply = ({ id, kit, version }: OwnKit): KitReply => ({
  id,
  kit: JSON.parse(kit) as Kit,
  version,
})

/** @throws AppError `kit.not_ready` with every issue. */
export function mustBeUsable(kit: Kit): void {
  const issues = kitIssues(kit)
  if (issues.length === 0) return
  throw new AppError(
    'kit.not_ready',
    issues.length === 1
      ? issues[0]!.message
      : `${issues.length} things stand in the way of using this kit.`,
    'Correct the fields that are named.',
    { issues },
  )
}

export const kitRoutes: Handlers<
  'GET /api/kits' | 'POST /api/kits' | 'PATCH /api/kits/:id' | 'DELETE /api/kits/:id'
> = {
  'GET /api/kits': async ({ db }) => ({ kits: (await listKits(db.read)).map(reply) }),

  'POST /api/kits': async ({ db, body, me, at }) => {
    mustBeUsable(body.kit)
    const row = { id: body.id, kit: JSON.stringify(body.kit), createdById: me.id, version: 1 }
    return reply(
      await db.record({ action: 'kit.create', by: me, at }, (write) => write.insert('kit', row)),
    )
  },

  'PATCH /api/kits/:id': async ({ db, params, body, me, at }) => {
    mustBeUsable(body.kit)
    const kit = JSON.stringify(body.kit)
    return reply(
      await db.record({ action: 'kit.change', by: me, at }, (write) =>
        write.update('kit', params.id, body.version, { kit }),
      ),
    )
  },

  'DELETE /api/kits/:id': async ({ db, params, body, me, at }) =>
    db.record({ action: 'kit.remove', by: me, at }, async (write) => {
      await write.remove('kit', params.id, body.version)
      return { removed: 1 }
    }),
}

import type { Handlers } from '../call.ts'

/** Loaded only when asked for: most servers never load it twice. */
export const exampleRoutes: Handlers<'POST /api/example' | 'DELETE /api/example'> = {
  'POST /api/example': async ({ db, me, at }) => {
    const { loadExample } = await import('../example/load-example.ts')
    const projectId = await db.record({ action: 'example.load', by: me, at }, (write) =>
      loadExample(write, at),
    )
    return { projectId }
  },

  'DELETE /api/example': async ({ db, me, at }) => {
    const { removeExample } = await import('../example/remove-example.ts')
    const removed = await db.record({ action: 'example.remove', by: me, at }, removeExample)
    return { removed }
  },
}

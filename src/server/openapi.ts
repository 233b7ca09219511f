import type { FastifyInstance } from 'fastify'

/** The description of every route, for programs that use them. Put together when first asked for. */
export function openApiRoute(app: FastifyInstance): void {
  let document: Promise<object> | undefined
  app.get('/api/openapi.json', async () => {
    document ??= import('./openapi-document.ts').then(({ openApiDocument }) => openApiDocument())
    return document
  })
}

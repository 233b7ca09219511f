import { existsSync } from 'node:fs'
import { join } from 'node:path'
import type { FastifyInstance, FastifyRequest } from 'fastify'
import { AppError } from '../errors.ts'
import type { Looking } from './routes/rooms.ts'
import { readTablePage, serveTablePage } from './table-page.ts'

/** Serves the browser's files; every other path is a page, which its router then shows. */
export async function serveFiles(
  app: FastifyInstance,
  webDir: string | null,
  looking: (request: FastifyRequest) => Looking,
): Promise<void> {
  const there = webDir !== null && existsSync(join(webDir, 'index.html'))
  const table = there ? readTablePage(webDir) : null
  if (there) {
    const { default: fastifyStatic } = await import('@fastify/static')
    await app.register(fastifyStatic, {
      root: webDir,
      wildcard: false,
      preCompressed: true,
      cacheControl: false,
      setHeaders(reply, path) {
        // Vite names what is in assets/ after its content.
        const named = path.includes('/assets/')
        reply.header('cache-control', named ? 'public, max-age=31536000, immutable' : 'no-cache')
        if (/[\\/]t[\\/]index\.html/.test(path)) table?.allow(reply)
      },
    })
    if (table !== null) serveTablePage(app, table, looking)
  }
  app.setNotFoundHandler((request, reply) => {
    const page = request.method === 'GET' || request.method === 'HEAD'
    if (request.url.startsWith('/api/') || !page)
      throw new AppError(
        'request.no_such_route',
        `There is nothing at ${request.method} ${request.url.split('?')[0]}.`,
        'See /api/openapi.json for what there is.',
      )
    if (!there)
      throw new AppError(
        'request.no_such_route',
        'The pages are not built yet.',
        'Run npm run build, then start again.',
      )
    const path = request.url.split('?')[0]!
    if (/\.\w+$/.test(path))
      throw new AppError(
        'request.no_such_route',
        'There is no such file.',
        'Reload the page: it may be from an older version.',
      )
    // The table page of a workshop is an entry of its own: /t, and /t/ with the code of a room.
    const forTable = table !== null && /^\/t(?:\/|$)/.test(path)
    return reply.sendFile(forTable ? 't/index.html' : 'index.html')
  })
}

import helmet from '@fastify/helmet'
import type { FastifyInstance } from 'fastify'

const OPTIONS = {
  global: false,
  contentSecurityPolicy: {
    useDefaults: false,
    directives: {
      defaultSrc: ["'self'"],
      baseUri: ["'none'"],
      formAction: ["'self'"],
      frameAncestors: ["'none'"],
      objectSrc: ["'none'"],
      scriptSrc: ["'self'"],
      styleSrc: ["'self'"],
      imgSrc: ["'self'", 'data:', 'blob:'],
      upgradeInsecureRequests: null,
    },
  },
  referrerPolicy: { policy: 'same-origin' as const },
  xFrameOptions: { action: 'deny' as const },
  // Over plain http on a hospital's own network this would lock people out.
  strictTransportSecurity: false as const,
}

/**
 * Gives every reply the headers that keep pages of ours from being misused. They are the same for
 * all; helmet would work them out anew for each, at the cost of a whole empty answer.
 */
export async function addSecurityHeaders(app: FastifyInstance): Promise<void> {
  await app.register(helmet, OPTIONS)
  let known: Record<string, string> | null = null
  app.addHook('onRequest', async (_request, reply) => {
    if (known !== null) return void reply.headers(known)
    await reply.helmet()
    known = { ...(reply.raw.getHeaders() as Record<string, string>) }
  })
}

import { createHash } from 'node:crypto'
import { existsSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { promisify } from 'node:util'
import { gzip } from 'node:zlib'
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import type { GivenRoom } from '../api/workshop-contract.ts'
import { readCode } from '../domain/workshop/code.ts'
import { AppError } from '../errors.ts'
import { errorReplyOf } from './error-replies.ts'
import { findTables, type Looking } from './routes/rooms.ts'

/** Where the built page waits for what the code in its address opens. */
const PLACE = /(<script type="application\/json" id="given">)(<\/script>)/
const FILE = 't/index.html'

const compress = promisify(gzip)

export interface TablePage {
  /** Lets the script and the style that are in the page run. */
  readonly allow: (reply: FastifyReply) => void
  readonly html: string
}

/** The page as it is built: script and style are in it. @returns `null` where there is none. */
export function readTablePage(webDir: string): TablePage | null {
  const path = join(webDir, FILE)
  if (!existsSync(path)) return null
  const html = readFileSync(path, 'utf8')
  const hashOf = (part: RegExp) => {
    const content = part.exec(html)?.[1]
    if (content === undefined) return "'self'"
    return `'self' 'sha256-${createHash('sha256').update(content).digest('base64')}'`
  }
  const script = `script-src ${hashOf(/<script type="module">(.*?)<\/script>/s)}`
  const style = `style-src ${hashOf(/<style>(.*?)<\/style>/s)}`
  return {
    html,
    allow(reply) {
      const policy = String(reply.getHeader('content-security-policy'))
      reply.header(
        'content-security-policy',
        policy.replace("script-src 'self'", script).replace("style-src 'self'", style),
      )
    },
  }
}

/**
 * Answers the address with a code. What the code opens is in the page, just as the API would answer,
 * since a phone on a poor network would otherwise wait for two more answers.
 */
export function serveTablePage(
  app: FastifyInstance,
  { html, allow }: TablePage,
  looking: (request: FastifyRequest) => Looking,
): void {
  app.get<{ Params: { code: string } }>('/t/:code', async (request, reply) => {
    const { code } = request.params
    // A file that is not there, such as one of an older page.
    if (code.includes('.')) return reply.callNotFound()
    const given = mayLookUp(request, code) ? await lookUp(looking(request), code, request) : null
    if (given === null) return reply.sendFile(FILE)
    allow(reply)
    const page = html.replace(PLACE, (_, start, end) => `${start}${inScript(given)}${end}`)
    reply.headers({ 'cache-control': 'no-store', vary: 'accept-encoding' })
    reply.type('text/html; charset=utf-8')
    if (!/\bgzip\b/.test(request.headers['accept-encoding'] ?? '')) return page
    reply.header('content-encoding', 'gzip')
    return compress(page)
  })
}

/**
 * Only where somebody opens the page. Another site can make a browser ask for any address, and
 * would use up the tries of whoever sits there; the page then asks by itself, as a write.
 */
function mayLookUp({ headers }: FastifyRequest, code: string): boolean {
  const { accept, 'sec-fetch-dest': dest, 'sec-fetch-site': site } = headers
  const opened = dest === undefined || dest === 'document'
  const own = site === undefined || site === 'none' || site === 'same-origin'
  return opened && own && /\btext\/html\b/.test(accept ?? '') && readCode(code) !== null
}

/** @returns `null` where the server has trouble: the page asks again. */
async function lookUp(
  looking: Looking,
  code: string,
  request: FastifyRequest,
): Promise<GivenRoom | null> {
  try {
    return { found: await findTables(looking, code) }
  } catch (error) {
    if (error instanceof AppError && /^room\./.test(error.code))
      return { refused: errorReplyOf(error) }
    request.log.error({ err: error, url: request.url }, 'the code could not be looked up')
    return null
  }
}

/** JSON that cannot end the element it stands in. */
const inScript = (value: unknown) => JSON.stringify(value).replaceAll('<', '\\u003c')

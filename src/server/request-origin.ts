import type { FastifyRequest } from 'fastify'
import { AppError } from '../errors.ts'
import type { Settings } from './settings.ts'

const LOOPBACK: ReadonlySet<string> = new Set(['localhost', '127.0.0.1', '[::1]'])
const isLoopback = (host: string) => host === '::1' || LOOPBACK.has(host)

/**
 * A server that listens on this machine only answers only to this machine's names, so that a page
 * elsewhere whose name was pointed here cannot use it.
 *
 * @throws AppError `request.foreign_host`.
 */
export function checkHost(request: FastifyRequest, settings: Settings): void {
  const host = request.headers.host ?? ''
  if (settings.origin !== null && host === hostOf(settings.origin)) return
  if (!isLoopback(settings.host)) return
  if (LOOPBACK.has(host.replace(/:\d+$/, ''))) return
  throw new AppError(
    'request.foreign_host',
    `This server does not answer to the name "${host}".`,
    'Open it at the address it printed; whoever runs it can set PAWL_ORIGIN to another one.',
  )
}

/**
 * A write must come from a page of this server, where the browser says where it comes from.
 *
 * @throws AppError `request.foreign_origin`.
 */
export function checkOrigin(request: FastifyRequest, settings: Settings): void {
  const { origin, host } = request.headers
  const site = request.headers['sec-fetch-site']
  const foreignSite = site !== undefined && site !== 'same-origin' && site !== 'none'
  const foreignOrigin =
    origin !== undefined &&
    (settings.origin !== null && host === hostOf(settings.origin)
      ? origin !== settings.origin
      : origin !== `http://${host}`)
  if (!foreignSite && !foreignOrigin) return
  throw new AppError(
    'request.foreign_origin',
    'This save came from a page of another site.',
    'Open Pawl itself and save there.',
  )
}

const hostOf = (origin: string) => new URL(origin).host

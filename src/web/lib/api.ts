import type { ErrorReply, RouteName, Routes, SessionReply } from '../../api/contract.ts'
import { AppError } from '../../errors.ts'
import { askAboutText, type CareQuestion } from './care-question.ts'
import { receiveSession, session, sessionEnded } from './session.ts'

type ParamName<Path extends string> = Path extends `${string}:${infer Name}/${infer Rest}`
  ? Name | ParamName<`/${Rest}`>
  : Path extends `${string}:${infer Name}`
    ? Name
    : never

export type ParamsOf<R extends RouteName> = { readonly [Name in ParamName<R>]: string }
export type ReplyOf<R extends RouteName> = Routes[R]['reply']
type BodyOf<R extends RouteName> = Routes[R] extends { body: infer Body } ? Body : undefined

export type CallArgs<R extends RouteName> = ([ParamName<R>] extends [never]
  ? { readonly params?: undefined }
  : { readonly params: ParamsOf<R> }) &
  (BodyOf<R> extends undefined ? { readonly body?: undefined } : { readonly body: BodyOf<R> })

/** What the client needs from its surroundings; tests bring their own. */
export interface Surroundings {
  readonly fetch: typeof fetch
  readonly csrf: () => string
  readonly onSession: (reply: SessionReply) => void
  readonly onSignedOut: () => void
  /** Shows what looks like an identifier; resolves to whether to save it all the same. */
  readonly ask: (question: CareQuestion) => Promise<boolean>
  /** Milliseconds until a silent server counts as gone. */
  readonly timeout: number
}

export type Call = <R extends RouteName>(
  route: R,
  ...args: Record<never, never> extends CallArgs<R> ? [args?: CallArgs<R>] : [args: CallArgs<R>]
) => Promise<ReplyOf<R>>

/** Fills `:name` parts of a path. */
export function pathOf(path: string, params: Readonly<Record<string, string>> = {}): string {
  return path.replace(/:(\w+)/g, (_, name: string) => encodeURIComponent(params[name] ?? ''))
}

const KEPT = 'What you typed is kept on this device. '
/** A read has nothing typed in it to lose. */
const keptBy = (route: string) => (route.startsWith('GET ') ? '' : KEPT)

function isErrorReply(value: unknown): value is ErrorReply {
  return typeof value === 'object' && value !== null && 'code' in value && 'message' in value
}

/**
 * The function through which every page talks to the server.
 *
 * Refusals arrive as `AppError` with the server's code, message, hint and details. Text that looks
 * like a patient's identifier is asked about on the way: the promise settles after the answer.
 */
export function createCall(around: Surroundings): Call {
  async function send(route: string, args: Args, extra: Record<string, string>): Promise<Response> {
    const [method, path] = route.split(' ') as [string, string]
    const headers: Record<string, string> = { accept: 'application/json', ...extra }
    if (method !== 'GET') headers['x-pawl-csrf'] = around.csrf()
    if (args.body !== undefined) headers['content-type'] = 'application/json'
    try {
      return await around.fetch(pathOf(path, args.params), {
        method,
        headers,
        credentials: 'same-origin',
        signal: AbortSignal.timeout(around.timeout),
        ...(args.body === undefined ? {} : { body: JSON.stringify(args.body) }),
      })
    } catch (error) {
      if (error instanceof DOMException && error.name === 'TimeoutError') {
        throw new AppError(
          'client.timeout',
          `The server took longer than ${Math.round(around.timeout / 1000)} seconds.`,
          `${keptBy(route)}Try again in a moment.`,
        )
      }
      throw new AppError(
        'client.offline',
        'The server does not answer.',
        `${keptBy(route)}Check the connection, then try again.`,
      )
    }
  }

  async function attempt(route: string, args: Args, extra: Record<string, string>) {
    const response = await send(route, args, extra)
    const answer: unknown = await response.json().catch(() => null)
    if (response.ok && answer !== null) return answer
    if (isErrorReply(answer)) {
      const { code, message, hint, details } = answer
      if (code === 'auth.needed') around.onSignedOut()
      throw new AppError(code, message, hint ?? '', details ?? {})
    }
    throw new AppError(
      'client.bad_answer',
      `The server answered ${response.status} without a reason.`,
      `${keptBy(route)}Try again; if it happens again, tell whoever runs this server.`,
      { status: response.status },
    )
  }

  async function call(route: string, args: Args = {}): Promise<unknown> {
    try {
      return await attempt(route, args, {})
    } catch (error) {
      if (!(error instanceof AppError)) throw error
      if (error.code === 'care.looks_like_identifier') {
        if (await around.ask({ error, body: args.body })) {
          return attempt(route, args, { 'x-pawl-text-checked': 'yes' })
        }
      }
      // The token changes when the person signs in again in another tab.
      if (error.code === 'request.no_csrf' && route !== 'GET /api/session') {
        around.onSession((await attempt('GET /api/session', {}, {})) as SessionReply)
        return attempt(route, args, {})
      }
      throw error
    }
  }

  return call as Call
}

interface Args {
  readonly params?: Readonly<Record<string, string>> | undefined
  readonly body?: unknown
}

export const call: Call = createCall({
  fetch: (...args) => fetch(...args),
  csrf: () => session.get().reply?.csrf ?? '',
  onSession: receiveSession,
  onSignedOut: sessionEnded,
  ask: askAboutText,
  timeout: 20_000,
})

/** Any thrown thing as an `AppError`, so that pages have one kind of error to show. */
export function asAppError(error: unknown): AppError {
  if (error instanceof AppError) return error
  // What browsers throw when a page's own code does not arrive; there is no code to tell it by.
  if (error instanceof TypeError && /dynamically imported|module script/i.test(error.message)) {
    return new AppError(
      'client.page_missing',
      'This page did not arrive.',
      'Check the connection, then load the page again. After an update of Pawl that is needed once.',
    )
  }
  return new AppError(
    'client.unexpected',
    'This page ran into a fault of its own.',
    `${KEPT}Load the page again; if it happens again, tell whoever runs this server.`,
    { cause: String(error) },
  )
}

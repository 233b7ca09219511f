import type { ErrorReply, RouteName, Routes } from '../api/contract.ts'
import type { FoundRoom, GivenRoom } from '../api/workshop-contract.ts'
import { AppError } from '../errors.ts'

type Body<R extends RouteName> = Routes[R] extends { body: infer B } ? B : undefined

let csrf = ''
const TIMEOUT_MS = 15_000

/** Asks the server. Refusals arrive as `AppError` with the status in their details. */
export async function ask<R extends RouteName>(
  route: R,
  id: string,
  ...[body]: Body<R> extends undefined ? [] : [Body<R>]
): Promise<Routes[R]['reply']> {
  const [method, own] = route.replace(':id', id).split(' ') as [string, string]
  // In a browser in which a coach is signed in, this page is a phone all the same.
  const path = id === '' ? own : `${own}?as=table`
  if (method !== 'GET' && csrf === '') await meet()
  try {
    return (await send(method, path, body)) as Routes[R]['reply']
  } catch (error) {
    if (!(error instanceof AppError) || error.code !== 'request.no_csrf') throw error
    await meet()
    return (await send(method, path, body)) as Routes[R]['reply']
  }
}

/**
 * The room of the address, where the server has put it into the page.
 *
 * @returns `null` where the page has to ask.
 */
export function givenRoom(): FoundRoom | AppError | null {
  const text = document.getElementById('given')?.textContent
  if (!text) return null
  const given: GivenRoom = JSON.parse(text)
  return 'found' in given ? given.found : refusal(given.refused)
}

let meeting: Promise<void> | null = null
/** What lets this page write; asked for once at a time. */
export function meet(): Promise<void> {
  meeting ??= send('GET', '/api/session')
    .then((reply) => {
      csrf = (reply as { csrf: string }).csrf
    })
    .finally(() => {
      meeting = null
    })
  return meeting
}

async function send(method: string, path: string, body?: unknown): Promise<unknown> {
  const late = new AbortController()
  const timer = setTimeout(() => late.abort(), TIMEOUT_MS)
  try {
    const response = await fetch(path, {
      method,
      credentials: 'same-origin',
      signal: late.signal,
      headers: {
        accept: 'application/json',
        ...(method === 'GET' ? {} : { 'x-pawl-csrf': csrf }),
        ...(body === undefined ? {} : { 'content-type': 'application/json' }),
      },
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
    })
    const answer: unknown = await response.json()
    if (response.ok) return answer
    throw refusal(answer as ErrorReply, response.status)
  } catch (error) {
    if (error instanceof AppError) throw error
    throw new AppError(
      'client.offline',
      'The server does not answer.',
      'What you do is kept on this phone. Check the connection, then try again.',
    )
  } finally {
    clearTimeout(timer)
  }
}

function refusal({ code, message, hint, details }: ErrorReply, status?: number): AppError {
  return new AppError(code, message, hint ?? '', { ...details, status })
}

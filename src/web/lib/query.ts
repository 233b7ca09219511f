import { useCallback, useEffect, useSyncExternalStore } from 'react'
import type { RouteName } from '../../api/contract.ts'
import type { AppError } from '../../errors.ts'
import { asAppError, type CallArgs, call, type ParamsOf, pathOf, type ReplyOf } from './api.ts'

type ReadRoute = Extract<RouteName, `GET ${string}`>

interface Entry {
  readonly data: unknown
  readonly error: AppError | null
  /** Counts reads that were started, so that an overtaken answer is dropped. */
  readonly turn: number
}

const entries = new Map<string, Entry>()
const listeners = new Map<string, Set<() => void>>()
const EMPTY: Entry = { data: undefined, error: null, turn: 0 }

function put(key: string, entry: Entry) {
  entries.set(key, entry)
  for (const listener of [...(listeners.get(key) ?? [])]) listener()
}

async function read(key: string, route: ReadRoute, params: Readonly<Record<string, string>>) {
  const turn = (entries.get(key)?.turn ?? 0) + 1
  put(key, { ...(entries.get(key) ?? EMPTY), turn })
  const overtaken = () => entries.get(key)?.turn !== turn
  try {
    const data = await (call as (route: ReadRoute, args: object) => Promise<unknown>)(route, {
      params,
    })
    if (!overtaken()) put(key, { data, error: null, turn })
  } catch (error) {
    if (!overtaken()) put(key, { ...entries.get(key)!, error: asAppError(error) })
  }
}

export interface Query<T> {
  /** What was last read, also while it is read again; `undefined` until the first answer. */
  readonly data: T | undefined
  readonly error: AppError | null
  readonly reload: () => void
}

const keyOf = (route: string, params: Readonly<Record<string, string>> = {}) =>
  pathOf(route, params)

/**
 * Reads a route, shows at once what was read before, and reads it again on every visit.
 *
 * @example
 * const { data, error } = useQuery('GET /api/projects/:id', { id })
 */
export function useQuery<R extends ReadRoute>(
  route: R,
  ...[params]: Record<never, never> extends CallArgs<R> ? [] : [params: ParamsOf<R>]
): Query<ReplyOf<R>> {
  const key = keyOf(route, params)
  const subscribe = useCallback(
    (listener: () => void) => {
      const all = listeners.get(key) ?? new Set()
      listeners.set(key, all.add(listener))
      return () => all.delete(listener)
    },
    [key],
  )
  const entry = useSyncExternalStore(subscribe, () => entries.get(key) ?? EMPTY)
  // biome-ignore lint/correctness/useExhaustiveDependencies: `key` stands for route and params.
  const reload = useCallback(() => void read(key, route, params ?? {}), [key])
  useEffect(reload, [reload])
  return { data: entry.data as ReplyOf<R> | undefined, error: entry.error, reload }
}

/** Changes what was read, after a write whose answer says what is new. */
export function patchQuery<R extends ReadRoute>(
  route: R,
  params: ParamsOf<R>,
  change: (data: ReplyOf<R>) => ReplyOf<R>,
): void {
  const key = keyOf(route, params)
  const entry = entries.get(key)
  if (entry?.data === undefined) return
  put(key, { ...entry, data: change(entry.data as ReplyOf<R>), turn: entry.turn + 1 })
}

/** Forgets everything read; on signing out, so that the next person sees only their own. */
export function forgetQueries(): void {
  entries.clear()
}

import type { FastifyReply } from 'fastify'
import type { RouteName, Routes } from '../api/contract.ts'
import { makeId } from '../domain/id.ts'
import type { Id, Instant, Person } from '../domain/record.ts'
import type { Database } from '../storage/database.ts'
import type { Settings } from './settings.ts'
import type { SignInLimit } from './sign-in-limit.ts'
import type { RoomAsker } from './workshop/asker.ts'
import type { CodeLimit } from './workshop/code-limit.ts'
import type { FeedHub } from './workshop/feed-hub.ts'

type ParamName<Part extends string> = Part extends `:${infer Name}` ? Name : never
type ParamNames<Path extends string> = Path extends `${infer Head}/${infer Rest}`
  ? ParamName<Head> | ParamNames<Rest>
  : ParamName<Path>

/** Ids in the path of a route. */
type Params<K extends RouteName> = Readonly<Record<ParamNames<K>, Id>>
type Body<K extends RouteName> = Routes[K] extends { body: infer B } ? B : undefined
/** Who asks: somebody, except where the route is for everybody. */
type Asker<K extends RouteName> = Routes[K]['role'] extends 'public' | 'seat'
  ? Person | null
  : Person & { readonly email: string }

/** What every request brings besides its own parameters. */
export interface Surroundings {
  readonly db: Database
  readonly settings: Settings
  readonly limit: SignInLimit
  readonly codeLimit: CodeLimit
  /** For the numbers of tables: by address and table. */
  readonly tableLimit: CodeLimit
  /** Everybody who follows a workshop. */
  readonly rooms: FeedHub
  /** The moment of the request; handlers have no other clock. */
  readonly at: Instant
  /** The browser's secret: it proves a session, or only that two requests come from one browser. */
  readonly token: string | null
  readonly address: string
  /** Whether the person has looked at what seemed to identify a patient. */
  readonly textChecked: boolean
  readonly reply: FastifyReply
}

export interface Call<K extends RouteName> extends Surroundings {
  readonly params: Params<K>
  readonly body: Body<K>
  readonly me: Asker<K>
  /** Who asks, in the workshop of the path, where the route is for its seats. */
  readonly asker: Routes[K]['role'] extends 'seat' ? RoomAsker : null
}

export type Handler<K extends RouteName> = (call: Call<K>) => Promise<Routes[K]['reply']>
export type Handlers<K extends RouteName> = { readonly [Name in K]: Handler<Name> }

let lastTime = 0
let lastChance = new Uint8Array(10)

/** An id for a record that the server itself makes; of two, the one made later sorts later. */
export function newId(at: Instant): Id {
  const time = Date.parse(at)
  if (time === lastTime) lastChance = plusOne(lastChance)
  else lastChance = crypto.getRandomValues(new Uint8Array(10))
  lastTime = time
  return makeId(time, lastChance)
}

/** The next number, as bytes with the largest first. */
function plusOne(bytes: Uint8Array): Uint8Array<ArrayBuffer> {
  const next = Uint8Array.from(bytes)
  for (let i = next.length - 1; i >= 0; i--) {
    next[i] = (next[i]! + 1) & 255
    if (next[i] !== 0) break
  }
  return next
}

import type { Me, SessionReply } from '../../api/contract.ts'
import { ROLES, type Role } from '../../domain/record.ts'
import { createStore } from './store.ts'
import { useStore } from './use-store.ts'

export interface SessionState {
  /** `null` until the server has answered for the first time. */
  readonly reply: SessionReply | null
  /** The server ended the session while the person was at work. */
  readonly ended: boolean
}

export const session = createStore<SessionState>({ reply: null, ended: false })

export function receiveSession(reply: SessionReply): void {
  session.set({ reply, ended: false })
}

/** The server no longer knows this session: the sign-in page comes up, at the same address. */
export function sessionEnded(): void {
  const { reply } = session.get()
  if (reply !== null) session.set({ reply: { ...reply, me: null }, ended: reply.me !== null })
}

export const useSession = (): SessionState => useStore(session)

/** Who is signed in. Only for pages inside the shell, which shows them to signed-in people alone. */
export function useMe(): Me {
  const me = useStore(session).reply?.me
  if (me == null) throw new Error('No one is signed in.')
  return me
}

/** Whether `role` includes what `needed` may do. The server checks again. */
export function atLeast(role: Role, needed: Role): boolean {
  return ROLES.indexOf(role) >= ROLES.indexOf(needed)
}

/** Whether the signed-in person may do what `needed` may do; decides which controls are shown. */
export function useCan(needed: Role): boolean {
  return atLeast(useMe().role, needed)
}

import { createContext, useContext } from 'react'
import type { RoomState } from '../../../domain/workshop/room-state.ts'
import type { Moves } from '../lib/use-moves.ts'

/** What every part of the console works with. */
export interface Console {
  readonly state: RoomState
  readonly act: Moves['act']
  readonly busy: boolean
  /** The server's clock, milliseconds. */
  readonly serverNow: () => number
}

export const ConsoleContext = createContext<Console | null>(null)

export function useConsole(): Console {
  const found = useContext(ConsoleContext)
  if (found === null) throw new Error('There is no console around this part.')
  return found
}

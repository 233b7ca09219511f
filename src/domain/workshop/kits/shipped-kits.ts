import type { Kit } from '../kit.ts'
import { builtByEar } from './built-by-ear.ts'
import { coinsInASpin } from './coins-in-a-spin.ts'
import { deckToARule } from './deck-to-a-rule.ts'
import { everyPairOfHands } from './every-pair-of-hands.ts'
import { paperEnvelopes } from './paper-envelopes.ts'
import { trayFromACard } from './tray-from-a-card.ts'

/** A kit that comes with Pawl. */
export interface ShippedKit {
  /** Stable, for addresses: never changes and is never used again for another kit. */
  readonly key: string
  readonly kit: Kit
}

/** The kits that come with Pawl, the one to begin with first. All are of our own invention. */
export const SHIPPED_KITS: readonly ShippedKit[] = [
  { key: 'tray-from-a-card', kit: trayFromACard },
  { key: 'deck-to-a-rule', kit: deckToARule },
  { key: 'paper-envelopes', kit: paperEnvelopes },
  { key: 'every-pair-of-hands', kit: everyPairOfHands },
  { key: 'built-by-ear', kit: builtByEar },
  { key: 'coins-in-a-spin', kit: coinsInASpin },
]

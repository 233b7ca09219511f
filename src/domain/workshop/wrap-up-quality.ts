import type { Id } from '../record.ts'
import { byTable, isTimed, type RoundRow, type Step, stepsOf } from './wrap-up-rounds.ts'

/** When a table first had everything right. */
export interface CorrectResult {
  readonly tableId: Id
  readonly table: string
  /** `null`: in no round was every item of the checklist inspected and right. */
  readonly first: {
    readonly round: number
    /** Clock time of all its rounds up to there; `null` where one of them has no time. */
    readonly seconds: number | null
  } | null
  /** The fastest round that had everything right; `null` where none is timed. */
  readonly fastest: { readonly round: number; readonly seconds: number } | null
}

/**
 * Time to a correct result: clock time of a table's counted rounds up to and with the first in which
 * every item of the checklist was inspected and right.
 *
 * @param items Items of the checklist.
 */
export function correctResults(rows: readonly RoundRow[], items: number): CorrectResult[] {
  return byTable(rows).map((own) => {
    const { tableId, table } = own[0]!
    const correct = (row: RoundRow) => row.inspected === items && row.right === items
    const at = own.findIndex(correct)
    const upTo = own.slice(0, at + 1)
    const known = upTo.every(isTimed)
    const seconds = known ? upTo.reduce((sum, row) => sum + (row.seconds ?? 0), 0) : null
    const timed = own.filter(correct).filter(isTimed)
    const fastest = timed.reduce<(typeof timed)[number] | null>(
      (best, row) => (best === null || row.seconds < best.seconds ? row : best),
      null,
    )
    return {
      tableId,
      table,
      first: at === -1 ? null : { round: own[at]!.round, seconds },
      fastest: fastest === null ? null : { round: fastest.round, seconds: fastest.seconds },
    }
  })
}

/** What a step did to time and quality together. */
type TradeKind =
  | 'quality-for-speed'
  | 'speed-for-quality'
  | 'both-better'
  | 'both-worse'
  | 'no-worse'
  | 'no-better'
  | 'same'

export interface Trade {
  readonly tableId: Id
  readonly table: string
  readonly fromRound: number
  readonly toRound: number
  readonly kind: TradeKind
  /** Later less earlier: below 0 is faster. */
  readonly seconds: number
  /** Later less earlier share of items right: below 0 is fewer. */
  readonly share: number
  readonly before: ItemsRight
  readonly after: ItemsRight
}

interface ItemsRight {
  readonly right: number
  readonly inspected: number
}

/** Times closer than this are the same: the clock is shown to a tenth. */
const SAME_SECONDS = 0.05

/** Each step from one round of a table to its next with time and quality in both. */
export function tradesOf(rows: readonly RoundRow[]): Trade[] {
  return stepsOf(rows).flatMap((step) => tradeOf(step) ?? [])
}

function tradeOf({ from, to }: Step): Trade | null {
  if (from.share === null || to.share === null) return null
  const seconds = to.seconds - from.seconds
  const share = to.share - from.share
  const time = Math.abs(seconds) < SAME_SECONDS ? 0 : Math.sign(-seconds)
  const quality = Math.abs(share) < 1e-9 ? 0 : Math.sign(share)
  const { tableId, table } = from
  const kind = kindOf(time, quality)
  const [before, after] = [from, to].map((row) => ({
    right: row.right!,
    inspected: row.inspected!,
  })) as [ItemsRight, ItemsRight]
  const rounds = { fromRound: from.round, toRound: to.round }
  return { tableId, table, ...rounds, kind, seconds, share, before, after }
}

/** Each of the two is 1 for better, 0 for the same, −1 for worse. */
function kindOf(time: number, quality: number): TradeKind {
  if (time > 0 && quality < 0) return 'quality-for-speed'
  if (time < 0 && quality > 0) return 'speed-for-quality'
  const sum = time + quality
  if (sum === 2) return 'both-better'
  if (sum === -2) return 'both-worse'
  return sum > 0 ? 'no-worse' : sum < 0 ? 'no-better' : 'same'
}

/** The season of a series, as columns for a regression. */
export interface Season {
  /** Points in one turn; `null` where none is allowed for. */
  readonly period: number | null
  /** The points may have a season and reach over less than two turns of it. */
  readonly unseen: boolean
  /** Sine and cosine of the time of year or week; each of the length of the series. */
  readonly columns: Readonly<Record<string, readonly number[]>>
}

const DAY = 86_400_000
const YEAR_DAYS = 365.25
const NONE: Season = { period: null, unseen: false, columns: {} }

/** Usual spacings, in days, with the turn they go round in. */
const SPACINGS = [
  { from: 0.9, to: 1.1, turnDays: 7, period: 7 },
  { from: 6.5, to: 7.5, turnDays: YEAR_DAYS, period: 52 },
  { from: 27, to: 32, turnDays: YEAR_DAYS, period: 12 },
  { from: 85, to: 95, turnDays: YEAR_DAYS, period: 4 },
] as const

/** Pairs of sine and cosine: two follow a year with a winter peak and a summer dip. */
const PAIRS = 2
/** With less, a season and an effect cannot be told apart. */
const LEAST_TURNS = 2
/** Points a term on the shorter side should have, so that the season does not take the effect with it. */
const POINTS_A_TERM = 2

/**
 * The season a series may have, from how its points are spaced: the week for daily points, the year
 * for weekly, monthly and quarterly ones. It is allowed for where the points reach over two turns.
 *
 * @param at      ISO dates or date-times in order.
 * @param breakAt Zero-based index of the first point after the break.
 *
 * @example
 * seasonOf(['2026-01-01', '2027-01-01', '2028-01-01'], 1).period // => null
 */
export function seasonOf(at: readonly string[], breakAt: number): Season {
  const times = at.map((moment) => Date.parse(moment))
  if (times.length < 3 || times.some(Number.isNaN)) return NONE
  const steps = times.slice(1).map((time, i) => (time - times[i]!) / DAY)
  const middle = [...steps].sort((a, b) => a - b)[steps.length >> 1]!
  const spacing = SPACINGS.find(({ from, to }) => middle >= from && middle <= to)
  if (spacing === undefined) return NONE
  const turn = spacing.turnDays * DAY
  const turns = (times.at(-1)! - times[0]!) / turn
  const pairs = spacing.period === 4 ? 1 : PAIRS
  const shorter = Math.min(breakAt, at.length - breakAt)
  if (turns < LEAST_TURNS || shorter < 2 * pairs * POINTS_A_TERM)
    return { ...NONE, unseen: spacing.turnDays > 7 || turns < LEAST_TURNS }
  const columns: Record<string, readonly number[]> = {}
  for (let h = 1; h <= pairs; h++) {
    const angle = (time: number) => (2 * Math.PI * h * time) / turn
    columns[`sine${h}`] = times.map((time) => Math.sin(angle(time)))
    columns[`cosine${h}`] = times.map((time) => Math.cos(angle(time)))
  }
  return { period: spacing.period, unseen: false, columns }
}

export type Mark = 0 | 1 | null

/** What one inspector put down: a mark an item, or only how many items were right. */
export interface Look {
  /** 1 right, 0 not right, `null` not looked at, or not known which. */
  readonly marks: readonly Mark[]
  /** Items right where only their count is known, not which; `null`: the marks say it. */
  readonly rightCount: number | null
}

export interface Inspected {
  /** Items right, and items that somebody looked at; `null`: nobody has looked at any. */
  readonly right: number | null
  readonly inspected: number | null
}

/**
 * What the inspectors of a trial found together: an item counts once somebody has looked at it, and
 * is right where everybody who looked says so. Marks come before bare counts; of several bare counts
 * the lowest stands, since no more items can be right to all.
 *
 * @param looks One an inspector; marks equally long.
 *
 * @example
 * combine([{ marks: [1, 1, null], rightCount: null }, { marks: [1, 0, null], rightCount: null }]) // => { right: 1, inspected: 2 }
 * combine([{ marks: [null, null, null], rightCount: 2 }]) // => { right: 2, inspected: 3 }
 */
export function combine(looks: readonly Look[]): Inspected {
  const items = Math.max(0, ...looks.map(({ marks }) => marks.length))
  let right = 0
  let inspected = 0
  for (let item = 0; item < items; item++) {
    const given = looks.map(({ marks }) => marks[item] ?? null).filter((mark) => mark !== null)
    if (given.length === 0) continue
    inspected++
    if (given.every((mark) => mark === 1)) right++
  }
  if (inspected > 0) return { right, inspected }
  const counts = looks.flatMap(({ rightCount }) => rightCount ?? [])
  if (counts.length > 0) return { right: Math.min(...counts), inspected: items }
  return { right: null, inspected: null }
}

/**
 * Whether only the count of items right is known of a trial, not which they were.
 *
 * @example
 * isCountOnly([{ marks: [null, null, null], rightCount: 2 }]) // => true
 */
export const isCountOnly = (looks: readonly Look[]): boolean =>
  looks.some(({ rightCount }) => rightCount !== null) &&
  looks.every(({ marks }) => marks.every((mark) => mark === null))

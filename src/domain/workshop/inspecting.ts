export type Mark = 0 | 1 | null

export interface Inspected {
  /** Items right, and items that somebody looked at; `null`: nobody has looked at any. */
  readonly right: number | null
  readonly inspected: number | null
}

/**
 * What the inspectors of a trial found together: an item counts once somebody has looked at it, and
 * is right where everybody who looked says so.
 *
 * @param marks One list an inspector: 1 right, 0 not right, `null` not looked at; equally long.
 *
 * @example
 * combine([[1, 1, null], [1, 0, null]]) // => { right: 1, inspected: 2 }
 */
export function combine(marks: readonly (readonly Mark[])[]): Inspected {
  const items = Math.max(0, ...marks.map((list) => list.length))
  let right = 0
  let inspected = 0
  for (let item = 0; item < items; item++) {
    const given = marks.map((list) => list[item] ?? null).filter((mark) => mark !== null)
    if (given.length === 0) continue
    inspected++
    if (given.every((mark) => mark === 1)) right++
  }
  return inspected === 0 ? { right: null, inspected: null } : { right, inspected }
}

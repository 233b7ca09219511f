import type { PointRule } from './rules.ts'

/** The waiting states of the rules about order (trend, alternation), fed with rises and falls. */
export interface OrderChain {
  readonly states: number
  /** next[state * 2] after a rise, next[state * 2 + 1] after a fall; −1 where that signals. */
  readonly next: Int32Array
}

/**
 * The chain of the rules about order. State 0 is "one point seen".
 *
 * @param rules Point rules; those about zones are ignored here.
 * @returns States 0 to `states` − 1; a single state where no rule is about order.
 *
 * @example
 * Array.from(orderChain([{ slug: 'trend', shape: 'trend', length: 3, ties: 'skip' }]).next) // => [1, 2, -1, 2, 1, -1]
 */
export function orderChain(rules: readonly PointRule[]): OrderChain {
  const trends = rules.flatMap((rule) => (rule.shape === 'trend' ? [rule.length] : []))
  const alternations = rules.flatMap((rule) => (rule.shape === 'alternate' ? [rule.length] : []))
  if (trends.length + alternations.length === 0) return { states: 1, next: Int32Array.of(0, 0) }
  // Points in the current trend and in the current alternation, each no further than matters.
  const trendCap = trends.length > 0 ? Math.min(...trends) : 2
  const alternateCap = alternations.length > 0 ? Math.min(...alternations) : 2
  type State = { readonly way: 0 | 1 | -1; readonly trend: number; readonly alternate: number }
  const states: State[] = [{ way: 0, trend: 1, alternate: 1 }]
  const place = new Map<string, number>([[JSON.stringify(states[0]), 0]])
  const next: number[] = []
  for (let i = 0; i < states.length; i++) {
    const { way, trend, alternate } = states[i]!
    for (const step of [1, -1] as const) {
      const longer = step === way ? trend + 1 : 2
      const swung = way !== 0 && step !== way ? alternate + 1 : 2
      const signals =
        (trends.length > 0 && longer >= trendCap) ||
        (alternations.length > 0 && swung >= alternateCap)
      if (signals) {
        next.push(-1)
        continue
      }
      const state: State = {
        way: step,
        trend: Math.min(longer, trendCap),
        alternate: Math.min(swung, alternateCap),
      }
      const key = JSON.stringify(state)
      let at = place.get(key)
      if (at === undefined) {
        at = states.length
        place.set(key, at)
        states.push(state)
      }
      next.push(at)
    }
  }
  return { states: states.length, next: Int32Array.from(next) }
}

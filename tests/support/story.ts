import { it } from 'vitest'

/** Steps of one story: each needs the ones before it, so after one that fails the rest are skipped. */
export function story(): (name: string, work: () => Promise<void>) => void {
  let broken = false
  return (name, work) =>
    it(name, async ({ skip }) => {
      if (broken) skip('an earlier step failed')
      broken = true
      await work()
      broken = false
    })
}

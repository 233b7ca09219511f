/** What the measurements of this folder share: take turns, take medians, print ratios. */

export interface Contender {
  readonly name: string
  /** One round of work. */
  readonly run: () => unknown
}

export interface Measured {
  readonly name: string
  /** Milliseconds a round, sorted. */
  readonly times: readonly number[]
  readonly median: number
}

/**
 * Times contenders in turn, so that whatever else the machine does meets all of them alike.
 *
 * @param contenders At least one.
 * @param rounds     Timed rounds of each, after a fifth as many that are not timed.
 * @param repeat     Calls a round, for work too short to time; times are of one call.
 */
export async function interleave(
  contenders: readonly Contender[],
  rounds: number,
  repeat = 1,
): Promise<Measured[]> {
  const times = contenders.map(() => [] as number[])
  const warm = Math.ceil(rounds / 5)
  for (let round = -warm; round < rounds; round++) {
    for (const [i, { run }] of contenders.entries()) {
      const start = performance.now()
      for (let k = 0; k < repeat; k++) await run()
      const time = (performance.now() - start) / repeat
      if (round >= 0) times[i]!.push(time)
    }
  }
  return contenders.map(({ name }, i) => {
    const sorted = times[i]!.toSorted((a, b) => a - b)
    return { name, times: sorted, median: median(sorted) }
  })
}

/** Middle of sorted numbers. */
export function median(sorted: readonly number[]): number {
  const half = sorted.length >> 1
  return sorted.length % 2 === 1 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2
}

/** Prints medians, the middle half of the times, and each median against that of `base`. */
export function printTable(title: string, measured: readonly Measured[], base: string): void {
  const against = measured.find(({ name }) => name === base)?.median
  const width = Math.max(...measured.map(({ name }) => name.length))
  console.log(`\n${title}`)
  for (const { name, times, median: middle } of measured) {
    const quarter = (share: number) => times[Math.floor(share * (times.length - 1))]!
    const ratio = against === undefined ? '' : `  ${(middle / against).toFixed(2)}×`
    const range = `(${text(quarter(0.25))} to ${text(quarter(0.75))})`
    console.log(
      `  ${name.padEnd(width)}  ${text(middle).padStart(10)}  ${range.padEnd(24)}${ratio}`,
    )
  }
}

function text(ms: number): string {
  return ms < 1 ? `${(ms * 1000).toFixed(1)} µs` : `${ms.toFixed(2)} ms`
}

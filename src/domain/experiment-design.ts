import { AppError } from '../errors.ts'
import { type FactorialDesign, factorialDesign } from '../stats/factorial-design.ts'
import { runOrder } from '../stats/run-order.ts'

export const LEAST_FACTORS = 2
export const MOST_FACTORS = 7
/** More runs than this in one plan nobody carries through (common practice). */
export const MOST_RUNS = 160

/**
 * Generators of the designs offered, by number of factors, `''` being every combination; fewest runs
 * last. Each fraction has the highest resolution there is for its number of runs.
 *
 * @see Box, Hunter & Hunter (1978), Statistics for Experimenters, table 12.15; NIST/SEMATECH
 *   e-Handbook 5.3.3.4.7.
 */
const GENERATORS: Readonly<Record<number, readonly string[]>> = {
  2: [''],
  3: ['', 'C=AB'],
  4: ['', 'D=ABC'],
  5: ['', 'E=ABCD', 'D=AB E=AC'],
  6: ['', 'F=ABCDE', 'E=ABC F=BCD', 'D=AB E=AC F=BC'],
  7: ['', 'G=ABCDEF', 'F=ABCD G=ABDE', 'E=ABC F=BCD G=ACD', 'D=AB E=AC F=BC G=ABC'],
}

/** How far a design can tell effects apart. */
export type Clarity =
  /** Every change and every combination by itself. */
  | 'full'
  /** Every change and every pair, where three or more together play no part. */
  | 'pairs'
  /** Every change; some pairs are mixed with each other. */
  | 'changes'
  /** Changes are mixed with pairs. */
  | 'mixed'

/**
 * The generators of the designs offered for a number of factors, the full design first.
 *
 * @param factors Whole; outside 2 to 7 there is none.
 *
 * @example
 * designsFor(3) // => ['', 'C=AB']
 */
export function designsFor(factors: number): readonly string[] {
  return GENERATORS[factors] ?? []
}

/**
 * The design that generators stand for.
 *
 * @param factors    How many, 2 to 7.
 * @param generators One of `designsFor`.
 * @returns With aliases of up to three letters.
 * @throws AppError `experiment.unknown_design`.
 *
 * @example
 * experimentDesign(3, 'C=AB').resolution // => 3
 */
export function experimentDesign(factors: number, generators: string): FactorialDesign {
  if (!designsFor(factors).includes(generators))
    throw new AppError(
      'experiment.unknown_design',
      `There is no design "${generators}" for ${factors} changes.`,
      'Choose one of the designs that are listed for this number of changes.',
      { factors, generators },
    )
  return factorialDesign(factors, {
    generators: generators === '' ? [] : generators.split(' '),
    longestAlias: 3,
  })
}

/**
 * How far a design can tell effects apart.
 *
 * @param resolution Letters in its shortest defining word; `null` for a full design.
 *
 * @example
 * clarityOf(4) // => 'changes'
 */
export function clarityOf(resolution: number | null): Clarity {
  if (resolution === null) return 'full'
  if (resolution >= 5) return 'pairs'
  return resolution === 4 ? 'changes' : 'mixed'
}

/**
 * What is mixed with what: groups of single changes and pairs that one design cannot tell apart.
 *
 * @param design From `experimentDesign`.
 * @returns Only groups of two or more, each by its letters, the simplest first.
 *
 * @example
 * mixedGroups(experimentDesign(3, 'C=AB')) // => [['A', 'BC'], ['B', 'AC'], ['C', 'AB']]
 */
export function mixedGroups(design: FactorialDesign): string[][] {
  return design.aliasSets
    .filter(({ effect }) => effect.length <= 2)
    .map(({ effect, aliases }) => [
      effect,
      ...aliases.map((alias) => alias.replace('-', '')).filter((alias) => alias.length <= 2),
    ])
    .filter((group) => group.length > 1)
    .sort((a, b) => a[0]!.length - b[0]!.length || (a[0]! < b[0]! ? -1 : 1))
}

/**
 * Levels of every run in the order to do them: one sign a factor, `+` high, `-` low, `0` middle.
 *
 * Each replicate is a block in a random order of its own; centre points do not take part in the
 * drawing but stand spread evenly, first and last among them, so that they show a drift.
 *
 * @param design       From `experimentDesign`.
 * @param replicates   How often each combination is run, whole, 1 or more.
 * @param centerPoints How many runs at the middle, whole, 0 or more.
 * @param seed         Whole, 0 or more; the same seed gives the same order.
 *
 * @see Montgomery (2013), Design and Analysis of Experiments, section 1.3, on randomisation; where
 *   centre points stand: NIST/SEMATECH e-Handbook 5.3.3.7 (from memory).
 *
 * @example
 * runLevels(experimentDesign(2, ''), 1, 0, 1).toSorted() // => ['++', '+-', '-+', '--']
 */
export function runLevels(
  design: FactorialDesign,
  replicates: number,
  centerPoints: number,
  seed: number,
): string[] {
  const drawn = runOrder(design.runs.length, seed, replicates).map((run) =>
    levelsOf(design.runs[run]!),
  )
  const middle = '0'.repeat(design.factors.length)
  const places = Array.from({ length: centerPoints }, (_, i) =>
    centerPoints === 1
      ? Math.round(drawn.length / 2)
      : Math.round((i * drawn.length) / (centerPoints - 1)),
  )
  return [...drawn.keys(), drawn.length].flatMap((i) => [
    ...places.filter((place) => place === i).map(() => middle),
    ...drawn.slice(i, i + 1),
  ])
}

/**
 * A run of a design as signs.
 *
 * @example
 * levelsOf([1, -1]) // => '+-'
 */
export function levelsOf(run: readonly (1 | -1)[]): string {
  return run.map((sign) => (sign === 1 ? '+' : '-')).join('')
}

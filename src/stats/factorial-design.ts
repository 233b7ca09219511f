import { AppError } from '../errors.ts'
import { requireNumber } from './special/check.ts'

/** Names of factors; I is left out because it stands for the mean. */
const LETTERS = 'ABCDEFGHJKLMNOPQ'

/** One column of a design that can be estimated, with what is mixed into it. */
export interface AliasSet {
  /** The simplest effect of the set, such as `AB`. */
  readonly effect: string
  /** Effects that cannot be told apart from it, simplest first; a minus where they count the other way. */
  readonly aliases: readonly string[]
}

/** A two-level design in standard order. */
export interface FactorialDesign {
  readonly factors: readonly string[]
  /** One row for each run, one entry for each factor: −1 low, 1 high. The first factor changes fastest. */
  readonly runs: readonly (readonly (1 | -1)[])[]
  /** Words equal to the mean, such as `ABCD`; empty for a full design. */
  readonly definingRelation: readonly string[]
  /** Letters in the shortest word; `null` for a full design. */
  readonly resolution: number | null
  /** One set for each column, in the standard order of the basic factors. */
  readonly aliasSets: readonly AliasSet[]
}

/** A product of factors as bits, with its sign. */
interface Word {
  readonly mask: number
  readonly sign: 1 | -1
}

/**
 * A full or fractional two-level factorial design with its alias structure.
 *
 * Basic factors run through all combinations in standard order; each generator, such as `D = ABC`, sets a
 * further factor to a product of basic ones. The defining relation is the group the generators span, and
 * the aliases of an effect are its products with every word of it.
 *
 * @param factors How many factors, whole, 2 to 16: A, B, C, … (without I).
 * @param options `generators`, such as `['D=ABC']` or `['E=-ABCD']`, one for each factor after the basic
 *                ones; `longestAlias`, the most letters of a listed alias, default 3 with generators.
 * @returns At most 2^10 runs.
 * @throws AppError `stats.not_finite`, `stats.out_of_range`, `stats.bad_generator`.
 *
 * @see Box & Hunter (1961), Technometrics 3:311; Montgomery (2013), Design and Analysis of Experiments, ch. 8.
 *
 * @example
 * factorialDesign(4, { generators: ['D=ABC'] }).aliasSets[0] // => { effect: 'A', aliases: ['BCD'] }
 */
export function factorialDesign(
  factors: number,
  options: { readonly generators?: readonly string[]; readonly longestAlias?: number } = {},
): FactorialDesign {
  const { generators = [], longestAlias = 3 } = options
  requireNumber('The number of factors', factors, 'a whole count')
  requireNumber('The longest alias', longestAlias, 'a whole count')
  const basic = factors - generators.length
  if (factors < 2 || factors > LETTERS.length || basic < 1 || basic > 10) {
    throw new AppError(
      'stats.out_of_range',
      `${factors} factors with ${generators.length} generators cannot be laid out.`,
      `Give 2 to ${LETTERS.length} factors, 1 to 10 of them without a generator.`,
      { factors, generators: generators.length },
    )
  }
  const letters = [...LETTERS.slice(0, factors)]
  const products = readGenerators(generators, letters, basic)
  const runs = Array.from({ length: 2 ** basic }, (_, run) =>
    letters.map((_, f): 1 | -1 => {
      if (f < basic) return (run >> f) & 1 ? 1 : -1
      const { mask, sign } = products[f - basic]!
      // Low factors of the product: an odd number of them turns the sign.
      return bits(mask & ~run) % 2 === 0 ? sign : sign === 1 ? -1 : 1
    }),
  )

  let group: Word[] = [{ mask: 0, sign: 1 }]
  products.forEach(({ mask, sign }, g) => {
    const word = { mask: mask | (1 << (basic + g)), sign }
    group = [...group, ...group.map((w) => multiply(w, word))]
  })
  const words = group.slice(1).sort(simplestFirst)
  const aliasSets = Array.from({ length: 2 ** basic - 1 }, (_, i): AliasSet => {
    const set = group.map((w) => multiply(w, { mask: i + 1, sign: 1 })).sort(simplestFirst)
    const head = set[0]!
    return {
      effect: name(head.mask),
      aliases: set
        .slice(1)
        .filter((w) => bits(w.mask) <= longestAlias)
        .map((w) => (w.sign === head.sign ? '' : '-') + name(w.mask)),
    }
  })
  return {
    factors: letters,
    runs,
    definingRelation: words.map((w) => (w.sign === 1 ? '' : '-') + name(w.mask)),
    resolution: words.length === 0 ? null : bits(words[0]!.mask),
    aliasSets,
  }
}

/**
 * Column of an effect in a design: the product of its factors in every run.
 *
 * @param design A design of this file.
 * @param effect Letters of factors, such as `AB`.
 * @throws AppError `stats.bad_generator` when a letter is not a factor of the design.
 *
 * @see Montgomery (2013), Design and Analysis of Experiments, section 6.3.
 *
 * @example
 * effectColumn(factorialDesign(2), 'AB') // => [1, -1, -1, 1]
 */
export function effectColumn(design: FactorialDesign, effect: string): number[] {
  const at = [...effect].map((letter) => {
    const index = design.factors.indexOf(letter)
    if (index === -1) throw badGenerator(effect, `there is no factor ${letter}`, 0)
    return index
  })
  return design.runs.map((run) => at.reduce((sign, f) => sign * run[f]!, 1))
}

function readGenerators(
  generators: readonly string[],
  letters: readonly string[],
  basic: number,
): Word[] {
  return generators.map((text, i) => {
    const match = /^\s*([A-Z])\s*=\s*([+-]?)\s*([A-Z]+)\s*$/.exec(text)
    if (match === null) throw badGenerator(text, 'it is not of the form D=ABC', i)
    const expected = letters[basic + i]!
    if (match[1] !== expected)
      throw badGenerator(text, `number ${i + 1} must set factor ${expected}`, i)
    let mask = 0
    for (const letter of match[3]!) {
      const f = letters.indexOf(letter)
      if (f === -1 || f >= basic) throw badGenerator(text, `${letter} is not a basic factor`, i)
      if (mask & (1 << f)) throw badGenerator(text, `${letter} stands twice`, i)
      mask |= 1 << f
    }
    return { mask, sign: match[2] === '-' ? -1 : 1 }
  })
}

function badGenerator(text: string, problem: string, index: number): AppError {
  return new AppError(
    'stats.bad_generator',
    `The generator "${text}" cannot be used: ${problem}.`,
    'Write each factor after the basic ones as a product of basic ones, such as D=ABC.',
    { generator: text, index },
  )
}

function bits(mask: number): number {
  let count = 0
  for (let m = mask; m !== 0; m &= m - 1) count++
  return count
}

const multiply = (a: Word, b: Word): Word => ({
  mask: a.mask ^ b.mask,
  sign: a.sign === b.sign ? 1 : -1,
})

const name = (mask: number): string => [...LETTERS].filter((_, f) => mask & (1 << f)).join('')

const simplestFirst = (a: Word, b: Word): number =>
  bits(a.mask) - bits(b.mask) || (name(a.mask) < name(b.mask) ? -1 : 1)

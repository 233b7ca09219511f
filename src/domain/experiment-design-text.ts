import {
  type Clarity,
  clarityOf,
  designsFor,
  experimentDesign,
  mixedGroups,
} from './experiment-design.ts'
import type { Experiment, ExperimentFactor } from './experiment-record.ts'
import { visibleEffect } from './experiment-size.ts'
import { effectName, sizeText } from './experiment-words.ts'

/** One design as the planner sets it beside the others. */
export interface DesignOption {
  /** Its generators; `''` for every combination. */
  readonly generators: string
  /** All runs, with repeats and middle runs. */
  readonly runs: number
  readonly clarity: Clarity
  /** One line: how many combinations. */
  readonly headline: string
  /** What it can tell apart, in a sentence. */
  readonly tells: string
  /** What it mixes, each by name; empty where nothing that matters is mixed. */
  readonly mixes: readonly string[]
  /** The smallest effect that would stand out, four times in five; `null` without a guess. */
  readonly visible: number | null
  readonly visibleText: string | null
}

const TELLS: Readonly<Record<Clarity, string>> = {
  full: 'Tells apart every change and every combination of them.',
  pairs:
    'Tells apart every change and every pair, as long as three or more together have no effect of their own.',
  changes:
    'Tells apart every change. Pairs are mixed with each other: if one stands out, more runs must say which.',
  mixed:
    'Mixes every change with pairs of others. Good for a first look at many changes; what stands out must be looked at again.',
}

/**
 * The designs for a plan, most runs first, with what each can tell and how small an effect it shows.
 *
 * @param plan    Repeats, middle runs, the guess at the scatter, and how responses are written.
 * @param factors In the order of their letters; 2 to 7, else there is no design.
 */
export function designOptions(
  plan: Pick<
    Experiment,
    'replicates' | 'centerPoints' | 'guessedSd' | 'responseKind' | 'unitLabel'
  >,
  factors: readonly ExperimentFactor[],
): DesignOption[] {
  const k = factors.length
  return designsFor(k).map((generators): DesignOption => {
    const design = experimentDesign(k, generators)
    const corners = design.runs.length
    const clarity = clarityOf(design.resolution)
    const errorDf = corners * (plan.replicates - 1) + Math.max(0, plan.centerPoints - 1)
    const { guessedSd } = plan
    const visible =
      guessedSd === null
        ? null
        : guessedSd * visibleEffect(design.aliasSets.length, corners * plan.replicates, errorDf)
    return {
      generators,
      runs: corners * plan.replicates + plan.centerPoints,
      clarity,
      headline:
        generators === ''
          ? `All ${corners} combinations`
          : `${corners} of the ${2 ** k} combinations`,
      tells: TELLS[clarity],
      mixes: mixedGroups(design).map((group) =>
        group.map((effect) => effectName(effect, factors)).join(' = '),
      ),
      visible,
      visibleText:
        visible === null
          ? null
          : `If one change alone has an effect, it stands out four times in five from about ${sizeText(plan, visible)} on.`,
    }
  })
}

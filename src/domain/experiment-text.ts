import type { EffectsFinding, ExperimentFinding, FoundEffect } from './experiment-finding.ts'
import {
  differenceText,
  effectName,
  factorOf,
  listOf,
  responseText,
  runList,
  sizeText,
} from './experiment-words.ts'

/** What an experiment found, in sentences made from its figures. */
export interface ExperimentText {
  readonly headline: string
  /** What stands out, what may, and what shows nothing; the largest first. */
  readonly sentences: readonly string[]
  /** Each prediction against what came out. */
  readonly predictions: readonly string[]
  /** What to do next; `null` while there is nothing to say. */
  readonly next: string | null
  /** Reasons to be careful with it. */
  readonly limits: readonly string[]
}

/** @returns The finding as text. */
export function experimentText(finding: ExperimentFinding): ExperimentText {
  const only = (headline: string, sentence: string, next: string | null): ExperimentText => ({
    headline,
    sentences: [sentence],
    predictions: [],
    next,
    limits: [],
  })
  switch (finding.kind) {
    case 'running':
      return only(
        `${finding.of - finding.open.length} of ${finding.of} runs are in.`,
        'The effects are worked out once every run is in, so that nobody stops when the figures look good.',
        `Still to do: ${finding.open.length === 1 ? 'run' : 'runs'} ${runList(finding.open)}.`,
      )
    case 'lost':
      return only(
        'Too little to tell: a combination has no response that counts.',
        `${capital(runsText(finding.leftOut))} ${finding.leftOut.length === 1 ? 'is' : 'are'} left out, and every combination of the design needs at least one response.`,
        'Do the run again and write its response down, then count it again.',
      )
    case 'still':
      return only(
        'Too little to tell: every run came out the same.',
        `All ${finding.runs} runs gave ${responseText(finding.experiment, finding.value)}. The response may be too coarse to show a difference.`,
        'Choose a response that can differ between runs, or changes that are further apart.',
      )
    case 'effects':
      return {
        headline: headlineOf(finding),
        sentences: sentencesOf(finding),
        predictions: predictionsOf(finding),
        next: nextOf(finding),
        limits: limitsOf(finding),
      }
  }
}

const bySize = (a: FoundEffect, b: FoundEffect) => Math.abs(b.estimate) - Math.abs(a.estimate)
const withStanding = (finding: EffectsFinding, standing: FoundEffect['standing']) =>
  finding.effects.filter((e) => e.standing === standing).sort(bySize)

/** The effect, and what it cannot be told apart from. */
const allNames = ({ effect, mixedWith }: FoundEffect, { factors }: EffectsFinding) =>
  [effect, ...mixedWith].map((letters) => effectName(letters, factors))

const markedName = ({ effect, mixedWith }: FoundEffect, { factors }: EffectsFinding) =>
  `${effectName(effect, factors)}${mixedWith.length === 0 ? '' : ' (or a pair mixed with it)'}`

function headlineOf(finding: EffectsFinding): string {
  if (finding.together === null) return 'Too little to tell: no margin can be put on these effects.'
  const clear = withStanding(finding, 'clear')
  const possible = withStanding(finding, 'possible')
  if (clear.length > 3) return `${clear.length} of ${finding.effects.length} effects stand out.`
  const names = (effects: readonly FoundEffect[]) =>
    effects.map((e) => markedName(e, finding)).join('; ')
  if (clear.length > 0) return `${names(clear)}: ${clear.length === 1 ? 'stands' : 'stand'} out.`
  if (possible.length > 0 && possible.length < 4)
    return `Nothing stands out for sure; ${names(possible)} may matter.`
  if (possible.length > 0)
    return `Nothing stands out for sure; ${possible.length} of ${finding.effects.length} effects may matter.`
  return 'Too little to tell: nothing stands out from chance.'
}

function sentencesOf(finding: EffectsFinding): string[] {
  const { experiment, factors, alone, together, method } = finding
  if (alone === null || together === null)
    return [
      method === 'replicates'
        ? 'Repeated runs agree to the last digit, so they do not say how much chance alone does. Nothing is claimed.'
        : 'Most effects are exactly zero, so there is nothing to judge the others by. Nothing is claimed.',
    ]
  const clear = withStanding(finding, 'clear')
  const sentences = clear.map((effect) => clearText(effect, finding))
  const possible = withStanding(finding, 'possible')
  if (possible.length > 0) {
    const names = possible.map(
      (e) => `${markedName(e, finding)} (${differenceText(experiment, e.estimate)})`,
    )
    sentences.push(
      `May matter: ${names.join('; ')}. Beyond ${sizeText(experiment, alone)}, which chance seldom reaches for one effect, but not beyond ${sizeText(experiment, together)}, which it seldom reaches for the largest of ${finding.effects.length}.`,
    )
  }
  const silent = finding.effects
    .filter((e) => e.standing === 'none' && e.effect.length === 1)
    .map((e) => effectName(e.effect, factors))
  if (silent.length > 0)
    sentences.push(
      `Nothing shows for ${listOf(silent)}. An effect up to about ${sizeText(experiment, together)} could hide in the scatter of these runs, so this does not show that ${silent.length === 1 ? 'it does' : 'they do'} nothing.`,
    )
  const bend = curvatureText(finding)
  if (bend !== null) sentences.push(bend)
  return sentences
}

function clearText(effect: FoundEffect, finding: EffectsFinding): string {
  const { experiment, factors } = finding
  const { estimate, margin } = effect
  const size = differenceText(experiment, estimate)
  if (effect.mixedWith.length > 0) {
    const [first, ...others] = allNames(effect, finding)
    if (effect.effect.length === 2)
      return `One of these pairs, or several together, moved ${response(finding)}: ${[first, ...others].join('; ')}. The runs cannot say which; taken as the first, the effect is ${size}.`
    const { high, low } = factorOf(effect.effect, factors)!
    return `${first}, or a pair that looks the same in these runs (${others.join('; ')}): ${response(finding)} was ${size} with “${high.trim()}” in place of “${low.trim()}”. The runs cannot say which of them did it.`
  }
  if (effect.effect.length > 2)
    return `${effectName(effect.effect, factors)}: ${size}. So large an effect of three or more changes together is rare (common practice); look for a run that went wrong before believing it.`
  if (effect.effect.length === 2) return pairText(effect, finding)
  const factor = factorOf(effect.effect, factors)!
  const way = effect.better === null ? '' : `, the ${effect.better ? 'better' : 'worse'} way`
  const near = sizeText(experiment, Math.abs(estimate) - margin!)
  const far = differenceText(experiment, estimate + Math.sign(estimate) * margin!)
  return `${factor.name.trim()}: with “${factor.high.trim()}” in place of “${factor.low.trim()}”, ${response(finding)} was ${size} on average${way}. Anything from ${near} to ${far} fits (95 % for all ${finding.effects.length} effects together).`
}

function pairText({ effect }: FoundEffect, finding: EffectsFinding): string {
  const { experiment, factors } = finding
  const [a, b] = [...effect].map((letter) => factorOf(letter, factors)!)
  const means = finding.pairs.find((p) => p.pair === effect)!
  const atLow = differenceText(experiment, means.highLow - means.lowLow)
  const atHigh = differenceText(experiment, means.highHigh - means.lowHigh)
  return `${a!.name.trim()} and ${b!.name.trim()} depend on each other: “${a!.high.trim()}” in place of “${a!.low.trim()}” made ${response(finding)} ${atLow} with “${b!.low.trim()}”, and ${atHigh} with “${b!.high.trim()}”. Read the two together, not one by one.`
}

function curvatureText({ experiment, curvature }: EffectsFinding): string | null {
  if (curvature === null || curvature.margin === null) return null
  const { difference, margin } = curvature
  const side = difference > 0 ? 'below' : 'above'
  return Math.abs(difference) > margin
    ? `The middle runs lie ${sizeText(experiment, difference)} ${side} the mean of the others: between its two ways the response does not follow a straight line.`
    : `The middle runs fit a straight line between the two ways of each change (off by ${sizeText(experiment, difference)}, chance alone gives up to ${sizeText(experiment, margin)}).`
}

function predictionsOf(finding: EffectsFinding): string[] {
  const { experiment, factors, together } = finding
  return finding.effects.flatMap(({ effect, estimate, expected, fit, mixedWith }) => {
    if (expected === null || fit === null || fit === 'unjudged') return []
    const said = `${effectName(effect, factors)}: the team said ${expected === 0 ? 'no difference' : differenceText(experiment, expected)}`
    const found = differenceText(experiment, estimate)
    const mixed = mixedWith.length === 0 ? '' : ' (if the pairs mixed with it play no part)'
    switch (fit) {
      case 'fits':
        return expected === 0
          ? `${said}; the runs fit that, to within ${sizeText(experiment, together!)}${mixed}.`
          : `${said}; it was ${found}, and the runs fit that${mixed}.`
      case 'open':
        return `${said}; it was ${found}. The runs fit that, and no difference as well: too little to tell.`
      case 'misses':
        return `${said}; it was ${found}, and the runs do not fit what was said${mixed}.`
      default:
        return []
    }
  })
}

function nextOf(finding: EffectsFinding): string | null {
  const { experiment, factors, best, together } = finding
  if (together === null) return 'Run the plan again with a response that can be read more finely.'
  const clear = withStanding(finding, 'clear')
  if (best !== null) {
    const settings = best.settings.map(({ letter, high }) => {
      const factor = factorOf(letter, factors)!
      return `“${(high ? factor.high : factor.low).trim()}” for ${factor.name.trim()}`
    })
    return `Confirm it in a test of change with ${listOf(settings)}. About ${responseText(experiment, best.expected)} is expected there; what was picked because it was large often comes out smaller the second time.`
  }
  if (clear.some((e) => e.mixedWith.length > 0))
    return 'Do further runs that keep apart what these runs mix before anything is changed for good.'
  if (clear.some((e) => e.effect.length > 2))
    return 'Look at the single runs first, and do those again that are in doubt.'
  if (clear.length > 0)
    return 'Choose the way that suits, and confirm it in a test of change with a prediction.'
  if (withStanding(finding, 'possible').length > 0)
    return 'Run the same plan once more before relying on what may matter.'
  return 'Take ways that lie further apart, more repeats, or other changes.'
}

function limitsOf(finding: EffectsFinding): string[] {
  const { experiment, effects, method, leftOut, resolution } = finding
  const limits: string[] = []
  if (finding.together === null) return limits
  if (method === 'lenth')
    limits.push(
      effects.length < 7
        ? `Each combination stands for itself, so chance is judged from ${effects.length} effects only. That yardstick is very wide; repeats would narrow it.`
        : 'Chance is judged from the small effects among themselves, which holds only if most changes do little (Lenth 1989).',
    )
  if (resolution !== null)
    limits.push(
      'Not every combination was run. Three or more changes together are taken to have no effect of their own (common practice).',
    )
  if (leftOut.length > 0)
    limits.push(`${capital(runsText(leftOut))} ${leftOut.length === 1 ? 'does' : 'do'} not count.`)
  limits.push(
    `It holds for the two ways of each change as they were run${experiment.conditions.trim() === '' ? ', in these days and this place' : `, under these conditions: ${experiment.conditions.trim().replace(/\.$/, '')}`}. Elsewhere it may come out otherwise.`,
    `Only ${response(finding)} was looked at. What else the changes did, these figures do not show.`,
  )
  return limits
}

const response = ({ experiment }: EffectsFinding) => experiment.response.trim()
const runsText = (positions: readonly number[]) =>
  `${positions.length === 1 ? 'run' : 'runs'} ${runList(positions)}`
const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)

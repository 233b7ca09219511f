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
  if (clear.length > 3)
    return `${clear.length} of ${finding.effects.length} effects stand out from chance.`
  const names = (effects: readonly FoundEffect[]) =>
    effects.map((e) => markedName(e, finding)).join('; ')
  if (clear.length === 1) return `${names(clear)} stands out from chance.`
  if (clear.length > 1) return `These stand out from chance: ${names(clear)}.`
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
      `May matter: ${names.join('; ')}. Chance seldom passes ${sizeText(experiment, alone)} for one effect, and ${sizeText(experiment, together)} for the largest of ${finding.effects.length}; ${names.length === 1 ? 'this lies' : 'these lie'} between.`,
    )
  }
  const silent = finding.effects
    .filter((e) => e.standing === 'none' && e.effect.length === 1)
    .filter((e) => dependsOn(e.effect, finding).length === 0)
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
  const others = dependsOn(effect.effect, finding)
  const depends = others.length === 0 ? '' : ` How much it does depends on ${listOf(others)}.`
  const sure = `The runs fit anything from ${near} to ${far} (95 % for all ${finding.effects.length} effects together).`
  return `${factor.name.trim()}: with “${factor.high.trim()}” in place of “${factor.low.trim()}”, ${response(finding)} was ${size} on average${way}. ${sure}${depends}`
}

/** The changes that a clear pair ties this one to: its average means little by itself. */
const dependsOn = (letter: string, finding: EffectsFinding): string[] =>
  withStanding(finding, 'clear')
    .filter((e) => e.effect.length === 2 && e.mixedWith.length === 0 && e.effect.includes(letter))
    .map((e) => effectName(e.effect.replace(letter, ''), finding.factors))

function pairText({ effect }: FoundEffect, finding: EffectsFinding): string {
  const { experiment, factors } = finding
  const [a, b] = [...effect].map((letter) => factorOf(letter, factors)!)
  const means = finding.pairs.find((p) => p.pair === effect)!
  const atLow = differenceText(experiment, means.highLow - means.lowLow)
  const atHigh = differenceText(experiment, means.highHigh - means.lowHigh)
  const [first, second] = [a!, b!].map((f) => [f.name, f.low, f.high].map((text) => text.trim()))
  return `${first![0]} and ${second![0]} depend on each other. With “${second![1]}”, taking “${first![2]}” in place of “${first![1]}” made ${response(finding)} ${atLow}; with “${second![2]}”, ${atHigh}. Read the two together, not one by one.`
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
  return finding.effects.flatMap(({ effect, estimate, expected, fit, mixedWith, standing }) => {
    if (expected === null || fit === null || fit === 'unjudged') return []
    const said = `${effectName(effect, factors)}: the team said ${expected === 0 ? 'no difference' : differenceText(experiment, expected)}.`
    const found = `The runs gave ${estimate === 0 ? 'no difference' : differenceText(experiment, estimate)}`
    const mixed = mixedWith.length === 0 ? '' : ' (if the pairs mixed with it play no part)'
    const others = standing === 'clear' ? [] : dependsOn(effect, finding)
    const depends =
      others.length === 0 ? '' : ` That is on average: it depends on ${listOf(others)}.`
    switch (fit) {
      case 'fits':
        return expected === 0
          ? `${said} The runs fit that, to within ${sizeText(experiment, together!)}${mixed}.${depends}`
          : `${said} ${found}, which fits${mixed}.${depends}`
      case 'open':
        return `${said} ${found}. That fits, but so does no difference: too little to tell.${depends}`
      case 'misses':
        return `${said} ${found}, which does not fit${mixed}.${depends}`
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
    const expected = responseText(experiment, Number(best.expected.toPrecision(3)))
    return `Try this in a test of change: ${listOf(settings)}. Expect about ${expected}. What is picked because it looked large often comes out smaller the second time.`
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

import { formatNumber } from '../value-text.ts'
import {
  FEWEST_ITEMS,
  FEWEST_PAIRS,
  type InspectorAgreement,
  type TimerAgreement,
} from './wrap-up-agreement.ts'
import { type ConfidenceChange, FEWEST_ANSWERS } from './wrap-up-confidence.ts'
import { counted, listText, percent, type WrapUpPart } from './wrap-up-words.ts'

function signed(seconds: number): string {
  const tenths = Math.round(seconds * 10)
  return `${tenths > 0 ? '+' : tenths < 0 ? '−' : ''}${(Math.abs(tenths) / 10).toFixed(1)} s`
}
const plain = (value: number) => formatNumber(value, 1)

/** Two timers of one trial, in sentences. */
export function timersText({ pairs, figures }: TimerAgreement): WrapUpPart {
  const part = { key: 'timers', title: 'Two timers' } as const
  if (pairs.length === 0)
    return { ...part, sentences: ['No trial was timed by two people.'], limits: [] }
  if (figures === null) {
    const differences = pairs.map(
      (p) => `${signed(p.first - p.second)} (${p.table}, round ${p.round})`,
    )
    return {
      ...part,
      sentences: [
        `${counted(pairs.length, 'trial')} had two timers. First timer less second: ${listText(differences)}.`,
      ],
      limits: [`Limits of agreement take ${FEWEST_PAIRS} such trials.`],
    }
  }
  const { bias, lowerLimit, upperLimit, n } = figures
  const sentences = [
    `In ${n} trials with two timers, the first read ${signed(bias.estimate)} against the second on average (95 % interval ${signed(bias.lower)} to ${signed(bias.upper)}).`,
    `Two timers of one trial are expected to differ by ${signed(lowerLimit.estimate)} to ${signed(upperLimit.estimate)} in 19 trials of 20 (limits of agreement).`,
  ]
  const limits = ['A gain smaller than these limits may be the timing and not the work.']
  if (n < 20) limits.push(`The limits rest on ${n} trials and are rough.`)
  return { ...part, sentences, limits }
}

/** Two inspectors of one trial, in sentences. */
export function inspectorsText(agreement: InspectorAgreement): WrapUpPart {
  const part = { key: 'inspectors', title: 'Two inspectors' } as const
  const { items, trials, agreed, bothRight, bothWrong, firstOnly, secondOnly } = agreement
  if (agreed === null)
    return {
      ...part,
      sentences: ['No trial was inspected by two people, item by item.'],
      limits: countOnlyText(agreement),
    }
  const sentences = [
    `Two people inspected ${counted(trials, 'trial')} apart, ${counted(items, 'item')} in all. They agreed on ${bothRight + bothWrong}, ${percent(agreed.estimate)} (95 % interval ${percent(agreed.lower)} to ${percent(agreed.upper)}); ${firstOnly + secondOnly} looked right to one and wrong to the other.`,
  ]
  const limits: string[] = []
  const { kappa, noKappa } = agreement
  if (kappa !== null) {
    const upper = Math.min(1, kappa.upper)
    const lower = Math.max(-1, kappa.lower)
    sentences.push(
      `Cohen’s kappa, the agreement beyond what chance would give, is ${kappa.estimate.toFixed(2)} (95 % interval ${signless(lower)} to ${signless(upper)}).`,
    )
    if (kappa.observed >= 0.8 && kappa.estimate < 0.6)
      limits.push(
        'Most items are of one kind, which keeps kappa low even where inspectors agree; read both figures.',
      )
    limits.push('The pairs of inspectors are different people, taken together here.')
  } else if (noKappa === 'too-few')
    limits.push(`Kappa is not given below ${FEWEST_ITEMS} items: it would say little.`)
  else
    limits.push(
      'Both put every item in the same box, so agreement beyond chance cannot be worked out.',
    )
  return { ...part, sentences, limits: [...limits, ...countOnlyText(agreement)] }
}

/** What bare counts cannot say. The quality score needs no more than the count. */
function countOnlyText({ countOnly }: InspectorAgreement): string[] {
  if (countOnly === 0) return []
  const they = countOnly === 1 ? 'it takes' : 'they take'
  return [
    `Of ${counted(countOnly, 'trial')} only the count of items right is recorded, not which items; ${they} no part in this, and cannot show which items went wrong.`,
  ]
}

const signless = (value: number) => value.toFixed(2).replace('-', '−')

/** The before and after question, in sentences. */
export function confidenceText({
  asked,
  both,
  beforeOnly,
  afterOnly,
  change,
}: ConfidenceChange): WrapUpPart {
  const part = { key: 'confidence', title: 'Confidence before and after' } as const
  if (!asked) return { ...part, sentences: ['The question was not asked.'], limits: [] }
  const rest = beforeOnly + afterOnly
  const others =
    rest === 0
      ? ''
      : ` ${counted(beforeOnly, 'person', 'people')} answered before only, ${afterOnly} after only; they are not counted.`
  if (change === null)
    return {
      ...part,
      sentences: [
        `${both === 0 ? 'Nobody' : counted(both, 'person', 'people')} answered both times. Below ${FEWEST_ANSWERS} nothing is shown, since it would show single answers.${others}`,
      ],
      limits: [],
    }
  const { before, after, mean, interval, up, same, down } = change
  const moved = mean === 0 ? 'no change' : `${mean > 0 ? 'up' : 'down'} ${plain(Math.abs(mean))}`
  const range =
    interval === null
      ? 'everybody by the same'
      : `95 % interval of the change ${sign(interval.lower)} to ${sign(interval.upper)}`
  return {
    ...part,
    sentences: [
      `${both} people answered both times, from 0 to 10. On average they went from ${plain(before)} to ${plain(after)}, ${moved} (${range}). ${up} went up, ${same} stayed, ${down} went down.${others}`,
    ],
    limits: ['Asked of people who just took part; not evidence of skill.'],
  }
}

const sign = (value: number) => `${value > 0 ? '+' : ''}${plain(value)}`

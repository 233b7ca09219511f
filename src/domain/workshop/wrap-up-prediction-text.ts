import type { CalibrationSummary } from '../calibration-summary.ts'
import type { PredictionFinding } from './wrap-up-predictions.ts'
import { counted, percent, type WrapUpPart } from './wrap-up-words.ts'

/** How the predictions came out, in sentences. */
export function predictionText(finding: PredictionFinding): WrapUpPart {
  const part = { key: 'predictions', title: 'Predictions' } as const
  const { all, time, quality, predicts, rounds } = finding
  if (all === null)
    return {
      ...part,
      sentences: ['No locked prediction has an outcome yet.'],
      limits: [],
    }
  const bias = [biasSentence('time', time), biasSentence('quality', quality)].filter(
    (sentence) => sentence !== null,
  )
  if (predicts === 'single')
    return {
      ...part,
      sentences: [
        'The tables predicted single numbers. A single number has no range that an outcome could fall inside, so there is no coverage to judge; only how far off they were.',
        ...bias,
      ],
      limits: [ALIKE],
    }
  const { lower, upper } = all.share
  const sentences = [
    `${all.inside} of ${all.n} outcomes fell inside the stated range, ${percent(all.share.estimate)} (95 % interval ${percent(lower)} to ${percent(upper)}), where ${percent(all.stated)} was stated${verdictOn(all)}.`,
    ...bias,
  ]
  const [first, last] = [rounds[0], rounds.at(-1)]
  if (first !== undefined && last !== undefined && first !== last)
    sentences.push(
      `In round ${first.round}, ${first.inside} of ${first.n} fell inside${widthText(first.width)}; in round ${last.round}, ${last.inside} of ${last.n}${widthText(last.width)}.`,
    )
  return { ...part, sentences, limits: [ALIKE] }
}

const ALIKE =
  'Predictions of one table, and of time and quality in one round, are alike, so the real uncertainty is wider than the interval says.'

function verdictOn({ n, share, stated }: CalibrationSummary): string {
  if (share.upper < stated) return ': the ranges were too narrow'
  if (share.lower > stated) return ': the ranges were wider than they needed to be'
  return n < 10 ? ': too few to tell whether that is right' : ': the figures do not contradict it'
}

const widthText = (width: number | null) =>
  width === null ? '' : ` with ranges ${percent(width)} of the expected value wide`

/** Too hopeful or too cautious, as a factor, with its interval where there is one. */
function biasSentence(what: 'time' | 'quality', summary: CalibrationSummary | null): string | null {
  if (summary?.bias == null) return null
  const { bias, optimism, n } = summary
  // For time too low is hopeful, for quality too high; `optimism` is turned so that above 0 is hopeful.
  const off = Math.round((Math.exp(Math.abs(bias)) - 1) * 100)
  const many = `(${counted(n, 'prediction')}${optimism === null ? '' : `; ${sureText(optimism)}`})`
  const name = what === 'time' ? 'Times' : 'Items right'
  if (off === 0) return `${name} were predicted neither too high nor too low on average ${many}.`
  const side =
    what === 'time' ? (bias > 0 ? 'too long' : 'too short') : bias > 0 ? 'too high' : 'too low'
  return `${name} were predicted ${off} % ${side} on average ${many}.`
}

function sureText({ lower, upper }: NonNullable<CalibrationSummary['optimism']>): string {
  if (lower > 0) return 'too hopeful, by more than chance explains'
  if (upper < 0) return 'too cautious, by more than chance explains'
  return 'no more than chance explains'
}

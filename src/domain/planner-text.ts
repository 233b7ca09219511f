import { HORIZON, type PlanProgress, type SignalPlan } from './planner.ts'
import type { PlannerBaseline, Rhythm } from './planner-baseline.ts'
import type { SlowRule } from './planner-chances.ts'
import type { ConvincingResult } from './planner-small-test.ts'
import type { Measure } from './record.ts'
import { formatNumber, formatValue } from './value-text.ts'

/** Baselines below this many points are called short: limits are trial ones (METHODS 3). */
const SHORT_BASELINE = 20

/**
 * A chance as people say it.
 *
 * @example
 * oftenText(0.31) // => '3 times in 10'
 * oftenText(0.042) // => '4 times in 100'
 */
export function oftenText(chance: number): string {
  if (chance >= 0.985) return 'nearly every time'
  const tenths = Math.round(chance * 10)
  if (chance >= 0.095 && tenths < 10) return `${tenths} ${tenths === 1 ? 'time' : 'times'} in 10`
  if (chance >= 0.095) return 'more than 9 times in 10'
  const hundredths = Math.round(chance * 100)
  if (hundredths < 1) return 'less than 1 time in 100'
  return `${hundredths} ${hundredths === 1 ? 'time' : 'times'} in 100`
}

/**
 * So many points as time, where they have a rhythm.
 *
 * @example
 * pointsText({ word: 'week', days: 7 }, 3) // => '3 weeks'
 * pointsText({ word: 'point', days: null }, 1) // => '1 point'
 */
export function pointsText({ word }: Rhythm, n: number): string {
  return `${formatNumber(n)} ${word}${n === 1 ? '' : 's'}`
}

/** The planner's answer in two or three sentences. */
export function planSentences(
  measure: Measure,
  baseline: PlannerBaseline,
  plan: SignalPlan,
  planned: number | null,
): string[] {
  const show = (value: number) => formatValue(measure, value)
  const time = (n: number) => pointsText(baseline.rhythm, n)
  const sentences: string[] = []
  const move = `If ${measure.name} goes from ${show(plan.before)} to ${show(plan.after)} and stays there`
  if (plan.median === null)
    sentences.push(
      `${move}, the chart would show it only ${oftenText(plan.chances.at(-1)!)} even after ${time(HORIZON)}: the change is too small for this sampling.`,
    )
  else if (plan.median === plan.for90)
    sentences.push(`${move}, the chart shows it within ${time(plan.median)}, 9 times in 10.`)
  else
    sentences.push(
      `${move}, the chart shows it within ${time(plan.median)} half of the time, and ${
        plan.for90 === null
          ? `takes more than ${time(HORIZON)} to do so 9 times in 10`
          : `within ${time(plan.for90)} 9 times in 10`
      }.`,
    )

  if (planned !== null) {
    const at = Math.min(planned, HORIZON)
    const chance = plan.chances[at - 1]!
    const first = `The days you planned hold ${pointsText({ ...baseline.rhythm, word: 'point' }, planned)}, enough to see it ${oftenText(chance)}`
    sentences.push(
      chance >= 0.8 || plan.for80 === null
        ? `${first}.`
        : `${first}; for 8 times in 10, plan ${time(plan.for80)}.`,
    )
  } else if (plan.for80 !== null)
    sentences.push(`For 8 times in 10, plan ${time(plan.for80)}${observationsText(measure, plan)}.`)

  const over = Math.min(planned ?? plan.for80 ?? plan.within, HORIZON)
  sentences.push(
    `If nothing changes, it still shows a signal ${oftenText(plan.falseChances[over - 1]!)} in ${time(over)}, by chance alone.`,
  )
  return sentences
}

function observationsText(measure: Measure, plan: SignalPlan): string {
  if (plan.usualDenominator === null || plan.for80 === null) return ''
  return `, with about ${amountText(measure, plan.usualDenominator * plan.for80)} in all`
}

/** Items or area with their name. */
function amountText(measure: Measure, amount: number): string {
  const n = formatNumber(Math.ceil(Number(amount.toPrecision(3))))
  const label = measure.unitLabel.trim()
  if (label !== '') return `${n} ${label}`
  return measure.dataKind === 'classified' ? `${n} items` : `a denominator of ${n}`
}

/** What more or larger points would change: details, one sentence each. */
export function samplingSentences(
  measure: Measure,
  baseline: PlannerBaseline,
  plan: SignalPlan,
): string[] {
  const time = (n: number) => pointsText(baseline.rhythm, n)
  const { doubled } = plan
  const how =
    doubled.how === 'larger points'
      ? 'With twice as much in each point'
      : 'With points twice as often'
  const sentences: string[] = []
  if (doubled.for80 === null)
    sentences.push(
      `${how}, 8 times in 10 would still take more than ${time(doubled.chances.length)}.`,
    )
  else
    sentences.push(
      plan.for80 === null
        ? `${how}, it would be seen within ${time(doubled.for80)} 8 times in 10.`
        : doubled.for80 < plan.for80
          ? `${how}, it would be seen 8 times in 10 within ${time(doubled.for80)} instead of ${time(plan.for80)}.`
          : `${how}, it would still take ${time(plan.for80)} to be seen 8 times in 10: the rules need that many points.`,
    )
  if (plan.denominatorFor80 !== null && plan.usualDenominator !== null) {
    sentences.push(
      `To see it 8 times in 10 within ${time(plan.within)}, each point needs about ${amountText(measure, plan.denominatorFor80)}; a usual one has ${amountText(measure, plan.usualDenominator)}.`,
    )
  } else if (plan.timesAsMuch !== null && plan.timesAsMuch > 1)
    sentences.push(
      `To see it 8 times in 10 within ${time(plan.within)}, each point would have to be the mean of ${formatNumber(plan.timesAsMuch)} times as many values.`,
    )
  return sentences
}

const SLOW: Readonly<Record<SlowRule, string>> = {
  trend: 'trends',
  alternating: 'points going up and down in turn',
  runs: 'the number of runs',
  crossings: 'the number of crossings',
}

/**
 * Which rules of the chart an answer counts, in one sentence.
 *
 * @example
 * countedText({ leftOut: ['trend'], charts: null }) // => 'The rules about trends are not counted yet.'
 * countedText({ leftOut: [], charts: null }) // => 'Every rule of this chart is counted.'
 */
export function countedText({ leftOut, charts }: Pick<SignalPlan, 'leftOut' | 'charts'>): string {
  if (leftOut.length > 0) {
    const named = leftOut.map((rule) => SLOW[rule]).join(' and ')
    return `The rules about ${named} are not counted yet.`
  }
  return charts === null
    ? 'Every rule of this chart is counted.'
    : `Every rule of this chart is counted, on ${formatNumber(charts)} simulated charts, the same ones each time.`
}

/**
 * How far the whole answer is.
 *
 * @example
 * progressText({ done: 1, total: 4, of: 'steps' }) // => 'Counting them: step 1 of 4.'
 */
export function progressText({ done, total, of }: PlanProgress): string {
  return of === 'steps'
    ? `Counting them: step ${done} of ${total}.`
    : `Counting them: ${formatNumber(done)} of ${formatNumber(total)} simulated charts.`
}

/** Where the planner's figures come from, and what they take for granted. */
export function groundSentences(
  measure: Measure,
  baseline: PlannerBaseline,
  plan: Pick<SignalPlan, 'leftOut' | 'charts' | 'alreadySignals'>,
): string[] {
  const level = formatValue(measure, baseline.level)
  const n = `${baseline.n} ${baseline.n === 1 ? 'point' : 'points'}`
  const sentences: string[] = []
  if (baseline.origin === 'guess')
    sentences.push(
      'This rests on a guess of the baseline, not on data. Collect some points first if you can.',
    )
  else
    sentences.push(
      baseline.origin === 'frozen'
        ? `The baseline is the frozen phase: ${level}, from ${n}.`
        : `The baseline is the running phase: ${level}, from ${n}. Its limits are not frozen, so they will move with the test.`,
    )
  if (baseline.origin !== 'guess' && baseline.n < SHORT_BASELINE)
    sentences.push(
      `With fewer than ${SHORT_BASELINE} points the centre and the limits are uncertain, so take the figures as a rough guide.`,
    )
  sentences.push(
    'Taken for granted: the change comes at once and lasts, and one point does not depend on the one before. Trends and seasons make both kinds of error more likely.',
  )
  const goesOn = baseline.ruleSet.startsWith('run-') && (baseline.sides ?? []).length > 0
  if (goesOn && plan.leftOut.length === 0 && !plan.alreadySignals)
    sentences.push('The rules about the whole phase count its points from before the test too.')
  if (plan.alreadySignals)
    sentences.push(
      'The chart already shows a signal before the test, so only points from the test on are counted. A new phase would give the test a fair start.',
    )
  return sentences
}

/** What the smallest convincing result of a few trials would be, in one or two sentences. */
export function convincingText(measure: Measure, result: ConvincingResult | null): string {
  if (result === null)
    return 'Without baseline data nothing says what a convincing result would be. A few trials can still teach how the change works.'
  const { trials, below, above } = result
  const { better } = measure
  const wanted = [
    better === 'up' || below === null ? null : resultText(measure, result, below, 'less'),
    better === 'down' || above === null ? null : resultText(measure, result, above, 'more'),
  ].filter((text) => text !== null)
  const many = `${trials} ${trials === 1 ? 'trial' : 'trials'}`
  if (wanted.length === 0)
    return `No result of ${many} could stand out from this baseline in the ${better === null ? 'given' : 'better'} direction: use more trials, or learn from what happens.`
  return `${trials === 1 ? 'One trial stands' : `${many} stand`} out from the baseline with ${wanted.join(', or ')}. A result nearer to the baseline comes about by chance too often (more than 1 time in 20) to say that anything changed.`
}

function resultText(
  measure: Measure,
  { as, of, trials }: ConvincingResult,
  value: number,
  side: 'more' | 'less',
): string {
  const label = measure.unitLabel.trim() === '' ? '' : ` ${measure.unitLabel.trim()}`
  const many = `${formatNumber(value)} or ${side === 'more' ? 'more' : 'fewer'}`
  if (as === 'items') return `${many} of ${formatNumber(of ?? 0)}${label}`
  if (as === 'events')
    return of === null
      ? `${many}${label} in all`
      : `${many} in ${formatNumber(Math.round(of))}${label}`
  const unit = measure.valueFormat === 'duration' ? '' : label
  return `${trials === 1 ? 'a value' : 'a mean'} of ${formatValue(measure, value)}${unit} or ${side}`
}

/** One row of the table of chances. */
export interface ChanceRow {
  readonly label: string
  readonly chance: number
  readonly falseChance: number
  /** `null` past the horizon. */
  readonly doubledChance: number | null
}

/** Rows at most. */
const ROWS = 12

/** Chance of a signal by each week (or month, or point), up to where 9 times in 10 is reached. */
export function chanceRows(baseline: PlannerBaseline, plan: SignalPlan): ChanceRow[] {
  const step = baseline.rhythm.word === 'day' ? 7 : 1
  const word = baseline.rhythm.word === 'day' ? 'week' : baseline.rhythm.word
  const reach = plan.for90 ?? plan.for80 ?? HORIZON
  const needed = Math.max(3, Math.ceil(reach / step))
  const stride = Math.ceil(needed / ROWS)
  const rows: ChanceRow[] = []
  for (let k = stride; k * step <= HORIZON && rows.length < ROWS; k += stride) {
    const at = k * step - 1
    rows.push({
      label: `${word} ${k}`,
      chance: plan.chances[at]!,
      falseChance: plan.falseChances[at]!,
      doubledChance: plan.doubled.chances[at] ?? null,
    })
    if (k >= needed) break
  }
  return rows
}

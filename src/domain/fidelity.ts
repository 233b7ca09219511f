import { observationsOfTest } from './outcome.ts'
import type { Cycle, Decision, Measure, Observation, Prediction } from './record.ts'
import { compareMoments } from './series.ts'
import { measuresOf, type TestSizes, testSizes } from './test-size.ts'

export const PRINCIPLES = [
  'documented',
  'after-the-fact',
  'learning',
  'prediction',
  'iteration',
  'scale',
  'data-over-time',
] as const
export type Principle = (typeof PRINCIPLES)[number]

/**
 * How often 39 front-line teams kept to each principle, as a share of what could be judged among
 * their 421 cycles. McNicholas et al. (2019), BMJ Qual Saf 28:356, Table 2.
 */
export const PUBLISHED_ADHERENCE: Readonly<Record<Principle, number>> = {
  documented: 0.71,
  'after-the-fact': 0.846,
  learning: 0.983,
  prediction: 0.122,
  iteration: 0.545,
  scale: 0.297,
  'data-over-time': 0.453,
}

/** One principle, held against the record. */
export interface PrincipleFinding {
  readonly principle: Principle
  /** What is judged: each test of change, or each chain of tests. */
  readonly of: 'tests' | 'chains'
  /** One entry a test or chain, in order: whether the record shows it. */
  readonly held: readonly boolean[]
  /** What is missing, or what the record shows, in one sentence. */
  readonly sentence: string
  /** Published share of teams' cycles that kept to it, 0–1. */
  readonly published: number
}

interface ScoredTest {
  readonly cycle: Cycle
  readonly predictions: readonly Prediction[]
  readonly decision: Decision | null
}

interface ScoredMeasure {
  readonly measure: Measure
  readonly observations: readonly Observation[]
}

/**
 * The seven principles of the PDSA method that McNicholas et al. measured, scored from the record
 * alone. Only locked tests count: a plan is not a test yet.
 *
 * @param tests    Tests of one chain or of a whole project, in any order.
 * @param measures The project's measures with their data.
 * @returns One finding a principle, in the order of the paper; empty while no test is locked.
 *
 * @see McNicholas, Lennox, Woodcock, Bell & Reed (2019), BMJ Qual Saf 28:356.
 */
export function fidelity(
  tests: readonly ScoredTest[],
  measures: readonly ScoredMeasure[],
): PrincipleFinding[] {
  const locked = tests
    .filter(({ cycle }) => cycle.lockedAt !== null)
    .sort((a, b) => a.cycle.number - b.cycle.number)
  if (locked.length === 0) return []
  const chains = [...Map.groupBy(locked, ({ cycle }) => cycle.rampId).values()]
  const collected = (test: ScoredTest) =>
    measures.some((m) => observationsOfTest(test.cycle, m.observations).length > 0)

  const perTest = (
    principle: Principle,
    lack: (test: ScoredTest) => string | null,
    whole: string,
  ): PrincipleFinding => {
    const lacks = locked.map(lack)
    return finding(principle, 'tests', lacks, whole, (i) => `test ${locked[i]!.cycle.number}`)
  }
  const perChain = (
    principle: Principle,
    judge: (chain: readonly ScoredTest[]) => { held: boolean; words: string },
    several: string,
  ): PrincipleFinding => {
    const judged = chains.map(judge)
    const missing = judged.findIndex((j) => !j.held)
    const at = missing === -1 ? 0 : missing
    const only = chains.length === 1
    const name = `the chain that starts with test ${chains[at]![0]!.cycle.number}`
    return {
      principle,
      of: 'chains',
      held: judged.map((j) => j.held),
      sentence: only
        ? capital(judged[at]!.words)
        : missing === -1
          ? several
          : `In ${name}, ${judged[at]!.words}`,
      published: PUBLISHED_ADHERENCE[principle],
    }
  }

  return [
    perTest('documented', missingStage, 'Plan, Do, Study and Act are all written down.'),
    perTest('after-the-fact', studiedTooEarly, 'Each Study is dated after its Do was over.'),
    perTest(
      'learning',
      (test) =>
        collected(test) || !blank(test.cycle.happened) || !blank(test.cycle.learned)
          ? null
          : 'has no data and no words on what happened or was learned',
      'Each test has data, or words on what happened or was learned.',
    ),
    perTest(
      'prediction',
      ({ predictions }) =>
        predictions.some((p) => p.expected !== null && p.low !== null && p.high !== null)
          ? null
          : 'was locked without a predicted value and range',
      'Each test has a predicted value and range, locked before it started.',
    ),
    perTest(
      'iteration',
      ({ cycle }) =>
        locked.some((other) => other !== undefined && isNeighbor(other.cycle, cycle))
          ? null
          : 'stands alone: no other test builds on it',
      'Each test is one of a chain of two or more.',
    ),
    perChain(
      'scale',
      (chain) => scaleOf(testSizes(chain, measures)),
      'In every chain the last test is larger than the first.',
    ),
    perChain(
      'data-over-time',
      (chain) => dataOverTime(chain, measures),
      'Every chain has data at least once a month while it ran.',
    ),
  ]
}

const isNeighbor = (other: Cycle, cycle: Cycle) =>
  other.id !== cycle.id && other.rampId === cycle.rampId

function finding(
  principle: Principle,
  of: 'tests',
  lacks: readonly (string | null)[],
  whole: string,
  nameOf: (index: number) => string,
): PrincipleFinding {
  const open = lacks.flatMap((lack, i) => (lack === null ? [] : [{ i, lack }]))
  const first = open[0]
  const rest = open.length - 1
  const sentence =
    first === undefined
      ? whole
      : `${capital(nameOf(first.i))} ${first.lack}${rest === 0 ? '' : `, and ${rest === 1 ? 'one more test falls' : `${rest} more tests fall`} short`}.`
  return {
    principle,
    of,
    held: lacks.map((lack) => lack === null),
    sentence,
    published: PUBLISHED_ADHERENCE[principle],
  }
}

function missingStage({ cycle, decision }: ScoredTest): string | null {
  const stages: string[] = []
  if (blank(cycle.question) || blank(cycle.change)) stages.push('the plan')
  if (cycle.doneAt === null || blank(cycle.happened + cycle.wentWrong + cycle.surprises))
    stages.push('what happened')
  if (cycle.studiedAt === null || blank(cycle.learned)) stages.push('what was learned')
  if (decision === null) stages.push('a decision')
  if (stages.length === 0) return null
  const last = stages.at(-1)!
  return `does not have ${stages.length === 1 ? last : `${stages.slice(0, -1).join(', ')} or ${last}`} on record yet`
}

/** The paper asks whether Study is in the past tense; dates say it without reading the words. */
function studiedTooEarly({ cycle }: ScoredTest): string | null {
  const { studiedAt, doneAt, ranTo } = cycle
  if (studiedAt === null || doneAt === null) return 'has no finished Study yet'
  if (studiedAt < doneAt || (ranTo !== null && studiedAt.slice(0, 10) < ranTo))
    return 'was studied before it was over'
  return null
}

function scaleOf(sizes: TestSizes | null): { held: boolean; words: string } {
  if (sizes === null)
    return {
      held: false,
      words:
        'the record does not show two tests whose sizes can be compared: write a number under “How many”.',
    }
  const known = sizes.sizes.filter((size) => size !== null)
  const held = known.at(-1)! > known[0]!
  const list = known.map((size) => size.toLocaleString('en-GB')).join(', then ')
  const source =
    sizes.by === 'denominators'
      ? `${sizes.what} looked at: ${list}`
      : sizes.by === 'planned'
        ? `planned number${sizes.what === 'planned' ? '' : ` (${sizes.what})`}: ${list}`
        : `observations: ${list}`
  return {
    held,
    words: `the last test is ${held ? 'larger than' : known.at(-1)! === known[0]! ? 'as large as' : 'smaller than'} the first (${source}).`,
  }
}

/** Fewer dates than this are no series over time (common practice). */
const LEAST_DATES = 3
/** "Monthly or more often": Taylor et al. (2014), BMJ Qual Saf 23:290. */
const LONGEST_GAP_DAYS = 31

function dataOverTime(
  chain: readonly ScoredTest[],
  measures: readonly ScoredMeasure[],
): { held: boolean; words: string } {
  const from = chain.map(({ cycle }) => cycle.ranFrom).filter((d) => d !== null)
  const started = from.sort()[0]
  const ends = chain.map(({ cycle }) => cycle.ranTo)
  const ended = ends.includes(null)
    ? null
    : ends
        .filter((d) => d !== null)
        .sort()
        .at(-1)!
  let most = 0
  let gap: number | null = null
  for (const id of measuresOf(chain)) {
    const data = measures.find(({ measure }) => measure.id === id)
    if (data === undefined || started === undefined) continue
    const dates = [
      ...new Set(
        data.observations
          .filter((o) => o.leftOutReason === null && (o.value ?? o.numerator) !== null)
          .map((o) => o.at)
          .filter(
            (at) => at.slice(0, 10) >= started && (ended === null || at.slice(0, 10) <= ended),
          ),
      ),
    ].sort(compareMoments)
    const longest = longestGap(ended === null ? [started, ...dates] : [started, ...dates, ended])
    if (dates.length >= LEAST_DATES && longest <= LONGEST_GAP_DAYS)
      return {
        held: true,
        words: `${data.measure.name} has data at ${dates.length} times while the chain ran, at least once a month.`,
      }
    if (dates.length > most) {
      most = dates.length
      gap = longest
    }
  }
  if (most >= LEAST_DATES)
    return {
      held: false,
      words: `data stop for ${Math.round(gap!)} days at one place; once a month or more often is needed.`,
    }
  const seen = most === 0 ? 'no data' : most === 1 ? 'data at one time' : `data at ${most} times`
  return {
    held: false,
    words: `the measures it predicts have ${seen} while it ran; at least ${LEAST_DATES} are needed, once a month or more often.`,
  }
}

function longestGap(moments: readonly string[]): number {
  let longest = 0
  for (let i = 1; i < moments.length; i++) {
    const days = (Date.parse(moments[i]!) - Date.parse(moments[i - 1]!)) / 86_400_000
    longest = Math.max(longest, days)
  }
  return longest
}

const blank = (text: string) => text.trim() === ''
const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)

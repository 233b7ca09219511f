import { signalPlan } from '../src/domain/planner.ts'
import type { PlannerBaseline, PointModel } from '../src/domain/planner-baseline.ts'
import { smallestConvincing } from '../src/domain/planner-small-test.ts'
import type { Measure } from '../src/domain/record.ts'

// What the planner costs as somebody types a prediction: the first answer, and each one after it.
// Goal: under 50 ms.

const MODELS: Readonly<Record<string, PointModel>> = {
  'single values': { kind: 'normal', sigma: 0.1 },
  'shares of 40': { kind: 'p', denominators: [40, 38, 51, 44, 39, 22, 40, 38, 51, 44, 39, 22] },
  'rates, area 0.7': { kind: 'u', denominators: [0.7, 0.71, 0.68, 0.72] },
  'time between': { kind: 't' },
}
const middle = (costs: readonly number[]) => [...costs].sort((a, b) => a - b)[costs.length >> 1]!

const TYPED = [0.74, 0.75, 0.76, 0.77, 0.78]

for (const ruleSet of ['shewhart-healthcare', 'eight-tests', 'run-classic'] as const)
  for (const [name, model] of Object.entries(MODELS)) {
    const baseline: PlannerBaseline = {
      origin: 'frozen',
      level: 0.62,
      model,
      ruleSet,
      n: 24,
      values: [],
      numerator: 595,
      denominator: 960,
      lower: null,
      upper: null,
      rhythm: { word: 'week', days: 7 },
    }
    const costs = TYPED.map((after) => timed(() => signalPlan(baseline, after, 1, 4)))
    const rest = middle(costs.slice(1))
    print(`${ruleSet}, ${name}`, costs[0]!, rest)
  }

const values = Array.from({ length: 24 }, (_, i) => 50 + ((i * 7) % 11))
const single = { dataKind: 'single', valueFormat: 'number' } as Measure
const baseline = { n: values.length, values } as unknown as PlannerBaseline
for (const trials of [1, 3, 7]) {
  const costs = TYPED.map(() => timed(() => smallestConvincing(single, baseline, trials)))
  print(`smallest convincing result of ${trials}`, costs[0]!, middle(costs.slice(1)))
}

function timed(work: () => unknown): number {
  const begun = performance.now()
  work()
  return performance.now() - begun
}

function print(what: string, first: number, after: number): void {
  console.log(`${what.padEnd(44)} first ${first.toFixed(1)} ms, then ${after.toFixed(1)} ms`)
}

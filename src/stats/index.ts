export { analyze } from './analyze.ts'
export { chooseChart, guessChart } from './choose-chart.ts'
export { countLimits, proportionLimits, rateLimits } from './count-limits.ts'
export { individualsCenter } from './individuals-limits.ts'
export { RULE_SETS, ruleSetOf } from './rules.ts'
export { runCounts } from './run-counts.ts'
export {
  crossingsLimit,
  longestRunLimit,
  runsDistribution,
  runsLimits,
} from './runs-distribution.ts'
export { scanPoints, zonesOf } from './scan-points.ts'
export type * from './types.ts'

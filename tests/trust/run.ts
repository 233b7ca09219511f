// How far the findings can be trusted: invented stories whose truth is known, read as the page tells
// them. `npm run trust` takes 2,000 stories a kind and situation; `npm run trust -- 20000` is for release.
import { KINDS, SITUATIONS } from './stories.ts'
import { tallyOf } from './tally.ts'

const stories = Number(process.argv[2] ?? 2000)
const seed = Number(process.argv[3] ?? 1)
if (!Number.isInteger(stories) || stories < 1 || !Number.isInteger(seed)) {
  console.error('Give the number of stories, whole and above 0, and a whole seed: trust -- 2000 1')
  process.exit(2)
}
const percent = (part: number, of: number) => (of === 0 ? '–' : ((100 * part) / of).toFixed(1))
const columns = ['false', 'covered', 'missed', 'too little', 'refused', 'interval', 'if', 'of all']
const row = (kind: string, name: string, cells: readonly string[]) =>
  console.log(
    `${kind.padEnd(14)}${name.padEnd(12)}${cells.map((c, i) => c.padStart(Math.max(7, columns[i]!.length + 2))).join('')}`,
  )
console.log(
  `${stories} stories a line, seed ${seed}; percent.
false       claims of a change that is not there, or the other way round; stated 5 at most
covered     intervals that hold the true change; 95 said, 94 to 97 wanted
missed      real changes that are not claimed; one story in five has 3 points before, which never claim
too little  "too little to tell"
refused     "no change can be claimed", with the assumption that fails
interval    findings that print an interval
if          intervals whose stated condition the story breaks; not among those of "covered"
of all      printed intervals that hold the true change, those too`,
)
row('data kind', 'situation', columns)
/** Three standard errors of a share seen in so many. */
const slack = (share: number, n: number) => 3 * Math.sqrt((share * (1 - share)) / n)
const off: string[] = []
for (const kind of KINDS) {
  for (const situation of SITUATIONS) {
    const t = tallyOf(kind, situation, stories, seed)
    const { name, shift } = situation
    row(kind, name, [
      percent(t.falseClaims, stories),
      percent(t.covered, t.intervals),
      shift === 0 ? '–' : percent(stories - t.claims, stories),
      percent(t.tooLittle, stories),
      percent(t.refused, stories),
      percent(t.printed, stories),
      percent(t.conditionBroken, stories),
      percent(t.coveredOfAll, t.printed),
    ])
    if (t.falseClaims / stories > 0.05 + slack(0.05, stories))
      off.push(`${kind}, ${name}: false claims ${percent(t.falseClaims, stories)}`)
    const covered = t.covered / t.intervals
    if (covered < 0.94 - slack(0.94, t.intervals) || covered > 0.97 + slack(0.97, t.intervals))
      off.push(`${kind}, ${name}: intervals hold ${percent(t.covered, t.intervals)}`)
  }
}
console.log(
  off.length === 0
    ? 'Every line keeps its stated rates, within three standard errors.'
    : `Beyond the stated rates by more than three standard errors:\n${off.join('\n')}`,
)
process.exitCode = off.length === 0 ? 0 : 1

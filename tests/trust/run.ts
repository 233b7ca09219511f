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
const percent = (part: number, of: number) =>
  of === 0 ? '    –' : `${((100 * part) / of).toFixed(1).padStart(5)}`
const columns = ['false', 'covered', 'missed', 'too little', 'refused']
console.log(
  `${stories} stories a line, seed ${seed}; percent. False: stated 5 at most. Covered: 95 said.`,
)
console.log(`${'data kind'.padEnd(14)}${'situation'.padEnd(12)}${columns.join('  ')}`)
// The stated rate, and three standard errors of so many stories.
const most = 0.05 + 3 * Math.sqrt((0.05 * 0.95) / stories)
let beyond = 0
for (const kind of KINDS) {
  for (const situation of SITUATIONS) {
    const t = tallyOf(kind, situation, stories, seed)
    const cells = [
      percent(t.falseClaims, stories),
      percent(t.covered, t.intervals).padStart(7),
      situation.shift === 0 ? '     –' : percent(stories - t.claims, stories).padStart(6),
      percent(t.tooLittle, stories).padStart(10),
      percent(t.refused, stories).padStart(7),
    ]
    if (t.falseClaims / stories > most) beyond++
    console.log(`${kind.padEnd(14)}${situation.name.padEnd(12)}${cells.join('  ')}`)
  }
}
console.log(
  beyond === 0
    ? 'False claims keep their stated rate in every line.'
    : `False claims are beyond their stated rate in ${beyond} lines.`,
)
process.exitCode = beyond === 0 ? 0 : 1

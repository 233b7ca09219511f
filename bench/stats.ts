// Individuals limits and six rules on a long column and on many short ones: the library's pass over
// typed arrays, against the least a hand-made table pass could do, plain loops, and NumPy and pandas
// where Python has them. Then the exact run length of the four zone tests, simulated charts, and how
// the time grows with the number of points.
import { spawn, spawnSync } from 'node:child_process'
import { rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { createInterface } from 'node:readline'
import { analyze } from '../src/stats/analyze.ts'
import { individualsColumn } from '../src/stats/column-chart.ts'
import { MET_SHIFT, ROW_MASK } from '../src/stats/rule-automaton.ts'
import { type PointRule, RULE_SETS, type RuleSet } from '../src/stats/rules.ts'
import { averageRunLength } from '../src/stats/run-length.ts'
import { automataOf } from '../src/stats/scan-points.ts'
import { simulateSignals } from '../src/stats/simulate-signals.ts'
import { createRandom } from '../src/stats/special/random.ts'
import { type Contender, interleave, printTable } from './measure.ts'

/** The rules every contender looks for. */
const fourOfFive = RULE_SETS['zone-tests'].pointRules.find((r) => r.slug === 'four-of-five')!
const six: RuleSet = {
  ...RULE_SETS['shewhart-healthcare'],
  pointRules: [...RULE_SETS['shewhart-healthcare'].pointRules, fourOfFive],
}

const random = createRandom(20260105)
const LONG = 1_000_000
const SERIES = 5_000
const LENGTH = 120
const long = Float64Array.from({ length: LONG }, () => 10 + 2 * random.normal())
const short = Float64Array.from({ length: SERIES * LENGTH }, () => 10 + 2 * random.normal())
const hits = new Uint16Array(LONG)

/** Limits by the same sums as everyone else's. */
function limitsOf(x: Float64Array, start: number, end: number) {
  let sum = 0
  let ranges = 0
  for (let i = start; i < end; i++) sum += x[i]!
  for (let i = start + 1; i < end; i++) ranges += Math.abs(x[i]! - x[i - 1]!)
  const sigma = (ranges / (end - start - 1) / 2) * Math.sqrt(Math.PI)
  return { center: sum / (end - start), sigma }
}

/** The least a table pass can do: no ties, no rounding, no growing tables. */
function tablePass() {
  const { zone, order } = automataOf(six.pointRules)
  individualsColumn(long, six, 0, LONG, hits)
  const zoneEdges = zone.edges.map((edge) => Math.max(0, edge))
  const orderEdges = order.edges.map((edge) => Math.max(0, edge))
  const zoneBySigma = Uint8Array.of(8, 7, 6, 5, 1, 2, 3, 4)
  return (x: Float64Array, start: number, end: number) => {
    const { center, sigma } = limitsOf(x, start, end)
    const scale = 1 / sigma
    let zoneEdge = 0
    let orderEdge = 0
    let previous = x[start]!
    for (let i = start; i < end; i++) {
      const value = x[i]!
      const whole = Math.floor((value - center) * scale)
      const at = zoneBySigma[whole < -4 ? 0 : whole > 3 ? 7 : whole + 4]!
      zoneEdge = zoneEdges[(zoneEdge & ROW_MASK) + at]!
      orderEdge = orderEdges[(orderEdge & ROW_MASK) + 1 - Math.sign(value - previous)]!
      previous = value
      hits[i] = (zoneEdge | orderEdge) >> MET_SHIFT
    }
  }
}

/** One loop a rule, as the rules are read aloud. */
function plainLoops(x: Float64Array, start: number, end: number): void {
  const { center, sigma } = limitsOf(x, start, end)
  const runs = (bit: number, length: number, kind: (i: number) => number) => {
    let run = 0
    let last = 0
    for (let i = start; i < end; i++) {
      const now = kind(i)
      run = now === 0 ? 0 : now === last ? run + 1 : 1
      last = now
      if (run >= length) hits[i]! |= bit
    }
  }
  const windows = (bit: number, need: number, of: number, beyond: number) => {
    for (let i = start; i < end; i++) {
      let up = 0
      let down = 0
      for (let j = Math.max(start, i - of + 1); j <= i; j++) {
        if (x[j]! > center + beyond * sigma) up++
        else if (x[j]! < center - beyond * sigma) down++
      }
      if (up >= need || down >= need) hits[i]! |= bit
    }
  }
  hits.fill(0, start, end)
  windows(1, 1, 1, 3)
  runs(2, 8, (i) => Math.sign(x[i]! - center))
  runs(4, 5, (i) => (i === start ? 0 : Math.sign(x[i]! - x[i - 1]!)))
  windows(8, 2, 3, 2)
  runs(16, 15, (i) => (Math.abs(x[i]! - center) <= sigma ? 1 : 0))
  windows(32, 4, 5, 1)
}

/** A process that answers one line to each line; `null` where it does not start. */
async function other(
  command: string,
  name: string,
): Promise<{
  ask: (line: string) => Promise<number>
  end: () => void
} | null> {
  const script = new URL(name, import.meta.url).pathname
  const child = spawn(command, [script], { stdio: ['pipe', 'pipe', 'ignore'] })
  const waiting: ((line: string | null) => void)[] = []
  createInterface({ input: child.stdout }).on('line', (line) => waiting.shift()?.(line))
  const gone = () => {
    for (const answer of waiting.splice(0)) answer(null)
  }
  child.on('error', gone)
  child.on('close', gone)
  child.stdin.on('error', gone)
  const ask = async (line: string) => {
    const answer = new Promise<string | null>((resolve) => waiting.push(resolve))
    child.stdin.write(`${line}\n`)
    return Number((await answer) ?? Number.NaN)
  }
  if (Number.isNaN(await ask('has-pandas x'))) return null
  return { ask, end: () => child.stdin.end() }
}

const files = {
  long: join(tmpdir(), `pawl-${process.pid}-long`),
  short: join(tmpdir(), `pawl-${process.pid}-short`),
}
/** The Python that has pandas, else the first that has NumPy. */
function pythonCommand(): string {
  const found = [process.env['PYTHON'], '/usr/bin/python3', 'python3'].filter(
    (c) => c !== undefined,
  )
  const has = (module: string) =>
    found.find((c) => spawnSync(c, ['-c', `import ${module}`], { stdio: 'ignore' }).status === 0)
  return has('numpy, pandas') ?? has('numpy') ?? 'python3'
}

const py = await other(pythonCommand(), 'stats-numpy.py')
const r = await other('Rscript', 'stats-base.R')
const pyLong: Contender[] = []
const pyShort: Contender[] = []
if (py === null) {
  console.log('NumPy is not installed, so it is not compared.')
} else {
  for (const [name, data] of [
    ['long', long],
    ['short', short],
  ] as const) {
    writeFileSync(files[name], new Uint8Array(data.buffer))
    await py.ask(`load ${name} ${files[name]}`)
    rmSync(files[name])
  }
  pyLong.push({ name: 'NumPy, vectorised', run: () => py.ask('numpy long') })
  pyShort.push({
    name: 'NumPy, a series at a time',
    run: () => py.ask(`numpy-each short ${LENGTH}`),
  })
  if ((await py.ask('has-pandas x')) === 1) {
    pyLong.push({ name: 'pandas, rolling', run: () => py.ask('pandas long') })
    pyShort.push({ name: 'pandas, grouped', run: () => py.ask(`pandas-each short ${LENGTH}`) })
  }
}

if (r === null) {
  console.log('R is not installed, so it is not compared.')
} else {
  for (const [name, data] of [
    ['long', long],
    ['short', short],
  ] as const) {
    writeFileSync(files[name], data)
    await r.ask(`load ${name} ${files[name]}`)
    rmSync(files[name])
  }
  pyLong.push({ name: 'base R, vectorised', run: () => r.ask('column long') })
  pyShort.push({ name: 'base R, series by series', run: () => r.ask(`each short ${LENGTH}`) })
}

const bare = tablePass()
// Compile for short columns first, so that the long one does not run half-compiled code.
for (let s = 0; s < SERIES; s++) {
  individualsColumn(short, six, s * LENGTH, (s + 1) * LENGTH, hits)
  bare(short, s * LENGTH, (s + 1) * LENGTH)
}
const each = (run: (start: number, end: number) => void) => () => {
  for (let s = 0; s < SERIES; s++) run(s * LENGTH, (s + 1) * LENGTH)
}
const OURS = 'pawl/stats, typed arrays'
printTable(
  `Individuals limits and six rules, one column of ${LONG.toLocaleString('en')} points`,
  await interleave(
    [
      { name: OURS, run: () => individualsColumn(long, six, 0, LONG, hits) },
      { name: 'bare table pass', run: () => bare(long, 0, LONG) },
      { name: 'plain loops', run: () => plainLoops(long, 0, LONG) },
      ...pyLong,
    ],
    9,
  ),
  OURS,
)
printTable(
  `The same, ${SERIES.toLocaleString('en')} series of ${LENGTH} points`,
  await interleave(
    [
      { name: OURS, run: each((a, b) => individualsColumn(short, six, a, b, hits)) },
      { name: 'bare table pass', run: each((a, b) => bare(short, a, b)) },
      { name: 'plain loops', run: each((a, b) => plainLoops(short, a, b)) },
      ...pyShort,
    ],
    9,
  ),
  OURS,
)
py?.end()
r?.end()

const at = Array.from({ length: 60 }, (_, i) => String(i + 1))
const values = Array.from(long.subarray(0, 60))
const zoneTests = RULE_SETS['zone-tests'].pointRules
printTable(
  'Small work',
  await interleave(
    [
      {
        name: 'analyze, 60 points with objects',
        run: () => analyze({ at, values }, { kind: 'individuals' }),
      },
      // A copy of the list is a list not seen before, so the chain is built anew.
      {
        name: 'run length, four zone tests, chain built',
        run: () => averageRunLength([...zoneTests] as PointRule[]),
      },
      { name: 'run length, chain kept', run: () => averageRunLength(zoneTests) },
      {
        name: '20,000 simulated charts of 24 points',
        run: () =>
          simulateSignals(
            { kind: 'individuals', ruleSet: 'shewhart-healthcare', points: 24 },
            { charts: 20_000 },
          ),
      },
    ],
    9,
  ),
  'run length, four zone tests, chain built',
)

const grown = Float64Array.from({ length: 10_000_000 }, () => random.normal())
const most = new Uint16Array(grown.length)
console.log('\nGrowth, nanoseconds a point')
for (const n of [1e3, 1e4, 1e5, 1e6, 1e7]) {
  const repeat = Math.max(1, Math.round(2e6 / n))
  const [measured] = await interleave(
    [{ name: String(n), run: () => individualsColumn(grown, six, 0, n, most) }],
    5,
    repeat,
  )
  console.log(
    `  ${n.toLocaleString('en').padStart(10)}  ${((measured!.median * 1e6) / n).toFixed(1).padStart(6)}`,
  )
}

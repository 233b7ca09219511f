import { spawnSync } from 'node:child_process'
import { existsSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { createRandom } from '../../src/stats/special/random.ts'
import { type Case, drawFrom, type Input } from './case.ts'
import { chartCases } from './chart-cases.ts'
import { distributionCases } from './distribution-cases.ts'
import { methodCases } from './method-cases.ts'

export const CASES: readonly Case[] = [...distributionCases, ...methodCases, ...chartCases]
export const INPUTS_EACH = 2000

/** How one function did. */
export interface Verdict {
  readonly name: string
  readonly against: string
  readonly inputs: number
  readonly tolerance: number
  readonly worst: number
  /** The input of the worst error, with both answers. */
  readonly at: string
}

const REFERENCE = fileURLToPath(new URL('reference.py', import.meta.url))
const WANTED = 'import scipy, statsmodels'

/** A Python that has SciPy and statsmodels: PYTHON, else Debian's own, else the first on the path. */
export function findPython(): string | null {
  const candidates = [process.env['PYTHON'], '/usr/bin/python3', 'python3'].filter(
    (p): p is string => p !== undefined && (!p.startsWith('/') || existsSync(p)),
  )
  return (
    candidates.find((p) => spawnSync(p, ['-c', WANTED], { stdio: 'ignore' }).status === 0) ?? null
  )
}

/** Draws the inputs of every case, asks the reference, and finds the worst error of each. */
export function compare(python: string, seed: number): Verdict[] {
  const inputs = new Map<string, Input[][]>()
  CASES.forEach((c, i) => {
    const draw = drawFrom(createRandom(seed * 1000 + i))
    inputs.set(
      c.name,
      Array.from({ length: INPUTS_EACH }, () => c.draw(draw)),
    )
  })
  const run = spawnSync(python, [REFERENCE], {
    input: JSON.stringify(Object.fromEntries(inputs)),
    encoding: 'utf8',
    maxBuffer: 1 << 28,
    env: { ...process.env, OPENBLAS_NUM_THREADS: '1', OMP_NUM_THREADS: '1' },
  })
  if (run.status !== 0) throw new Error(`The reference failed:\n${run.stderr.slice(-3000)}`)
  if (process.env['CROSSCHECK_TIMES'] !== undefined) console.error(run.stderr)
  const answers = JSON.parse(run.stdout) as Record<string, unknown[]>
  return CASES.map((c) => {
    const start = performance.now()
    const verdict = judge(c, inputs.get(c.name)!, answers[c.name]!)
    if (process.env['CROSSCHECK_TIMES'] !== undefined) {
      console.error(`ours ${c.name} ${((performance.now() - start) / 1000).toFixed(2)} s`)
    }
    return verdict
  })
}

function judge(c: Case, inputs: readonly Input[][], answers: readonly unknown[]): Verdict {
  let worst = 0
  let at = ''
  let compared = 0
  inputs.forEach((input, i) => {
    const got = [c.ours(...input)].flat()
    const want = [answers[i]].flat().map(Number)
    if (got.length !== want.length) {
      worst = Infinity
      at = `${JSON.stringify(input)}: ${got.length} answers against ${want.length}`
      return
    }
    compared++
    want.forEach((reference, j) => {
      const ours = got[j]!
      const error = errorOf(ours, reference, c.floor ?? 1e-300)
      if (error > worst || Number.isNaN(error)) {
        worst = Number.isNaN(error) ? Infinity : error
        at = `${JSON.stringify(input).slice(0, 300)} [${j}]: ${ours} against ${reference}`
      }
    })
  })
  return { name: c.name, against: c.against, inputs: compared, tolerance: c.tolerance, worst, at }
}

const LOG_1E300 = -690.7

function errorOf(ours: number, reference: number, floor: number): number {
  if (Object.is(ours, reference) || ours === reference) return 0
  // Logs of subnormal numbers carry few digits, logs of 0 none: 1e-300 is as far as the reference goes.
  if (reference < LOG_1E300 && ours < LOG_1E300) return 0
  return Math.abs(ours - reference) / Math.max(Math.abs(reference), floor)
}

/** One line a function: worst relative error, and what it was held against. */
export function report(verdicts: readonly Verdict[]): string {
  const wide = Math.max(...verdicts.map((v) => v.name.length))
  return verdicts
    .map((v) => {
      const mark = v.worst <= v.tolerance ? 'ok  ' : 'OFF '
      return `${mark}${v.name.padEnd(wide)}  ${v.worst.toExponential(1).padStart(8)}  of ${v.tolerance.toExponential(0).padStart(5)}  ${v.inputs} inputs  ${v.against}`
    })
    .join('\n')
}

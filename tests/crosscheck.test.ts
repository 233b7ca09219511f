import { expect, it } from 'vitest'
import { CASES, compare, findPython, INPUTS_EACH, report } from './crosscheck/compare.ts'

const python = findPython()
const ABSENT =
  'THE STATISTICS WERE NOT CROSS-CHECKED: no Python with SciPy and statsmodels was found. ' +
  'On Debian: apt-get install python3-scipy python3-statsmodels; else set PYTHON.'

it('finds SciPy and statsmodels wherever tests run unattended', () => {
  if (python === null && process.env['CI'] !== undefined) throw new Error(ABSENT)
  if (python === null) console.warn(`\n${'!'.repeat(80)}\n${ABSENT}\n${'!'.repeat(80)}\n`)
  expect(CASES.length).toBeGreaterThan(60)
})

it.skipIf(python === null)(
  'agrees with SciPy, statsmodels and NumPy on 2,000 random inputs a function',
  () => {
    const verdicts = compare(python!, 1)
    console.log(report(verdicts))
    expect(
      verdicts.filter((v) => !(v.worst <= v.tolerance)).map((v) => `${v.name}: ${v.at}`),
    ).toEqual([])
    expect(verdicts.every((v) => v.inputs === INPUTS_EACH)).toBe(true)
  },
  300_000,
)

import { compare, findPython, report } from './compare.ts'

// Prints the worst relative error of every function against SciPy, statsmodels and NumPy.
// `node tests/crosscheck/run.ts [seed]`; leaves with 1 where one is off, 2 where there is no SciPy.
const python = findPython()
if (python === null) {
  console.error(
    'No Python with SciPy and statsmodels was found. On Debian: apt-get install python3-scipy python3-statsmodels; else set PYTHON.',
  )
  process.exitCode = 2
} else {
  const verdicts = compare(python, Number(process.argv[2] ?? 1))
  console.log(report(verdicts))
  const off = verdicts.filter((v) => !(v.worst <= v.tolerance))
  for (const v of off) console.error(`${v.name} is off at ${v.at}`)
  process.exitCode = off.length === 0 ? 0 : 1
}

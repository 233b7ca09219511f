// `npm run check`: what CI runs, in the same order. `--static` leaves the tests out.
import { spawnSync } from 'node:child_process'

const steps = [
  ['format and lint', 'biome', ['ci', '--error-on-warnings', '.']],
  ['types: core', 'tsc', ['-p', 'tsconfig.core.json']],
  ['types: node', 'tsc', ['-p', 'tsconfig.node.json']],
  ['types: web', 'tsc', ['-p', 'tsconfig.web.json']],
  ['types: table', 'tsc', ['-p', 'tsconfig.table.json']],
  ['unused files, exports and packages', 'knip', []],
]
if (!process.argv.includes('--static')) steps.push(['tests', 'npm', ['test']])

for (const [title, command, args] of steps) {
  console.log(`\n== ${title}`)
  const { status } = spawnSync(command, args, {
    stdio: 'inherit',
    shell: process.platform === 'win32',
  })
  if (status !== 0) {
    console.error(`\n${title}: failed.`)
    process.exit(status ?? 1)
  }
}

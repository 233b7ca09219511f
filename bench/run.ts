// `npm run bench`: every benchmark one after the other, or those named: `npm run bench chart saves`.
// Each prints medians and ratios against a reference measured in the same run.
import { spawnSync } from 'node:child_process'
import { readdirSync } from 'node:fs'
import { fileURLToPath } from 'node:url'

const folder = fileURLToPath(new URL('.', import.meta.url))
const all = readdirSync(folder)
  .filter(
    (file) => file.endsWith('.ts') && !['run.ts', 'measure.ts', 'room-screens.ts'].includes(file),
  )
  .map((file) => file.slice(0, -3))
const wanted = process.argv.slice(2)
const unknown = wanted.find((name) => !all.includes(name))
if (unknown !== undefined) {
  console.error(`There is no benchmark "${unknown}". There are: ${all.join(', ')}.`)
  process.exit(2)
}

for (const name of wanted.length > 0 ? wanted : all) {
  console.log(`\n== ${name}`)
  const { status } = spawnSync(process.execPath, [`${folder}${name}.ts`], { stdio: 'inherit' })
  if (status !== 0) process.exitCode = 1
}

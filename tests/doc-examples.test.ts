import { globSync, readFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { expect, it } from 'vitest'

// Runs every docstring line of the form `call(...) // => value` in the pure layers, with the
// exports of its own file, and of the files that one imports, in reach.
const files = globSync('src/{stats,domain,charts}/**/*.ts').filter((f) => !f.includes('.test.'))
const examples = files.flatMap((file) => {
  const source = readFileSync(file, 'utf8')
  return [...source.matchAll(/^\s*\* (\S.*?) \/\/ => (.+)$/gm)].map((m) => ({
    file,
    call: m[1]!,
    value: m[2]!,
  }))
})

it('finds the examples', () => {
  expect(examples.length).toBeGreaterThan(20)
})

it.each(examples)('$file: $call', async ({ file, call, value }) => {
  const scope: Record<string, unknown> = {}
  const imported = [...readFileSync(file, 'utf8').matchAll(/from '(\.[^']+\.ts)'/g)].map((m) =>
    join(dirname(file), m[1]!),
  )
  for (const path of [...imported, file]) Object.assign(scope, await load(path))
  const run = (code: string) =>
    new Function(...Object.keys(scope), `return (${code})`)(...Object.values(scope))
  const got = run(call)
  const want = run(value)
  if (typeof want === 'number' && !Number.isInteger(want)) expect(got).toBeCloseTo(want, 9)
  else expect(got).toEqual(want)
})

const load = (path: string): Promise<Record<string, unknown>> =>
  import(/* @vite-ignore */ pathToFileURL(path).href)

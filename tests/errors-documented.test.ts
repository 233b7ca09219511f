import { globSync, readFileSync } from 'node:fs'
import { expect, it } from 'vitest'

const CODE = /['"`]([a-z]+(?:-[a-z]+)*\.[a-z0-9_]+)['"`]/g
const sources = globSync('src/**/*.{ts,tsx}').filter((f) => !/\.test\.tsx?$/.test(f))
const documented = new Set(
  [...readFileSync('docs/errors.md', 'utf8').matchAll(/^### `([^`]+)`/gm)].map((m) => m[1]!),
)

/** Every code the source throws: the first argument of AppError, and `code:` of an issue. */
const thrown = new Map<string, string>()
for (const file of sources) {
  const text = readFileSync(file, 'utf8')
  for (const m of text.matchAll(/(?:new AppError\(\s*|\bcode: )(['"`][a-z-]+\.[a-z0-9_]+['"`])/g))
    for (const [, code] of m[1]!.matchAll(CODE)) thrown.set(code!, file)
}

it('finds the codes in the source', () => {
  expect(thrown.size).toBeGreaterThan(30)
})

it.each([...thrown])('%s, thrown in %s, is explained in docs/errors.md', (code) => {
  expect(documented).toContain(code)
})

it.each([...documented])('%s of docs/errors.md is still in the source', (code) => {
  const [area, problem] = code.split('.')
  const found = sources.some((file) => {
    const text = readFileSync(file, 'utf8')
    // Codes of one area may be put together from the area and a problem: `cycle.${code}`.
    return (
      text.includes(`'${code}'`) ||
      (text.includes(`\`${area}.\${`) && text.includes(`'${problem}'`))
    )
  })
  expect(found).toBe(true)
})

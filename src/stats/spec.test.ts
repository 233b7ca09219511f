import { readdirSync, readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { RULE_SETS } from './rules.ts'

const folder = new URL('./', import.meta.url)
const spec = readFileSync(new URL('SPEC.md', folder), 'utf8')
const ids = [...spec.matchAll(/^\| ([A-Z]+\d+) +\|/gm)].map((match) => match[1]!)
// The names of tests are the string literals that follow `it(`, `describe(` or the table of `each`.
const quoted = new Set(
  readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((file) => file.endsWith('.test.ts') && !file.endsWith('spec.test.ts'))
    .flatMap((file) => [
      ...readFileSync(new URL(file, folder), 'utf8').matchAll(
        /(?:\bit\(|\bdescribe\(|\]\)\(|\bconst\)\()\s*(['"`])(.*?)\1/g,
      ),
    ])
    .flatMap((match) => match[2]!.match(/\b[A-Z]{2,}\d+\b/g) ?? []),
)

describe('SPEC.md', () => {
  it('gives every rule its own ID', () => {
    expect(ids.length).toBeGreaterThan(30)
    expect(new Set(ids).size).toBe(ids.length)
  })

  it.each(ids)('%s is quoted by the name of a test', (id) => {
    expect(quoted).toContain(id)
  })

  it('lists every rule of every rule set by its slug', () => {
    for (const { pointRules, phaseRules } of Object.values(RULE_SETS)) {
      for (const slug of [...pointRules.map((rule) => rule.slug), ...phaseRules]) {
        expect(spec).toMatch(new RegExp(`\\| \`${slug}\` +\\|`))
      }
    }
  })
})

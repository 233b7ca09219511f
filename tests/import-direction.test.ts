import { globSync, readFileSync } from 'node:fs'
import { dirname, join, normalize } from 'node:path'
import { describe, expect, it } from 'vitest'

/** Read top to bottom: a layer may import itself and the layers it lists. */
const MAY_IMPORT: Readonly<Record<string, readonly string[]>> = {
  errors: [],
  stats: ['errors'],
  domain: ['errors', 'stats'],
  charts: ['errors', 'stats'],
  tabular: ['errors', 'domain', 'api'],
  api: ['errors', 'domain', 'stats'],
  storage: ['errors', 'domain'],
  server: ['errors', 'stats', 'domain', 'charts', 'tabular', 'storage', 'api'],
  cli: ['errors', 'stats', 'domain', 'charts', 'tabular', 'storage', 'api', 'server'],
  web: ['errors', 'stats', 'domain', 'charts', 'api'],
  table: ['errors', 'stats', 'domain', 'charts', 'api'],
}

/** npm packages and Node modules a layer may use; layers not named here may use any. */
const PACKAGES: Readonly<Record<string, readonly string[]>> = {
  errors: [],
  stats: [],
  domain: [],
  charts: ['d3-scale', 'd3-shape', 'd3-array', 'd3-time-format'],
  tabular: ['csv-parse', 'csv-parse/sync'],
  // Small enough for a phone on a poor network.
  table: ['preact', 'preact/hooks'],
}

const layerOf = (path: string) =>
  normalize(path)
    .split('/')[1]!
    .replace(/\.tsx?$/, '')
const files = globSync('src/**/*.{ts,tsx}').filter((f) => !/\.test\.tsx?$/.test(f))

/** A whole import or export statement, which begins a line; its names may stand on lines of their own. */
const STATEMENT = /^(?:import|export)\s+(type\s+)?(?:[\w$*{},\s]+?\s+from\s+)?['"]([^'"\n]+)['"]/gm
const AT_RUN_TIME = /\bimport\(\s*['"]([^'"\n]+)['"]\s*\)/g

function importsIn(text: string): { target: string; typeOnly: boolean }[] {
  const source = text.replace(/^\s*(?:\/\/|\/?\*).*$/gm, '')
  return [
    ...[...source.matchAll(STATEMENT)].map((m) => ({
      target: m[2]!,
      typeOnly: m[1] !== undefined,
    })),
    ...[...source.matchAll(AT_RUN_TIME)].map((m) => ({ target: m[1]!, typeOnly: false })),
  ]
}
const importsOf = (file: string) => importsIn(readFileSync(file, 'utf8'))

it('reads the imports of a file, whatever lines they stand on', () => {
  const text = `import { a } from './a.ts'
import type { Longer, AndLonger } from '../api/contract.ts'
import './style.css'
export { b } from './b.ts'
export type { C } from './c.ts'
export const from = 'nowhere'
import {
  type D,
  e,
} from '../api/records.ts'
// import './comment.ts'
const later = () => import('./later.ts')
`
  expect(importsIn(text)).toEqual([
    { target: './a.ts', typeOnly: false },
    { target: '../api/contract.ts', typeOnly: true },
    { target: './style.css', typeOnly: false },
    { target: './b.ts', typeOnly: false },
    { target: './c.ts', typeOnly: true },
    { target: '../api/records.ts', typeOnly: false },
    { target: './later.ts', typeOnly: false },
  ])
})

describe('import direction', () => {
  it('looks at every file of the source tree', () => {
    expect(files.length).toBeGreaterThan(60)
    expect([...new Set(files.map(layerOf))].sort()).toEqual(Object.keys(MAY_IMPORT).sort())
  })

  it.each(files)('%s imports only layers below it', (file) => {
    const layer = layerOf(file)
    for (const { target, typeOnly } of importsOf(file)) {
      if (target.startsWith('.')) {
        if (/\.(css|svg|woff2)(\?|$)/.test(target)) continue
        const other = layerOf(join(dirname(file), target))
        expect([layer, ...MAY_IMPORT[layer]!], `${file} imports ${target}`).toContain(other)
        // The browser must not carry the schema library: it takes types from api/, nothing that runs.
        if ((layer === 'web' || layer === 'table') && other === 'api')
          expect(typeOnly, `${file} imports ${target} as a value`).toBe(true)
      } else if (PACKAGES[layer] !== undefined) {
        expect(PACKAGES[layer], `${file} imports ${target}`).toContain(target)
      }
    }
  })
})

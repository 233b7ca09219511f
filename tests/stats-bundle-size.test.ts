import { gzipSync } from 'node:zlib'
import { build } from 'vite'
import { expect, it } from 'vitest'

it('analyze with every chart costs a page less than 25 KB, gzipped', async () => {
  const entry = new URL('../src/stats/analyze.ts', import.meta.url).pathname
  const result = await build({
    configFile: false,
    logLevel: 'silent',
    build: {
      write: false,
      minify: true,
      lib: { entry, formats: ['es'], fileName: 'analyze' },
    },
  })
  const code = [result]
    .flat()
    .flatMap((part) => ('output' in part ? part.output : []))
    .map((part) => (part.type === 'chunk' ? part.code : ''))
    .join('')
  // Every kind of chart is in it.
  for (const kind of ['xbar-s', 'p-prime', 'cusum', 'moving-range']) expect(code).toContain(kind)
  const size = gzipSync(code, { level: 9 }).length
  console.log(`analyze: ${size} bytes gzipped`)
  expect(size).toBeLessThan(25_000)
}, 60_000)

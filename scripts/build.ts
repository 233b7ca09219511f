// Builds what `npm start` runs: dist/web (the browser's files) and dist/pawl.mjs (server and
// command line, with its packages bundled in, since loading hundreds of small files is most of a start).
import { spawnSync } from 'node:child_process'
import { createReadStream, createWriteStream } from 'node:fs'
import { readdir, rm, stat } from 'node:fs/promises'
import { join } from 'node:path'
import { pipeline } from 'node:stream/promises'
import { fileURLToPath } from 'node:url'
import { constants, createBrotliCompress, createGzip } from 'node:zlib'
import { build } from 'vite'

const root = fileURLToPath(new URL('..', import.meta.url))
const dist = join(root, 'dist')

// Native modules stay outside, loaded from node_modules when they are first needed.
const NATIVE = ['@node-rs/argon2', '@resvg/resvg-js', 'pg-native']

await rm(dist, { recursive: true, force: true })
await build({ configFile: join(root, 'vite.config.ts'), logLevel: 'warn' })
await build({ configFile: join(root, 'vite.table.config.ts'), logLevel: 'warn' })
await build({
  root,
  configFile: false,
  logLevel: 'warn',
  publicDir: false,
  ssr: { noExternal: true, external: NATIVE, target: 'node' },
  build: {
    ssr: true,
    target: 'node24',
    outDir: dist,
    emptyOutDir: false,
    copyPublicDir: false,
    minify: false,
    rollupOptions: {
      input: { pawl: join(root, 'src/cli/main.ts') },
      output: { entryFileNames: '[name].mjs', chunkFileNames: 'chunks/[name]-[hash].mjs' },
    },
  },
})
// The statistics as a library of their own, `pawl/stats`: one file and its types.
await build({
  root,
  configFile: false,
  logLevel: 'warn',
  publicDir: false,
  build: {
    target: 'es2024',
    outDir: dist,
    emptyOutDir: false,
    copyPublicDir: false,
    minify: false,
    lib: { entry: join(root, 'src/stats/index.ts'), formats: ['es'], fileName: () => 'stats.mjs' },
  },
})
const types = spawnSync(
  process.execPath,
  [
    join(root, 'node_modules/typescript/bin/tsc'),
    ...['-p', join(root, 'tsconfig.core.json')],
    ...['--noEmit', 'false', '--declaration', '--emitDeclarationOnly'],
    ...['--rootDir', join(root, 'src'), '--outDir', join(dist, 'types')],
  ],
  { stdio: 'inherit' },
)
if (types.status !== 0) throw new Error('The types of pawl/stats could not be written.')
await compress(join(dist, 'web'))

/** Writes x.br and x.gz beside each text file, so that the server never compresses on the way. */
async function compress(folder: string): Promise<void> {
  for (const entry of await readdir(folder, { withFileTypes: true })) {
    const path = join(folder, entry.name)
    if (entry.isDirectory()) await compress(path)
    else if (/\.(?:js|css|html|svg|json)$/.test(entry.name) && (await stat(path)).size > 1000) {
      const brotli = createBrotliCompress({ params: { [constants.BROTLI_PARAM_QUALITY]: 11 } })
      await pipeline(createReadStream(path), brotli, createWriteStream(`${path}.br`))
      await pipeline(
        createReadStream(path),
        createGzip({ level: 9 }),
        createWriteStream(`${path}.gz`),
      )
    }
  }
}

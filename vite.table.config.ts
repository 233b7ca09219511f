import { fileURLToPath } from 'node:url'
import { defineConfig } from 'vite'

const here = (path: string) => fileURLToPath(new URL(path, import.meta.url))

/** The table page: an entry of its own, small enough for a phone on a poor network. */
export default defineConfig({
  root: here('./src/table'),
  base: '/t/',
  publicDir: false,
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  build: {
    outDir: here('./dist/web/t'),
    emptyOutDir: true,
    assetsInlineLimit: 0,
    reportCompressedSize: false,
    modulePreload: { polyfill: false },
    rollupOptions: {
      input: { table: here('./src/table/index.html'), sw: here('./src/table/sw.ts') },
      output: {
        // A service worker has to keep its name and place.
        entryFileNames: ({ name }) => (name === 'sw' ? 'sw.js' : 'assets/[name]-[hash].js'),
      },
    },
  },
})

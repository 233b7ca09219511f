import { fileURLToPath } from 'node:url'
import { defineConfig, type Plugin } from 'vite'

const here = (path: string) => fileURLToPath(new URL(path, import.meta.url))

/**
 * Puts script and style into the page itself, so that one answer holds all that a phone needs. The
 * server allows the two by their hashes.
 */
function oneDocument(): Plugin {
  return {
    name: 'one-document',
    enforce: 'post',
    generateBundle(_options, bundle) {
      const page = bundle['index.html']
      if (page?.type !== 'asset') throw new Error('There is no index.html to put the rest into.')
      let html = String(page.source)
      const put = (tag: RegExp, name: 'script' | 'style', attributes = '') => {
        const path = tag.exec(html)?.[1]
        const file = bundle[`assets/${path}`]
        if (file === undefined) throw new Error(`index.html names no ${name}.`)
        const content = (file.type === 'chunk' ? file.code : String(file.source)).trim()
        if (/<\/(?:script|style)|<!--/i.test(content))
          throw new Error(`The ${name} would end before its end.`)
        const element = `<${name}${attributes}>${content}</${name}>`
        html = html.replace(tag, '')
        html = html.replace('</head>', (end) => element + end)
        delete bundle[file.fileName]
      }
      put(/<link rel="stylesheet"[^>]* href="\/t\/assets\/([^"]+)">/, 'style')
      put(
        /<script type="module"[^>]* src="\/t\/assets\/([^"]+)"><\/script>/,
        'script',
        ' type="module"',
      )
      page.source = html.replace(/>\s+</g, '><')
    },
  }
}

/** The table page: an entry of its own, small enough for a phone on a poor network. */
export default defineConfig({
  root: here('./src/table'),
  base: '/t/',
  publicDir: false,
  // Children as arguments of a call rather than as a named property of each: a good deal shorter.
  oxc: { jsx: { runtime: 'classic', pragma: 'h', pragmaFrag: 'Fragment' } },
  plugins: [oneDocument()],
  build: {
    outDir: here('./dist/web/t'),
    emptyOutDir: true,
    assetsInlineLimit: 0,
    reportCompressedSize: false,
    modulePreload: { polyfill: false },
    rollupOptions: {
      transform: { inject: { h: ['preact', 'h'], Fragment: ['preact', 'Fragment'] } },
      input: { table: here('./src/table/index.html'), sw: here('./src/table/sw.ts') },
      output: {
        // A service worker has to keep its name and place.
        entryFileNames: ({ name }) => (name === 'sw' ? 'sw.js' : 'assets/[name]-[hash].js'),
      },
    },
  },
})

import { fileURLToPath } from 'node:url'
import react from '@vitejs/plugin-react'
import { defineConfig } from 'vite'

const here = (path: string) => fileURLToPath(new URL(path, import.meta.url))

/** Where the API answers while Vite's own server serves the pages. */
const api = process.env['PAWL_API'] ?? 'http://127.0.0.1:7295'

export default defineConfig({
  root: here('./src/web'),
  plugins: [react()],
  build: {
    outDir: here('./dist/web'),
    emptyOutDir: true,
    // The content security policy allows files of our own only, so nothing becomes a data: address.
    assetsInlineLimit: 0,
    reportCompressedSize: false,
  },
  server: { host: '127.0.0.1', proxy: { '/api': { target: api, changeOrigin: true } } },
})

#!/usr/bin/env node
import { existsSync } from 'node:fs'
import * as nodeModule from 'node:module'

const built = new URL('../dist/pawl.mjs', import.meta.url)
if (!existsSync(built)) {
  console.error('Pawl is not built yet. Run `npm run build` once in the checkout, then try again.')
  process.exit(1)
}
if (Number(process.versions.node.split('.')[0]) < 24) {
  console.error(
    `Pawl runs on Node 24 or newer, this is ${process.version}. Use \`npx pawl\` in the checkout.`,
  )
  process.exit(1)
}
nodeModule.enableCompileCache?.()
await import(built.href)

import { mkdirSync, mkdtempSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'

// `PORT=8100 PAWL_DATA=/somewhere npm test` keeps to those, so that copies can run side by side.

/** The port for a server under test: PORT, or one further up for each test worker; else any free one. */
export function testPort(): string {
  const given = process.env['PORT']
  if (given === undefined || given === '') return '0'
  return String(Number(given) + Number(process.env['VITEST_POOL_ID'] ?? 1) - 1)
}

/** A fresh folder, in PAWL_DATA or the system's place for temporary files. */
export function testFolder(): string {
  const given = process.env['PAWL_DATA']
  const base = given === undefined || given === '' ? tmpdir() : given
  mkdirSync(base, { recursive: true })
  return mkdtempSync(join(base, 'pawl-test-'))
}

import { defineConfig } from 'vitest/config'

export default defineConfig({
  test: {
    include: ['src/**/*.test.{ts,tsx}', 'tests/**/*.test.ts'],
    testTimeout: 60_000,
    hookTimeout: 120_000,
    // Much of the time goes into waiting for servers and browsers.
    maxWorkers: 2,
    reporters: ['default', './scripts/count-reporter.ts'],
  },
})

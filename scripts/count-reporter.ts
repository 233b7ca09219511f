import type { Reporter, TestModule } from 'vitest/node'

/** Ends the run with one plain line that counts tests, for people and for scripts that read logs. */
export default class CountReporter implements Reporter {
  onTestRunEnd(modules: readonly TestModule[]): void {
    const count = { passed: 0, failed: 0, skipped: 0 }
    for (const module of modules) {
      let own = 0
      for (const test of module.children.allTests()) {
        const state = test.result().state
        if (state === 'passed') count.passed++
        else if (state === 'failed') {
          count.failed++
          own++
        } else count.skipped++
      }
      // A file that could not be loaded has no failed test of its own, and is a failure all the same.
      if (own === 0 && module.state() === 'failed') count.failed++
    }
    const skipped = count.skipped > 0 ? `, ${count.skipped} skipped` : ''
    // After the default reporter's summary, which is printed in the same tick.
    setTimeout(() => console.log(`\n${count.passed} passed, ${count.failed} failed${skipped}`), 0)
  }
}

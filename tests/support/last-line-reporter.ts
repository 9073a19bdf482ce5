import type { Reporter, TestModule } from 'vitest/node';

/** Prints the count of all tests alone on the last line, for people and for scripts that read the end of a log. */
export default class LastLineReporter implements Reporter {
  onTestRunEnd(modules: ReadonlyArray<TestModule>, unhandledErrors: ReadonlyArray<unknown>): void {
    const count = { passed: 0, failed: unhandledErrors.length, skipped: 0 };
    for (const module of modules) {
      const before = count.failed;
      for (const test of module.children.allTests()) {
        const { state } = test.result();
        count[state === 'pending' ? 'failed' : state] += 1;
      }
      // A file that breaks while it is loaded, or in a hook, has no failed test of its own.
      if (module.state() === 'failed' && count.failed === before) count.failed += 1;
    }
    process.on('exit', (code) => {
      if (code !== 0 && count.failed === 0) count.failed = 1; // nothing ran, or the setup broke
      process.stdout.write(`${count.passed} passed, ${count.failed} failed, ${count.skipped} skipped\n`);
    });
  }
}

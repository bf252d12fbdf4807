import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    root: fileURLToPath(new URL('..', import.meta.url)),
    include: ['tests/**/*.test.ts'],
    // The program is read once a worker, not once a file. What its modules remember is cleared in `setupFiles`; each test
    // has a book and a house of its own.
    isolate: false,
    // By itself the runner leaves a processor of two to itself.
    maxWorkers: 2,
    // Books and pages are short-lived: with room for them the engine clears up less often.
    execArgv: ['--max-semi-space-size=64'],
    // Children of tests read what was compiled before.
    env: { NODE_COMPILE_CACHE: fileURLToPath(new URL('../.cache/tests', import.meta.url)) },
    setupFiles: ['tests/each-file.ts'],
    // Only what hangs is ended: a machine may be small and busy.
    testTimeout: 240_000,
    hookTimeout: 240_000,
    expect: { poll: { timeout: 60_000 } },
  },
});

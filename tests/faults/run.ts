import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';

// Runs the faults in full, for minutes: all of them, or those in the files that are named.
const named = process.argv.slice(2);
const runner = fileURLToPath(new URL('../../node_modules/vitest/vitest.mjs', import.meta.url));
const files = named.length > 0 ? named : ['tests/faults'];
const { status } = spawnSync(
  process.execPath,
  [runner, 'run', ...files, '--config', 'tests/vitest.config.ts', '--disable-console-intercept'],
  {
    cwd: fileURLToPath(new URL('../..', import.meta.url)),
    stdio: 'inherit',
    env: { ...process.env, CLOTHROOM_FAULTS: 'full' },
  },
);
process.exitCode = status ?? 1;

import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

// Each promise of the security notes names a test, by its file and the words of its name.
const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const ROW = /^\| ([^|]+?) +\| `(tests\/[^`]+)`: ([^|]+?) +\|$/;
const LINES = readFileSync(join(ROOT, 'server/network/SECURITY.md'), 'utf8').split('\n');
const PROMISES = LINES.flatMap((line) => {
  const [, promise = '', file = '', words = ''] = ROW.exec(line) ?? [];
  return promise === '' ? [] : [{ promise, file, words }];
});

describe('a promise of the security notes', () => {
  it('stands in every row of every table', () => {
    const rows = LINES.filter((line) => line.startsWith('|') && !/^\| (promise|-)/.test(line));
    expect(PROMISES).toHaveLength(rows.length);
    expect(PROMISES.length).toBeGreaterThan(40);
  });

  it.each(PROMISES)('$promise', ({ file, words }) => {
    const path = join(ROOT, file);
    expect(existsSync(path), file).toBe(true);
    const texts = readFileSync(path, 'utf8').matchAll(/(?<=[(\s])(['`])([^'`\n]*)\1/g);
    const names = [...texts].map(([, , name = '']) => name);
    expect(names.some((name) => name.includes(words))).toBe(true);
  });
});

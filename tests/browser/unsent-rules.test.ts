import { readFileSync } from 'node:fs';
import { createContext, runInContext } from 'node:vm';
import { describe, expect, it } from 'vitest';

interface Rules {
  verdictOf(status: number): 'saved' | 'later' | 'refused';
  isOf(key: string, prefix: string): boolean;
  furtherKey(key: string, bytes: Uint8Array): string | null;
  waitedSeconds(doneAtMs: number, nowMs: number): number;
  sayAge(seconds: number): string;
  patience(tries: number): number;
  inOrder<T extends { doneAt: number; key: string }>(items: T[]): T[];
}

const context = createContext({});
runInContext(readFileSync(new URL('../../views/assets/unsent-rules.js', import.meta.url), 'utf8'), context);
const rules = (context as { unsentRules: Rules }).unsentRules;

const UUID = '0f8fad5b-d9cb-469f-a165-70867728950e';

describe('what an answer means for work that was sent', () => {
  it.each([
    ['saved', [200, 201]],
    // No answer, a redirect to a door, who is asked to sign in, a wrong computer, too many at once, a fault.
    ['later', [0, 303, 401, 408, 421, 429, 500, 502, 503]],
    ['refused', [400, 403, 404, 409, 413, 415, 422]],
  ] as const)('is %s', (verdict, statuses) => {
    expect(statuses.map((status) => rules.verdictOf(status))).toEqual(statuses.map(() => verdict));
  });
});

describe('whose a key is', () => {
  const key = `w2-5-abc123_${UUID}`;

  it('is the person’s in the same book, whatever the device is called now', () => {
    expect(rules.isOf(key, 'w2-5-abc123_')).toBe(true);
    expect(rules.isOf(key, 'w2-9-abc123_')).toBe(true);
    expect(rules.isOf(key, 'w3-5-abc123_')).toBe(false);
    expect(rules.isOf(key, 'w22-5-abc123_')).toBe(false);
    expect(rules.isOf(key, 'w2-5-abc124_')).toBe(false);
    expect(rules.isOf(key, '')).toBe(false);
    expect(rules.isOf(UUID, '')).toBe(false);
  });

  it('stays with a further key, whatever word the former ended in', () => {
    const bytes = Uint8Array.from({ length: 16 }, (_, i) => i * 16 + i);
    expect(rules.furtherKey(`${key}-typed-ph`, bytes)).toBe(
      'w2-5-abc123_00112233-4455-6677-8899-aabbccddeeff',
    );
    expect(rules.furtherKey(UUID, bytes)).toBeNull();
  });
});

describe('how long work waits', () => {
  it('is told in whole seconds, and never as less than none', () => {
    expect(rules.waitedSeconds(1000, 62_999)).toBe(61);
    expect(rules.waitedSeconds(5000, 1000)).toBe(0);
  });

  it.each([
    [0, 'just now'],
    [59, 'just now'],
    [60, '1 minute ago'],
    [3599, '59 minutes ago'],
    [3600, '1 hour ago'],
    [86_399, '23 hours ago'],
    [200_000, '2 days ago'],
  ])('%i seconds is %s', (seconds, said) => expect(rules.sayAge(seconds)).toBe(said));

  it('is five seconds between tries at first and fifteen at most', () => {
    expect([0, 1, 3, 4, 5, 50].map((tries) => rules.patience(tries))).toEqual([5, 5, 5, 10, 15, 15]);
  });

  it('is sent in the order in which it was done', () => {
    const items = [
      { key: 'c', doneAt: 2 },
      { key: 'b', doneAt: 1 },
      { key: 'a', doneAt: 2 },
    ];
    expect(rules.inOrder(items).map(({ key }) => key)).toEqual(['b', 'a', 'c']);
  });
});

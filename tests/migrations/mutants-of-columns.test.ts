import { describe, expect, it } from 'vitest';
import type { MutantKind } from './mutants.ts';
import { survivorsOf } from './survivors.ts';

const KINDS: readonly (readonly [what: string, kind: MutantKind])[] = [
  ['without any one check', 'check'],
  ['without any one reference', 'reference'],
  ['without any one NOT NULL', 'not null'],
  ['without any one UNIQUE', 'unique'],
  ['with any one table not STRICT', 'strict'],
  ['with any one bound let out by one', 'bound'],
];

describe('a book is broken', () => {
  it.each(KINDS)('%s', (_what, kind) => {
    const { tried, survivors } = survivorsOf(kind);
    expect(tried).toBeGreaterThan(10);
    expect(survivors).toEqual([]);
  });
});

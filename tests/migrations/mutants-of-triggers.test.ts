import { describe, expect, it } from 'vitest';
import type { MutantKind } from './mutants.ts';
import { REDUNDANT } from './redundant.ts';
import { surviveAll, survivorsOf } from './survivors.ts';

const KINDS: readonly (readonly [what: string, kind: MutantKind])[] = [
  ['without any one trigger', 'trigger'],
  ['without any one column that a trigger looks at', 'column'],
  ['without any one term of a condition', 'term'],
];

describe('a book is broken or refuses lawful work', () => {
  it.each(KINDS)('%s', (_what, kind) => {
    const { tried, survivors } = survivorsOf(kind);
    expect(tried).toBeGreaterThan(10);
    expect(survivors).toEqual([]);
  });
});

describe('a book is no less strict without what is called redundant', () => {
  it.each(Object.keys(REDUNDANT))('%s', (name) => {
    expect(surviveAll(name)).toBe(true);
  });
});

import { describe, expect, it } from 'vitest';
import type { MutantKind } from './mutants.ts';
import { brokenAmongRedundant, survivorsOf } from './survivors.ts';

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

it('and is as strict as it was without what is called redundant', () => {
  expect(brokenAmongRedundant()).toEqual([]);
});

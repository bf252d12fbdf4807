import { describe, expect, it } from 'vitest';
import { readMigrationSteps } from '../../server/database/migrate.ts';
import { countedBy, type MutantKind, mutantsOf, rulesOf } from './mutants.ts';
import { REDUNDANT } from './redundant.ts';
import { openEmpty } from './scene.ts';

const db = openEmpty(readMigrationSteps());
const rules = rulesOf(db);
const mutants = mutantsOf(rules);

describe('the mutants', () => {
  const text = rules.map(({ sql }) => sql.replaceAll(/--.*$/gm, '')).join('\n');
  const made = (kind: MutantKind) => mutants.filter((mutant) => mutant.kind === kind).length;

  it.each(Object.entries(countedBy(db)))('are one for every %s in the book', (kind, count) => {
    expect(count).toBeGreaterThan(10);
    expect(made(kind as MutantKind)).toBe(count);
  });

  it('are one for every check, two for every range, and more', () => {
    expect(made('check')).toBe([...text.matchAll(/CHECK \(/g)].length);
    expect(made('check')).toBeGreaterThan(300);
    expect(made('bound')).toBeGreaterThan(300);
    expect(made('term')).toBeGreaterThan(150);
    expect(made('column')).toBeGreaterThan(40);
  });

  it('have a name each, or the same in two rules of a table', () => {
    expect(new Set(mutants.map(({ name, sql }) => `${name} ${sql}`)).size).toBe(mutants.length);
  });

  it('that nothing can tell from the book are few, and are mutants', () => {
    const names = mutants.map(({ name }) => name);
    expect(Object.keys(REDUNDANT).length).toBeLessThan(29);
    for (const name of Object.keys(REDUNDANT)) expect(names).toContain(name);
  });
});

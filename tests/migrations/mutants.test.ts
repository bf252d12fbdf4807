import { describe, expect, it } from 'vitest';
import { readSteps } from '../../server/database/migrate.ts';
import { type Attack, attempt } from './attacks.ts';
import { everyAttack } from './every-attack.ts';
import { type Mutant, type MutantKind, mutantsOf, standingOf } from './mutants.ts';
import { doLawfulWork, openEmpty, openScene } from './scene.ts';

const steps = readSteps();
const attacks = everyAttack(openScene(steps));

const mutants = mutantsOf(steps);

const NEW_PIECE = 'a new piece has no cost and no hold to lose, which the ledger refuses first';
const OTHER_HALF = 'the other half of a split is its exact opposite, and the rules of that half say it';
const PARTIAL_INDEX = 'sums are the same without it; with it they are read off an index';

/** Rules that say what others say too, by the name of their mutant. */
const REDUNDANT: Readonly<Record<string, string>> = {
  'lot_colour.* without ) STRICT':
    'each of its columns has a check or a reference that no value of another type passes',
  'cloth.width_ticks with 0 for BETWEEN 1 AND 1600000':
    'the usable width is at least 1 and at most the width',
  'cloth_fibre.share_bp with 10001 for BETWEEN 1 AND 10000':
    'the shares of a cloth are at most 10000 together',
  'recipe.ph_from_tenths with 141 for BETWEEN 0 AND 140':
    'the other end is at most 140 and not below this one',
  'piece.on_hand_ticks without CHECK (on_hand_ticks >= 0)':
    'what is held is at least 0 and at most what is on hand',
  'entry.cost_minor with -1000000000001 for BETWEEN -1000000000000 AND 1000000000000':
    'no piece ever carries more cost than the one entry that brings it to the shelf may have',
  "entry: 'received' without AND cost_minor >= 0": NEW_PIECE,
  "entry: 'joined' without AND held_ticks >= 0": NEW_PIECE,
  "entry: 'joined' without AND cost_minor >= 0": NEW_PIECE,
  "entry: 'back-from-dye' without AND cost_minor >= 0": NEW_PIECE,
  "entry: 'back-from-dye' without length_ticks > 0 AND":
    'it is the opposite of what was sent, which is below 0',
  "entry: 'split-off' without length_ticks < 0 AND": OTHER_HALF,
  "entry: 'split-off' without AND held_ticks BETWEEN length_ticks AND 0": OTHER_HALF,
  "entry: 'split-off' without AND cost_minor <= 0": OTHER_HALF,
  'hold_put_follows_entries without AND held_ticks <> 0': PARTIAL_INDEX,
  'hold_change_follows_entries without AND held_ticks <> 0': PARTIAL_INDEX,
  'hold_goes_when_empty without AND held_ticks <> 0': PARTIAL_INDEX,
  'batch_repeat.* without ) STRICT': 'both of its columns name batches, which have whole numbers',
};

/** Attacks in the order in which they are most likely to break a mutant. */
function nearest(mutant: Mutant): readonly Attack[] {
  const column = mutant.name.split(' ')[0];
  const rank = (attack: Attack) =>
    attack.name.startsWith(`${column}:`) ? 0 : attack.table === mutant.table ? 1 : 2;
  return [0, 1, 2].flatMap((wanted) => attacks.filter((attack) => rank(attack) === wanted));
}

function survives(mutant: Mutant): boolean {
  const db = openEmpty(mutant.steps);
  try {
    doLawfulWork(db);
  } catch (error) {
    if (/syntax|no such|incomplete/.test(String(error))) throw new Error(`${mutant.name}: ${error}`);
    if (mutant.kind === 'term' || mutant.kind === 'trigger') return false;
    throw error;
  }
  const broken = nearest(mutant).some((attack) => attempt(db, attack).broken);
  db.close();
  return !broken;
}

describe('the mutants', () => {
  const written = steps.map(({ sql }) => sql.replaceAll(/^ *--.*$/gm, '')).join('');
  const text = steps.flatMap((step) => standingOf(step, steps).map(({ text: of }) => of)).join('\n');
  const occurrences = (pattern: RegExp) => [...text.matchAll(pattern)].length;
  const made = (kind: MutantKind) => mutants.filter((mutant) => mutant.kind === kind).length;

  it('read every statement that makes or changes a table, an index or a trigger', () => {
    const all = steps.flatMap((step) => standingOf(step, [step]));
    const gone = [...written.matchAll(/^DROP (TABLE|TRIGGER)/gm)].length;
    const made = [...written.matchAll(/^CREATE (TABLE|UNIQUE INDEX|TRIGGER)|^ALTER TABLE \w+ ADD/gm)].length;
    expect(all.length).toBeGreaterThan(made - 1 - gone * 20);
    expect(all.length).toBeLessThanOrEqual(made);
  });

  it('are one for every rule that is written in the steps', () => {
    expect(made('trigger')).toBe(occurrences(/CREATE TRIGGER/g));
    expect(made('check')).toBe(occurrences(/CHECK \(/g));
    expect(made('reference')).toBe(occurrences(/REFERENCES/g));
    expect(made('unique')).toBe(occurrences(/UNIQUE/g));
    expect(made('strict')).toBe(occurrences(/STRICT/g));
    const inKeys = [...text.matchAll(/PRIMARY KEY \(([^)]*)\)\n\) STRICT, WITHOUT ROWID/g)]
      .map(([, columns = '']) => columns.split(', ').length)
      .reduce((sum, count) => sum + count, 0);
    expect(made('not null')).toBe(occurrences(/(?<!IS )NOT NULL/g) - inKeys);
    expect(made('bound')).toBeGreaterThan(100);
    expect(made('term')).toBeGreaterThan(100);
    expect(mutants.length).toBeGreaterThan(650);
  });

  it('that nothing can tell from the book are few, and are mutants', () => {
    const names = mutants.map(({ name }) => name);
    for (const name of Object.keys(REDUNDANT)) expect(names).toContain(name);
  });
});

describe('a book is broken or refuses lawful work', () => {
  const kinds: readonly (readonly [what: string, kind: MutantKind])[] = [
    ['without any one trigger', 'trigger'],
    ['without any one check', 'check'],
    ['without any one reference', 'reference'],
    ['without any one NOT NULL', 'not null'],
    ['without any one UNIQUE', 'unique'],
    ['with any one table not STRICT', 'strict'],
    ['with any one bound let out by one', 'bound'],
    ['without any one term of a condition', 'term'],
  ];
  it.each(kinds)('%s', (_what, kind) => {
    const tried = mutants.filter((mutant) => mutant.kind === kind && !(mutant.name in REDUNDANT));
    expect(tried.length).toBeGreaterThan(10);
    expect(tried.filter(survives).map(({ name }) => name)).toEqual([]);
  });
});

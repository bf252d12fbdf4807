import { describe, expect, it } from 'vitest';
import { hazardsOf } from '../../../src/dye/auxiliaries.ts';
import { bathFor } from '../../../src/dye/bath.ts';
import { type Caution, type CautionRule, cautionRule, cautionsFor } from '../../../src/dye/cautions.ts';
import { dueAt, headOf } from '../../../src/dye/cautions-due.ts';
import type { DyeClass } from '../../../src/dye/dye-class.ts';
import type { Content, FibreCode } from '../../../src/dye/fibre.ts';
import { orderOfWork, weighingsAt } from '../../../src/dye/order-of-work.ts';
import { auxiliaryFrom, type Recipe, type RecipeAuxiliary } from '../../../src/dye/recipe.ts';
import { starterRecipe } from '../../../src/dye/starter-recipe.ts';
import type { WorkStep } from '../../../src/dye/work-step.ts';

const all = (fibre: FibreCode): Content => [{ fibre, shareBp: 10_000 }];
const aux = (kind: RecipeAuxiliary['kind'], form: string): RecipeAuxiliary => ({
  kind,
  name: `${kind} ${form}`,
  form,
  per: 'litre',
  mgPerLitre: 500,
});

/** A caution with the step at which it is due, for every step of a recipe. */
function dueOf(fibre: FibreCode, dyeClass: DyeClass, ...more: RecipeAuxiliary[]) {
  const made = starterRecipe(all(fibre), dyeClass, [{ name: 'Fern', owfMilli: 2000 }]);
  if (!made) throw new Error(`none for ${dyeClass} on ${fibre}`);
  const recipe: Recipe = { ...made, auxiliaries: [...made.auxiliaries, ...more] };
  const bathed = bathFor(90_000, recipe);
  if (!bathed.ok) throw new Error(bathed.reason);
  const steps = orderOfWork(recipe, all(fibre));
  const beside = steps.flatMap(({ doses }) => doses);
  const hazards = new Map([
    ...beside.map(({ name, kind, form }) => [name, hazardsOf(kind, form)] as const),
    ...recipe.auxiliaries.map(({ name, kind, form }) => [name, hazardsOf(kind, form)] as const),
  ]);
  const cautions = cautionsFor({
    ...recipe,
    temperatureC: Math.max(...steps.map(({ toC }) => toC)),
    auxiliaries: [
      ...recipe.auxiliaries,
      ...beside.map(({ kind, name, form = 'as-sold', mgPerLitre }) =>
        auxiliaryFrom({ kind, name, form, per: 'litre', amount: mgPerLitre }),
      ),
    ],
  });
  const due = new Map(
    steps.map((step) => [
      step.key,
      dueAt(step, weighingsAt(step, bathed.bath), hazards, cautions).map(({ id }) => id),
    ]),
  );
  return { steps, cautions, due };
}

const CASES = [
  dueOf('nylon', 'acid-levelling', aux('formic-acid', 'as-sold')),
  dueOf('nylon', 'acid-metal-complex'),
  dueOf('cotton', 'reactive'),
  dueOf('cotton', 'direct'),
  dueOf('cotton', 'vat'),
  dueOf('polyester', 'disperse', aux('carrier', 'as-sold')),
  dueOf('acrylic', 'basic'),
  dueOf('cotton', 'reactive', aux('other', 'hypochlorite')),
];

type Compiles<Due> = { head: string; text: string; authority: string; due: Due } extends CautionRule
  ? 'compiles'
  : 'fails the types';

describe('a caution', () => {
  it('that never comes due fails the types', () => {
    // Each of these lines fails `npm run types` once a caution may be left without an occasion.
    const never: Compiles<readonly []> = 'fails the types';
    const nowhere: Compiles<readonly ['at lunch']> = 'fails the types';
    const nothing: Compiles<readonly ['with nothing']> = 'fails the types';
    const due: Compiles<readonly ['at rinse', 'with acid']> = 'compiles';
    expect([never, nowhere, nothing, due]).toHaveLength(4);
  });

  it('is due at some step of every recipe that it is listed for', () => {
    for (const { cautions, due } of CASES) {
      const told = new Set([...due.values()].flat());
      expect(cautions.map(({ id }) => id).filter((id) => !told.has(id))).toEqual([]);
    }
  });

  it('of every kind is listed for one of these', () => {
    const listed = new Set(CASES.flatMap(({ cautions }) => cautions.map(({ id }) => id)));
    const ids = [
      'dust',
      'reactive',
      'respirator',
      'skin',
      'air',
      'old-direct-dye',
      'basic-dye',
      'disperse-skin',
      'metal-dye',
      'acid',
      'strong-acid',
      'alkali',
      'caustic',
      'hydrosulphite',
      'sulphur-dioxide',
      'peroxide',
      'chlorine',
      'carrier',
      'formaldehyde',
      'vessels',
      'children',
      'scald',
      'steam',
      'mains',
      'immersion-heater',
      'carbon-monoxide',
      'flame',
      'weight',
      'splash',
      'label',
      'waste-water',
    ];
    expect([...listed].sort()).toEqual([...ids].sort());
  });

  it('has a few words of its own', () => {
    for (const caution of CASES.flatMap(({ cautions }) => cautions)) {
      expect(headOf(caution)).toBe(cautionRule(caution.id)?.head);
      expect(headOf(caution).length).toBeLessThanOrEqual(48);
    }
  });

  it('that only an older card has is told at every step', () => {
    const old: Caution = { id: 'of-before', text: 'Wear clogs. Always.', authority: 'nobody' };
    const [first] = CASES;
    for (const step of first?.steps ?? []) expect(dueAt(step, [], new Map(), [old])).toEqual([old]);
    expect(headOf(old)).toBe('Wear clogs');
  });
});

// What must be shown at which operation: the table of triggers that the reference proposes, by operation.
const MUST: readonly (readonly [what: string, at: WorkStep['kind'], ids: readonly string[], of: number])[] = [
  ['weighing', 'weigh', ['dust', 'respirator', 'skin', 'reactive', 'label'], 2],
  ['dissolving', 'dissolve', ['dust', 'respirator', 'skin', 'scald', 'steam', 'mains'], 0],
  ['weighing direct dye', 'weigh', ['dust', 'old-direct-dye'], 3],
  ['weighing basic dye', 'weigh', ['dust', 'basic-dye'], 6],
  ['weighing metal-complex dye', 'weigh', ['dust', 'metal-dye'], 1],
  ['weighing disperse dye', 'weigh', ['dust', 'disperse-skin'], 5],
  ['scouring', 'prepare', ['alkali', 'scald', 'mains', 'splash', 'weight'], 0],
  ['scouring near the boil', 'prepare', ['alkali', 'scald', 'steam', 'mains', 'splash'], 2],
  ['strong acid', 'set', ['acid', 'strong-acid', 'splash', 'skin'], 0],
  ['the stock vat', 'vat', ['caustic', 'hydrosulphite', 'sulphur-dioxide', 'splash', 'air'], 4],
  ['the blank bath', 'set', ['caustic', 'hydrosulphite', 'splash', 'skin'], 4],
  ['oxidising', 'oxidise', ['peroxide', 'scald', 'skin', 'waste-water'], 4],
  ['soaping', 'clear', ['scald', 'steam', 'mains', 'waste-water'], 4],
  ['soaping reactive dye', 'clear', ['scald', 'steam', 'mains', 'waste-water'], 2],
  ['driving a carrier off', 'clear', ['caustic', 'scald', 'carrier', 'waste-water'], 5],
  ['a bath with carrier', 'set', ['carrier'], 5],
  ['heating', 'heat', ['scald', 'steam', 'mains', 'immersion-heater', 'carbon-monoxide', 'flame'], 0],
  ['holding with carrier', 'hold', ['carrier', 'scald', 'steam'], 5],
  ['fixing direct dye', 'fix', ['formaldehyde', 'skin', 'waste-water'], 3],
  ['bleach', 'set', ['chlorine'], 7],
  ['letting a bath go', 'rinse', ['waste-water', 'weight'], 0],
];

describe('the cautions due', () => {
  it.each(MUST)('at %s', (_, kind, ids, of) => {
    const { steps, due } = CASES[of] ?? CASES[0] ?? { steps: [], due: new Map<string, string[]>() };
    const step = steps.find((each) => each.kind === kind);
    expect(due.get(step?.key ?? '')).toEqual(expect.arrayContaining([...ids]));
  });

  it('of dust stand where dye is powder, and nowhere else', () => {
    for (const { steps, due } of CASES) {
      for (const { key, kind } of steps) {
        expect(due.get(key)?.includes('dust')).toBe(kind === 'weigh' || kind === 'dissolve');
      }
    }
  });

  it('tell 15 minutes of rinsing for eyes, and a face shield for strong acid', () => {
    const [first] = CASES;
    const text = (id: string) => first?.cautions.find((caution) => caution.id === id)?.text;
    // ANSI/ISEA Z358.1.
    expect(text('splash')).toContain('eyes for 15 minutes');
    expect(text('strong-acid')).toContain('face shield');
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { withAddition } from '../../../src/dye/addition-steps.ts';
import { hazardsOf } from '../../../src/dye/auxiliaries.ts';
import { bathFor } from '../../../src/dye/bath.ts';
import { cautionsFor } from '../../../src/dye/cautions.ts';
import { dueAt, headOf } from '../../../src/dye/cautions-due.ts';
import type { DyeClass } from '../../../src/dye/dye-class.ts';
import type { Content, FibreCode } from '../../../src/dye/fibre.ts';
import { orderOfWork, weighingsAt } from '../../../src/dye/order-of-work.ts';
import { rampSteps } from '../../../src/dye/ramp.ts';
import type { Recipe } from '../../../src/dye/recipe.ts';
import { starterRecipe } from '../../../src/dye/starter-recipe.ts';
import type { WorkStep } from '../../../src/dye/work-step.ts';

const all = (fibre: FibreCode): Content => [{ fibre, shareBp: 10_000 }];
const content = (shares: Partial<Record<FibreCode, number>>): Content =>
  Object.entries(shares).map(([fibre, percent]) => ({ fibre: fibre as FibreCode, shareBp: percent * 100 }));

function recipeFor(fibre: FibreCode, dyeClass: DyeClass, owfMilli = 1000): Recipe {
  const recipe = starterRecipe(all(fibre), dyeClass, [{ name: 'Fern', owfMilli }]);
  if (!recipe) throw new Error(`no recipe of ${dyeClass} on ${fibre}`);
  return recipe;
}

const kinds = (steps: readonly WorkStep[]) => steps.map(({ kind }) => kind);
const find = (steps: readonly WorkStep[], kind: WorkStep['kind']) => {
  const step = steps.find((each) => each.kind === kind);
  if (!step) throw new Error(`no step is ${kind}`);
  return step;
};

describe('the order of work', () => {
  it('of acid dye on nylon: scour, weigh, dissolve, set, dye, heat, hold, cool, rinse, dry, and no clear', () => {
    const steps = orderOfWork(recipeFor('nylon', 'acid-levelling', 250), all('nylon'));
    expect(kinds(steps)).toEqual([
      'prepare',
      'weigh',
      'dissolve',
      'set',
      'add',
      'heat',
      'hold',
      'cool',
      'rinse',
      'dry',
    ]);
  });

  it('keeps the ramp of the recipe as it is, step by step', () => {
    const recipe = recipeFor('cotton', 'reactive', 2000);
    const steps = orderOfWork(recipe, all('cotton'));
    const ramp = rampSteps(recipe, all('cotton'));
    expect(steps.slice(3, 3 + ramp.length).map(({ minutes, toC }) => [minutes, toC])).toEqual(
      ramp.map(({ minutes, toC }) => [minutes, toC]),
    );
  });

  // Broadbent and trade pages: medium and dark polyester is reduction cleared at 70 to 80 °C for 10 to 20 minutes.
  it('clears disperse dye from polyester by reduction from a medium depth, pale ones mildly', () => {
    const medium = find(orderOfWork(recipeFor('polyester', 'disperse', 1000), all('polyester')), 'clear');
    expect(medium.doses.map(({ kind }) => kind)).toEqual(['hydrosulphite', 'caustic-soda']);
    expect(medium.toC).toBeGreaterThanOrEqual(70);
    expect(medium.toC).toBeLessThanOrEqual(80);
    expect(medium.minutes).toBeGreaterThanOrEqual(10);
    expect(medium.minutes).toBeLessThanOrEqual(20);
    const pale = find(orderOfWork(recipeFor('polyester', 'disperse', 500), all('polyester')), 'clear');
    expect(pale.doses.map(({ kind }) => kind)).toEqual(['detergent']);
  });

  it.each(['acetate', 'wool', 'silk', 'elastane', 'metallised'] as const)(
    'never clears with caustic soda where there is %s',
    (fibre) => {
      const blend = content({ polyester: 90, [fibre]: 10 });
      const steps = orderOfWork(recipeFor('polyester', 'disperse', 2000), blend);
      expect(steps.flatMap(({ doses }) => doses.map(({ kind }) => kind))).not.toContain('caustic-soda');
    },
  );

  it('scours no hotter than the most delicate fibre stands, and wool and silk without soda', () => {
    const metallised = orderOfWork(
      recipeFor('nylon', 'acid-levelling'),
      content({ nylon: 90, metallised: 10 }),
    );
    expect(find(metallised, 'prepare').toC).toBeLessThanOrEqual(60);
    for (const fibre of ['wool', 'silk'] as const) {
      const scour = find(orderOfWork(recipeFor(fibre, 'acid-levelling'), all(fibre)), 'prepare');
      expect(scour.doses.map(({ kind }) => kind)).toEqual(['detergent']);
      expect(scour.toC).toBe(60);
    }
  });

  it('says the order that a chemical wants where it goes in, and what must be out before the next bath', () => {
    const reactive = orderOfWork(recipeFor('cotton', 'reactive', 2000), all('cotton'));
    const alkali = reactive.filter(({ says }) => says.includes('Order: Alkali last'));
    expect(alkali.map(({ title }) => title)).toEqual(['Add soda ash']);
    const scoured = (dyeClass: DyeClass) =>
      find(orderOfWork(recipeFor('nylon', dyeClass), all('nylon')), 'prepare').says;
    expect(scoured('acid-levelling')).toMatch(/Rinse the soda out first.*carbon dioxide/);
    expect(scoured('acid-metal-complex')).toMatch(/Drain, and rinse 3 times.*ammonia gas/);
    expect(find(reactive, 'rinse').says).not.toContain('Drain');
    const rinsed = find(orderOfWork(recipeFor('polyester', 'disperse', 1000), all('polyester')), 'rinse');
    expect(rinsed.says).toMatch(/Drain, and rinse 3 times.*sulphur dioxide/);
  });

  it('adds another alkali last too, and another acid of a milling dye late', () => {
    const other = (name: string, form: string) =>
      ({ kind: 'other', name, form, per: 'litre', mgPerLitre: 500 }) as const;
    const addedAt = (recipe: Recipe, fibre: FibreCode, name: string) =>
      orderOfWork(recipe, all(fibre)).find(({ adds }) => adds.some((add) => add.name === name))?.kind;
    const cotton = recipeFor('cotton', 'reactive', 2000);
    const wool = recipeFor('wool', 'acid-milling');
    const phosphate = other('trisodium phosphate', 'soda');
    const tartar = other('cream of tartar', 'dilute-acid');
    const neutral = other('defoamer', 'none');
    expect(addedAt({ ...cotton, auxiliaries: [phosphate] }, 'cotton', phosphate.name)).toBe('add');
    expect(addedAt({ ...wool, auxiliaries: [tartar] }, 'wool', tartar.name)).toBe('add');
    expect(addedAt({ ...cotton, auxiliaries: [neutral] }, 'cotton', neutral.name)).toBe('set');
  });

  it('never clears nylon with polyester by reduction, which would destroy its acid dye', () => {
    const steps = orderOfWork(
      recipeFor('polyester', 'disperse', 2000),
      content({ polyester: 60, nylon: 40 }),
    );
    expect(find(steps, 'clear').doses.map(({ kind }) => kind)).toEqual(['detergent']);
  });

  it('has a key of its own for every step', () => {
    for (const [fibre, dyeClass] of [
      ['cotton', 'reactive'],
      ['nylon', 'acid-milling'],
      ['acrylic', 'basic'],
    ] as const) {
      const keys = orderOfWork(recipeFor(fibre, dyeClass), all(fibre)).map(({ key }) => key);
      expect(new Set(keys).size).toBe(keys.length);
    }
  });
});

describe('what is weighed', () => {
  it('is every gram of the bath, once, whatever the recipe', () => {
    const cases = [
      ['cotton', 'reactive'],
      ['cotton', 'direct'],
      ['nylon', 'acid-milling'],
      ['nylon', 'acid-levelling'],
      ['polyester', 'disperse'],
      ['acrylic', 'basic'],
      ['wool', 'acid-metal-complex'],
    ] as const;
    fc.assert(
      fc.property(
        fc.constantFrom(...cases),
        fc.integer({ min: 1, max: 5_000_000 }),
        ([fibre, dyeClass], massMg) => {
          const recipe = recipeFor(fibre, dyeClass, 1500);
          const bathed = bathFor(massMg, recipe);
          if (!bathed.ok) return;
          const steps = orderOfWork(recipe, all(fibre));
          const weighed = steps.flatMap((step) =>
            weighingsAt(step, bathed.bath).filter(({ part }) => part !== 'side bath'),
          );
          const sums = bathed.bath.lines.map((_, line) =>
            weighed.filter((each) => each.line === line).reduce((sum, each) => sum + each.massMg, 0),
          );
          expect(sums).toEqual(bathed.bath.lines.map((line) => line.massMg));
        },
      ),
      { numRuns: 60 },
    );
  });

  // 3.42 L × 1.5 g/L of detergent = 5.13 g.
  it('in a bath of its own is by its litres', () => {
    const recipe = recipeFor('nylon', 'acid-levelling');
    const bathed = bathFor(171_000, { ...recipe, liquorRatioMilli: 20_000 });
    if (!bathed.ok) throw new Error(bathed.reason);
    const [scour] = orderOfWork(recipe, all('nylon'));
    expect(scour && weighingsAt(scour, bathed.bath)[0]).toMatchObject({ massMg: 5130, part: 'side bath' });
  });
});

describe('an addition', () => {
  const recipe = recipeFor('nylon', 'acid-levelling');
  const steps = orderOfWork(recipe, all('nylon'));
  const addition = { key: 'addition-1', number: 1, dyes: [{ name: 'Fern', massMg: 900 }] };
  const upTo = (kind: WorkStep['kind']) =>
    new Set(
      steps
        .slice(
          0,
          steps.findIndex((step) => step.kind === kind),
        )
        .map(({ key }) => key),
    );

  it('comes after the hold: let down, add, heat again, hold again, and then on as before', () => {
    const with1 = withAddition(steps, upTo('hold'), addition);
    const after = kinds(with1).slice(kinds(with1).indexOf('hold') + 1);
    expect(after).toEqual(['cool', 'add', 'heat', 'hold', 'cool', 'rinse', 'fix', 'dry']);
    // 98 °C is let down by 15 degrees and heated again at a degree a minute.
    expect(with1.find(({ key }) => key === 'addition-1-heat')).toMatchObject({
      fromC: 83,
      toC: 98,
      minutes: 15,
    });
    const add = with1.find(({ key }) => key === 'addition-1-add');
    const bathed = bathFor(90_000, recipe);
    if (!add || !bathed.ok) throw new Error('no addition');
    expect(weighingsAt(add, bathed.bath)).toMatchObject([{ name: 'Fern', massMg: 900, part: 'addition' }]);
  });

  it('starts from the heat the bath has, where it has cooled already', () => {
    const with1 = withAddition(steps, upTo('rinse'), addition);
    expect(with1.find(({ key }) => key === 'addition-1-cool')).toBeUndefined();
    expect(with1.find(({ key }) => key === 'addition-1-heat')).toMatchObject({ fromC: 60, toC: 98 });
  });
});

describe('the cautions that are due', () => {
  const recipe = recipeFor('nylon', 'acid-levelling');
  const steps = orderOfWork(recipe, all('nylon'));
  const cautions = cautionsFor({
    ...recipe,
    auxiliaries: [
      ...recipe.auxiliaries,
      { kind: 'soda-ash', name: 'soda', form: 'anhydrous', per: 'litre', mgPerLitre: 500 },
    ],
  });
  const bathed = bathFor(90_000, recipe);
  if (!bathed.ok) throw new Error(bathed.reason);
  const due = (kind: WorkStep['kind']) => {
    const step = find(steps, kind);
    const names = new Map([
      ...recipe.auxiliaries.map(({ name, kind: of, form }) => [name, hazardsOf(of, form)] as const),
      ...step.doses.map(({ name, kind: of }) => [name, hazardsOf(of)] as const),
    ]);
    return dueAt(step, weighingsAt(step, bathed.bath), names, cautions).map(({ id }) => id);
  };

  it('are dust and mask where dye is weighed, acid where acid goes in, soda where soda does', () => {
    for (const kind of ['weigh', 'dissolve'] as const) {
      expect(due(kind)).toEqual(expect.arrayContaining(['dust', 'respirator', 'air', 'skin']));
    }
    expect(due('add')).not.toContain('dust');
    expect(due('set')).toContain('acid');
    expect(due('prepare')).toContain('alkali');
    expect(due('dry')).not.toContain('dust');
  });

  it('are scald, steam and mains while it is hot, waste water where the bath is let go', () => {
    for (const kind of ['heat', 'hold'] as const) {
      expect(due(kind)).toEqual(expect.arrayContaining(['scald', 'steam', 'mains']));
    }
    expect(due('rinse')).toContain('waste-water');
  });

  it('always have the label among them, and a few words each', () => {
    for (const { kind } of steps) expect(due(kind)).toContain('label');
    for (const caution of cautions) expect(headOf(caution).length).toBeLessThanOrEqual(48);
  });
});

import { describe, expect, it } from 'vitest';
import { donorWarnings } from '../../../src/dye/acid-donors.ts';
import { afterBaths } from '../../../src/dye/after-baths.ts';
import { chemicalsOf } from '../../../src/dye/bath-chemicals.ts';
import { bathPh } from '../../../src/dye/bath-ph.ts';
import type { DyeClass } from '../../../src/dye/dye-class.ts';
import type { Content, FibreCode } from '../../../src/dye/fibre.ts';
import { retarderFor } from '../../../src/dye/offered-doses.ts';
import { orderOfWork } from '../../../src/dye/order-of-work.ts';
import type { Recipe, RecipeAuxiliary } from '../../../src/dye/recipe.ts';
import { checkRecipe } from '../../../src/dye/recipe-check.ts';
import { starterRecipe } from '../../../src/dye/starter-recipe.ts';

const of = (...fibres: FibreCode[]): Content =>
  fibres.map((fibre, at) => ({ fibre, shareBp: at === 0 ? 10_000 - 1000 * (fibres.length - 1) : 1000 }));
function recipeFor(fibre: FibreCode, dyeClass: DyeClass, owfMilli: number, method?: string): Recipe {
  const made = starterRecipe(of(fibre), dyeClass, [{ name: 'Fern', owfMilli }], method);
  if (!made) throw new Error(`none for ${dyeClass} on ${fibre}`);
  return made;
}
const titles = (recipe: Recipe, ...fibres: FibreCode[]) =>
  afterBaths(recipe, of(...fibres)).map(({ title }) => title);

describe('fixing', () => {
  // tradetextile.com, archive page 38365: fixing agent 2 to 4 %.
  it.each([
    [300, undefined],
    [1000, 2000],
    [2000, 4000],
  ] as const)('of acid dye on nylon at %i is offered by depth', (owf, percent) => {
    for (const dyeClass of ['acid-levelling', 'acid-milling', 'acid-metal-complex'] as const) {
      const recipe = recipeFor('nylon', dyeClass, owf);
      const syntan = recipe.auxiliaries.find(({ kind }) => kind === 'syntan');
      expect(syntan?.per === 'cloth' ? syntan.owfMilli : undefined).toBe(percent);
      expect(titles(recipe, 'nylon')).toEqual(percent ? ['Rinse', 'Fix with syntan'] : ['Rinse']);
    }
  });

  it('is a step of its own, and what fixes is never in the dye bath', () => {
    const recipe = recipeFor('nylon', 'acid-levelling', 2000);
    expect(chemicalsOf(recipe).map(({ name }) => name)).not.toContain('synthetic tanning agent (syntan)');
    const steps = orderOfWork(recipe, of('nylon'));
    const fix = steps.find(({ kind }) => kind === 'fix');
    expect(fix).toMatchObject({ title: 'Fix with syntan at 75 °C', minutes: 20 });
    expect(fix?.adds).toEqual([{ name: 'synthetic tanning agent (syntan)', part: 1, of: 1 }]);
    expect(fix?.says).toMatch(/pH 4 to 5.*No alkali after it.*Never with a cationic fixer/);
    expect(
      steps
        .slice(
          0,
          steps.findIndex(({ kind }) => kind === 'rinse'),
        )
        .flatMap(({ adds }) => adds),
    ).not.toContainEqual(expect.objectContaining({ name: 'synthetic tanning agent (syntan)' }));
  });

  // Broadbent, p. 302: wet fastness up, light fastness down; 1 to 3 % at 40 °C for 20 min from memory.
  it('of direct dye is cationic, warm, by depth, and refused in the dye bath itself by being no part of it', () => {
    expect(titles(recipeFor('cotton', 'direct', 1000), 'cotton')).toEqual(['Rinse']);
    const recipe = recipeFor('cotton', 'direct', 2000);
    expect(checkRecipe(recipe, of('cotton')).problems).toEqual([]);
    const fix = afterBaths(recipe, of('cotton')).find(({ kind }) => kind === 'fix');
    expect(fix).toMatchObject({ title: 'Fix with cationic fixer', toC: 40, minutes: 20 });
    expect(fix?.says).toMatch(/light fastness falls/);
  });

  it('with antimony is refused, since it is poisonous', () => {
    const recipe = recipeFor('nylon', 'acid-levelling', 1000);
    const tartar: RecipeAuxiliary = {
      kind: 'other',
      name: 'Tartar emetic',
      form: 'none',
      per: 'cloth',
      owfMilli: 1000,
    };
    const { problems } = checkRecipe({ ...recipe, auxiliaries: [tartar] }, of('nylon'));
    expect(problems.map(({ message }) => message).join(' ')).toMatch(/antimony.*poisonous.*syntan/);
  });
});

describe('clearing', () => {
  const disperse = (owfMilli: number, ...more: RecipeAuxiliary[]): Recipe => {
    const made = recipeFor('polyester', 'disperse', owfMilli);
    return { ...made, auxiliaries: [...made.auxiliaries, ...more] };
  };
  const carrier: RecipeAuxiliary = {
    kind: 'carrier',
    name: 'carrier',
    form: 'as-sold',
    per: 'litre',
    mgPerLitre: 3000,
  };

  it('by reduction is for polyester alone or with cellulose, from a medium depth, and is neutralised', () => {
    expect(titles(disperse(1000), 'polyester')).toEqual(['Rinse', 'Reduction clear', 'Rinse']);
    expect(titles(disperse(1000), 'polyester', 'cotton')).toContain('Reduction clear');
    expect(titles(disperse(500), 'polyester')).toEqual(['Rinse', 'Wash off']);
  });

  // Acid dye on nylon is destroyed, the others are harmed: Broadbent, p. 423 (wool); organicdye.com (elastane).
  it.each(['nylon', 'wool', 'silk', 'acetate', 'triacetate', 'elastane', 'metallised', 'acrylic'] as const)(
    'by reduction is not for polyester with %s',
    (fibre) => {
      const baths = afterBaths(disperse(1000), of('polyester', fibre));
      expect(baths.map(({ title }) => title)).toEqual(['Rinse', 'Wash off']);
      const kinds = baths.flatMap(({ doses }) => doses.map(({ kind }) => kind));
      expect(kinds).not.toContain('hydrosulphite');
      expect(kinds).not.toContain('caustic-soda');
    },
  );

  it('stays below 80 °C, where polyester opens', () => {
    const clear = afterBaths(disperse(1000), of('polyester'))[1];
    expect(clear?.toC).toBeLessThan(80);
    expect(clear?.mark).toMatchObject({ basis: 'from memory' });
  });

  // textilecoach.net, polyester manual: soap 2 and caustic soda 2 g/L at 80 °C for half an hour.
  it('drives a carrier off', () => {
    expect(afterBaths(disperse(1000, carrier), of('polyester'))[1]).toMatchObject({
      title: 'Drive the carrier off',
      toC: 80,
      minutes: 30,
      doses: [
        { kind: 'detergent', mgPerLitre: 2000 },
        { kind: 'caustic-soda', mgPerLitre: 2000 },
      ],
    });
  });

  // thesmarttime.com: 95 °C for 10 min; wool and silk from memory 85 °C at most.
  it('soaps reactive dye near the boil, and no hotter than the other fibre stands', () => {
    const recipe = recipeFor('cotton', 'reactive', 2000);
    expect(afterBaths(recipe, of('cotton'))[1]?.toC).toBe(95);
    for (const fibre of ['silk', 'wool', 'elastane'] as const) {
      expect(afterBaths(recipe, of('cotton', fibre))[1]?.toC).toBeLessThanOrEqual(85);
    }
    expect(afterBaths(recipe, of('cotton', 'acetate'))[1]?.toC).toBeLessThanOrEqual(50);
  });
});

describe('disperse dye', () => {
  it('is stirred up and shaken, never dissolved', () => {
    for (const fibre of ['polyester', 'acetate', 'triacetate', 'nylon'] as const) {
      const steps = orderOfWork(recipeFor(fibre, 'disperse', 400), of(fibre));
      const said = steps.map(({ title, says }) => `${title} ${says}`).join(' ');
      expect(said).not.toMatch(/dissolved? (the )?dye|dissolved dye/i);
      expect(said).toMatch(/Disperse the dye/);
      expect(said).toMatch(/Shake the dispersion/);
    }
  });

  it('is a tint on polyester at the boil without carrier: 0.5 % at most, unless by the label', () => {
    const at = (owfMilli: number, change: Partial<Recipe> = {}) => {
      const made = { ...recipeFor('polyester', 'disperse', owfMilli), ...change };
      return checkRecipe(made, of('polyester')).problems.map(({ field }) => field);
    };
    expect(at(500)).toEqual([]);
    expect(at(501)).toEqual(['dyes']);
    expect(at(2000, { marks: { temperatureC: { basis: 'label', source: 'the label' } } })).toEqual([]);
    const carried = recipeFor('polyester', 'disperse', 1500);
    const carrier = {
      kind: 'carrier',
      name: 'carrier',
      form: 'as-sold',
      per: 'litre',
      mgPerLitre: 3000,
    } as const;
    expect(at(1500, { auxiliaries: [...carried.auxiliaries, carrier] })).toEqual([]);
  });

  // Acetate and nylon want pH 5 to 6, triacetate 4.5 to 5.5 (from memory), in soft and in moderate water.
  it.each([
    ['acetate', 5, 6],
    ['nylon', 5, 6],
    ['triacetate', 4.5, 5.5],
  ] as const)('on %s has acid that keeps its pH', (fibre, from, to) => {
    const recipe = recipeFor(fibre, 'disperse', 400);
    const mg = (kind: string) =>
      chemicalsOf(recipe).find((_, row) => recipe.auxiliaries[row]?.kind === kind)?.mgPerLitre ?? 0;
    for (const alkalinity of [0, 100]) {
      const pH = bathPh({
        aceticAcid: mg('acetic-acid'),
        sodiumAcetate: mg('sodium-acetate'),
        alkalinity,
      });
      expect(pH).toBeGreaterThan(from - 0.1);
      expect(pH).toBeLessThan(to + 0.1);
    }
  });
});

describe('acrylic', () => {
  // organicdye.com, polyester with acrylic: 6, 4, 2 and 1 % of retarder to 0.1, 1, 3 and 6 % of dye.
  it.each([
    [100, 6],
    [101, 4],
    [1000, 4],
    [1001, 2],
    [3000, 2],
    [3001, 1],
    [6000, 1],
  ])('at %i thousandths of a percent takes %i %% of retarder', (owf, percent) => {
    expect(retarderFor(owf)).toBe(percent);
    const retarder = recipeFor('acrylic', 'basic', owf).auxiliaries.find(({ kind }) => kind === 'retarder');
    expect(retarder).toMatchObject({ per: 'cloth', owfMilli: percent * 1000 });
  });

  it('refuses an anionic leveller beside its dye and retarder', () => {
    const made = recipeFor('acrylic', 'basic', 1000);
    const leveller = {
      kind: 'levelling-agent',
      name: 'leveller',
      form: 'as-sold',
      per: 'litre',
      mgPerLitre: 500,
    } as const;
    const { problems } = checkRecipe(
      { ...made, auxiliaries: [...made.auxiliaries, leveller] },
      of('acrylic'),
    );
    expect(problems.map(({ message }) => message).join(' ')).toMatch(/a deposit that stains/);
  });

  it('cools slowly to 50 °C, and is washed with detergent and a little acid', () => {
    const steps = orderOfWork(recipeFor('acrylic', 'basic', 1000), of('acrylic'));
    const cool = steps.find(({ kind }) => kind === 'cool');
    expect(cool).toMatchObject({ fromC: 98, toC: 50, minutes: 48 });
    expect(steps.find(({ kind }) => kind === 'clear')?.doses.map(({ kind }) => kind)).toEqual([
      'detergent',
      'acetic-acid',
    ]);
  });
});

describe('acid on nylon', () => {
  const acid = (kind: RecipeAuxiliary['kind'], form: string, owfMilli: number): RecipeAuxiliary => ({
    kind,
    name: kind,
    form,
    per: 'cloth',
    owfMilli,
  });
  const warned = (dyeClass: DyeClass, ...auxiliaries: RecipeAuxiliary[]) =>
    donorWarnings({ ...recipeFor('nylon', dyeClass, 300), auxiliaries }, of('nylon')).map(({ id }) => id);

  // tradetextile.com: acetic 1 to 3 %; organicdye.com: ammonium sulphate 4 %.
  it('is warned of above what each type of dye takes, as the pure acid', () => {
    expect(warned('acid-levelling', acid('acetic-acid', 'glacial', 3000))).toEqual([]);
    expect(warned('acid-levelling', acid('acetic-acid', 'glacial', 3200))).toEqual(['acid-donor']);
    // 3 % of acid are 60 % of vinegar, and 5.36 % of the 56 % acid.
    expect(warned('acid-levelling', acid('acetic-acid', '56', 5350))).toEqual([]);
    expect(warned('acid-levelling', acid('acetic-acid', '56', 6000))).toEqual(['acid-donor']);
    expect(warned('acid-milling', acid('ammonium-sulphate', 'as-sold', 4000))).toEqual([]);
    expect(warned('acid-milling', acid('ammonium-sulphate', 'as-sold', 5000))).toEqual(['acid-donor']);
  });

  it('of milling dye takes no salt', () => {
    // Broadbent, p. 246.
    expect(warned('acid-milling', acid('glauber-salt', 'decahydrate', 5000))).toEqual(['salt-with-milling']);
    for (const owf of [300, 1000, 2000]) {
      const kinds = recipeFor('nylon', 'acid-milling', owf).auxiliaries.map(({ kind }) => kind);
      expect(kinds).not.toContain('glauber-salt');
    }
  });

  it('by ammonium sulphate wants the lid off and the pH measured', () => {
    const steps = orderOfWork(recipeFor('nylon', 'acid-milling', 300), of('nylon'));
    expect(steps.find(({ kind }) => kind === 'hold')?.says).toMatch(/Lid off.*Measure its pH/);
  });

  // Ammonium sulphate, craft dose: 13.6 g to 454 g in 9.46 L are 3.0 % and 1.44 g/L (pburch.net).
  it('counts a donor by the cloth and by the litre alike', () => {
    expect((13.6 / 454) * 100).toBeCloseTo(3, 1);
    const recipe = {
      ...recipeFor('nylon', 'acid-milling', 300),
      liquorRatioMilli: Math.round((9.46 / 0.454) * 1000),
      auxiliaries: [acid('ammonium-sulphate', 'as-sold', 2996)],
    };
    expect(chemicalsOf(recipe)[0]?.mgPerLitre).toBeCloseTo(1438, -1);
  });

  it('refuses a 1:1 metal-complex dye and takes a 1:2 one as it is', () => {
    const made = recipeFor('nylon', 'acid-metal-complex', 300);
    expect(made.method).toBe('1:2, near neutral');
    expect(checkRecipe(made, of('nylon')).problems).toEqual([]);
    const strong = checkRecipe({ ...made, method: '1:1, strong acid' }, of('nylon')).problems;
    expect(strong).toContainEqual({ field: 'method', message: expect.stringMatching(/1:2 metal-complex/) });
  });
});

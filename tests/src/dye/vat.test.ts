import { describe, expect, it } from 'vitest';
import { liquidVolumeUl, massInForm } from '../../../src/dye/auxiliaries.ts';
import { bathFor } from '../../../src/dye/bath.ts';
import type { FibreCode } from '../../../src/dye/fibre.ts';
import { orderOfWork, weighingsAt } from '../../../src/dye/order-of-work.ts';
import type { Recipe } from '../../../src/dye/recipe.ts';
import { checkRecipe } from '../../../src/dye/recipe-check.ts';
import { starterRecipe } from '../../../src/dye/starter-recipe.ts';
import { CAUSTIC_LOST_WITH_HYDROS, VAT_FAMILIES, VAT_WAYS, vatChemicals } from '../../../src/dye/vat.ts';

const all = (fibre: FibreCode) => [{ fibre, shareBp: 10_000 }];
const dyes = (owfMilli: number) => [{ name: 'Kelp', owfMilli }];
function vat(method: string, owfMilli = 1000): Recipe {
  const made = starterRecipe(all('cotton'), 'vat', dyes(owfMilli), method);
  if (!made) throw new Error('no vat');
  return made;
}

describe('the last baths of a vat', () => {
  const steps = orderOfWork(vat('hot (IN)'), all('cotton'));
  const last = steps.findLast(({ kind }) => kind === 'rinse');

  it('have the soda rinsed out where the vinegar goes in, and not told of in the soap', () => {
    expect(steps.find(({ title }) => title.startsWith('Soap'))?.says).not.toContain('vinegar');
    expect(last?.says).toMatch(/^Hot, then cold, a little vinegar.*Rinse the soda out first/);
  });

  it('measure vinegar as a liquid: 20 g/L of 20 L are 400 g, and at 1.006 g/mL 398 mL', () => {
    const bath = bathFor(1_000_000, vat('hot (IN)'));
    if (!bath.ok || !last) throw new Error('no bath');
    const [vinegar] = weighingsAt(last, bath.bath);
    expect(vinegar).toMatchObject({ name: 'vinegar', massMg: 400_000 });
    expect((vinegar?.volumeUl ?? 0) / 1000).toBeCloseTo(400 / 1.006, 1);
  });
});

describe('what a vat takes', () => {
  // richestchemicalcompanylimited.com, vat page: mL of 30 % caustic × 0.398, hydrosulphite of 85 %, at 0.1, 1, 3, 6 %.
  it.each([
    ['hot (IN)', 100, 4, 4],
    ['hot (IN)', 1000, 4.8, 5],
    ['hot (IN)', 3000, 6.8, 7],
    ['hot (IN)', 6000, 8, 8],
    ['warm (IW)', 100, 2.4, 3.5],
    ['warm (IW)', 1000, 3.2, 4.5],
    ['warm (IW)', 3000, 4.8, 6.5],
    ['warm (IW)', 6000, 5.6, 7],
  ] as const)(
    '%s at %i thousandths of a percent is the published %f and %f g/L',
    (family, owf, caustic, hydros) => {
      const { causticMgPerLitre, hydrosMgPerLitre } = vatChemicals(family, owf);
      expect([causticMgPerLitre / 1000, hydrosMgPerLitre / 1000]).toEqual([caustic, hydros]);
    },
  );

  // Broadbent, p. 367, table 17.1.
  it.each([
    ['hot (IN)', [50, 60], 60, [0, 0]],
    ['warm (IW)', [45, 50], 50, [5, 25]],
    ['cold (IK)', [20, 25], 40, [10, 40]],
  ] as const)(
    '%s is dyed, vatted and salted as the textbook has it',
    (family, dyeingC, vattingC, [least, most]) => {
      expect(VAT_WAYS[family]).toMatchObject({ dyeingC, vattingC });
      expect([100, 6000].map((owf) => vatChemicals(family, owf).saltMgPerLitre / 1000)).toEqual([
        least,
        most,
      ]);
    },
  );

  it('of the cold family stays within the textbook’s 1.5 to 2.5 g/L and the printed 0.4 to 4.5 of hydrosulphite', () => {
    for (const owf of [50, 100, 1000, 3000, 6000, 9000]) {
      const { causticMgPerLitre, hydrosMgPerLitre } = vatChemicals('cold (IK)', owf);
      expect(causticMgPerLitre).toBeGreaterThanOrEqual(1500);
      expect(causticMgPerLitre).toBeLessThanOrEqual(2500);
      expect(hydrosMgPerLitre).toBeGreaterThanOrEqual(400);
      expect(hydrosMgPerLitre).toBeLessThanOrEqual(4500);
    }
  });

  it('rises with the depth, every family', () => {
    for (const family of VAT_FAMILIES) {
      const doses = [100, 500, 1000, 2000, 3000, 5000, 6000].map((owf) => vatChemicals(family, owf));
      for (const key of ['causticMgPerLitre', 'hydrosMgPerLitre', 'saltMgPerLitre'] as const) {
        const figures = doses.map((dose) => dose[key]);
        expect(figures).toEqual([...figures].sort((a, b) => a - b));
      }
    }
  });

  // Na2S2O4 + O2 + 2 NaOH: 174.1 g of hydrosulphite take 32 g of oxygen and 80 g of caustic soda; 10 g: 4.6 and 1.84 g.
  it('loses 4.6 g of caustic soda with 10 g of hydrosulphite that air destroys', () => {
    expect(CAUSTIC_LOST_WITH_HYDROS).toBeCloseTo((2 * 39.997) / 174.11, 2);
    expect(10 * CAUSTIC_LOST_WITH_HYDROS).toBeCloseTo(4.6, 1);
    expect((10 * 31.998) / 174.11).toBeCloseTo(1.84, 2);
  });

  // 12 mL of 30 % lye at 1.328 g/mL hold 4.78 g of caustic soda.
  it('is the same as lye: 12 mL/L of 30 % are 4.78 g/L', () => {
    const lyeMg = 12 * 1328;
    expect(massInForm('caustic-soda', lyeMg, 'lye-30', 'as-sold') / 1000).toBeCloseTo(4.78, 2);
    expect(liquidVolumeUl('caustic-soda', 'lye-30', lyeMg)).toBe(12_000);
  });

  // A student trial: NaOH 7 % and hydrosulphite 6 % of the cloth at 30:1 are 2.33 and 2.00 g/L.
  it('by weight of cloth at 1:30 is the same by the litre', () => {
    const recipe: Recipe = {
      ...vat('hot (IN)'),
      liquorRatioMilli: 30_000,
      auxiliaries: [
        { kind: 'caustic-soda', name: 'caustic', form: 'as-sold', per: 'cloth', owfMilli: 7000 },
        { kind: 'hydrosulphite', name: 'hydros', form: 'as-sold', per: 'cloth', owfMilli: 6000 },
      ],
    };
    const bathed = bathFor(1_000_000, recipe);
    if (!bathed.ok) throw new Error(bathed.reason);
    const litres = bathed.bath.volumeUl / 1_000_000;
    const [, caustic = 0, hydros = 0] = bathed.bath.lines.map(({ massMg }) => massMg / 1000 / litres);
    expect(caustic).toBeCloseTo(2.33, 2);
    expect(hydros).toBeCloseTo(2, 2);
  });
});

describe('a vat', () => {
  it.each(VAT_FAMILIES)('%s is whole: pasted, reduced, set, dyed, rinsed, oxidised, soaped', (family) => {
    const recipe = vat(family, 2000);
    expect(checkRecipe(recipe, all('cotton')).problems).toEqual([]);
    const steps = orderOfWork(recipe, all('cotton'));
    const salted = family !== 'hot (IN)';
    expect(steps.map(({ key }) => key).filter((key) => !key.startsWith('cool'))).toEqual([
      'prepare',
      'weigh',
      'dissolve',
      'vat',
      'set-1',
      'add-2',
      ...(salted ? ['add-3', 'add-4', 'add-5'] : []),
      salted ? 'hold-6' : 'hold-3',
      'rinse',
      'oxidise',
      'clear',
      'rinse-2',
      'dry',
    ]);
    const find = (key: string) => steps.find((step) => step.key === key);
    expect(find('vat')).toMatchObject({ toC: VAT_WAYS[family].vattingC, minutes: 15 });
    expect(find('set-1')?.toC).toBe(VAT_WAYS[family].dyeingC[1]);
    const parts = (key: string) => find(key)?.adds.map(({ name, part, of }) => [name, part, of]);
    expect(parts('vat')).toEqual([
      ['caustic soda', 1, 2],
      ['sodium hydrosulphite', 1, 2],
    ]);
    expect(parts('set-1')).toEqual([
      ['caustic soda', 2, 2],
      ['sodium hydrosulphite', 2, 2],
    ]);
  });

  it('says what keeps it a vat, and what must be out before the oxidiser', () => {
    const steps = orderOfWork(vat('hot (IN)'), all('cotton'));
    const says = (kind: string) => steps.find((step) => step.kind === kind)?.says ?? '';
    expect(says('dissolve')).toMatch(/strain it; for sheer cloth twice/);
    expect(says('vat')).toMatch(/10 to 15 minutes.*drop runs clear.*without specks/);
    expect(says('add')).toMatch(/under/);
    expect(says('hold')).toMatch(/Every 10 minutes.*vat paper.*pH over 12.*scum/);
    expect(says('rinse')).toMatch(/Cold.*less than 9.*Drain, and rinse 3 times.*starch-iodide/);
    expect(says('clear')).toMatch(/judge no swatch before it/);
    expect(steps.find(({ kind }) => kind === 'oxidise')).toMatchObject({ toC: 60, minutes: 20 });
    expect(steps.find(({ kind }) => kind === 'oxidise')?.doses).toMatchObject([
      { kind: 'perborate', mgPerLitre: 2000 },
    ]);
  });

  it('takes the oxidiser that the recipe lists, in the bath after it and not in its own', () => {
    const peroxide = {
      kind: 'peroxide',
      name: 'hydrogen peroxide',
      form: '35',
      per: 'litre',
      mgPerLitre: 2000,
    } as const;
    const made = vat('hot (IN)');
    const recipe = { ...made, auxiliaries: [...made.auxiliaries, peroxide] };
    expect(checkRecipe(recipe, all('cotton')).problems).toEqual([]);
    const steps = orderOfWork(recipe, all('cotton'));
    const oxidise = steps.find(({ kind }) => kind === 'oxidise');
    const bathed = bathFor(1_000_000, recipe);
    if (!oxidise || !bathed.ok) throw new Error('no oxidising');
    expect(oxidise.doses).toEqual([]);
    // 20 L × 2 g/L.
    expect(weighingsAt(oxidise, bathed.bath)).toMatchObject([{ name: 'hydrogen peroxide', massMg: 40_000 }]);
    expect(steps.find(({ kind }) => kind === 'set')?.adds.map(({ name }) => name)).not.toContain(
      'hydrogen peroxide',
    );
  });

  it.each<[string, Partial<Recipe>, string, RegExp]>([
    ['no family', { method: 'as usual' }, 'method', /hot \(IN\), warm \(IW\) or cold \(IK\)/],
    ['nothing', { auxiliaries: [] }, 'auxiliaries', /caustic soda/],
    ['more than 6 %', { dyes: dyes(6001) }, 'dyes', /label/],
  ])('with %s is refused', (_, change, field, message) => {
    const found = checkRecipe({ ...vat('hot (IN)'), ...change }, all('cotton')).problems;
    expect(found).toContainEqual({ field, message: expect.stringMatching(message) });
  });

  // Broadbent, p. 413; hot strong caustic soda dissolves silk (textileengg.blogspot.com); no figures for nylon.
  it.each(['wool', 'silk', 'nylon'] as const)('is refused on %s, but for a label of its own', (fibre) => {
    const found = checkRecipe(vat('hot (IN)'), all(fibre)).problems;
    expect(found[0]).toEqual({ field: 'dyeClass', message: expect.stringMatching(/label/) });
  });

  it.each(['wool', 'silk', 'acetate', 'elastane', 'metallised', 'triacetate', 'acrylic'] as const)(
    'is refused on cotton with 1 % of %s',
    (fibre) => {
      const content = [
        { fibre: 'cotton', shareBp: 9900 },
        { fibre, shareBp: 100 },
      ] as const;
      expect(checkRecipe(vat('hot (IN)'), content).problems).not.toEqual([]);
    },
  );
});

import { describe, expect, it } from 'vitest';
import type { Content, FibreCode } from '../../../src/dye/fibre.ts';
import {
  amountOf,
  auxiliaryFrom,
  depthOwfMilli,
  inForm,
  markOf,
  type Recipe,
  withLabel,
} from '../../../src/dye/recipe.ts';
import { checkRecipe } from '../../../src/dye/recipe-check.ts';
import { starterRecipe } from '../../../src/dye/starter-recipe.ts';

const of = (...shares: [FibreCode, number][]): Content =>
  shares.map(([fibre, percent]) => ({ fibre, shareBp: percent * 100 }));
const NYLON = of(['nylon', 100]);
const COTTON = of(['cotton', 100]);

const RED: Recipe = {
  dyeClass: 'acid-levelling',
  method: 'weak acid',
  dyes: [{ name: 'Demo red', owfMilli: 2000 }],
  auxiliaries: [
    { kind: 'acetic-acid', name: 'vinegar', form: 'vinegar-5', per: 'cloth', owfMilli: 20_000 },
    { kind: 'levelling-agent', name: 'levelling agent', form: 'as-sold', per: 'litre', mgPerLitre: 500 },
  ],
  liquorRatioMilli: 30_000,
  temperatureC: 98,
  holdMinutes: 45,
  pHFrom: 4,
  pHTo: 6,
  marks: { temperatureC: { basis: 'common practice', source: 'common practice' } },
};

const problems = (change: Partial<Recipe>, content = NYLON) =>
  checkRecipe({ ...RED, ...change }, content).problems.map(({ field }) => field);
const warnings = (change: Partial<Recipe>, content = NYLON) =>
  checkRecipe({ ...RED, ...change }, content).warnings.map(({ id }) => id);
const said = (change: Partial<Recipe>, content = NYLON) =>
  checkRecipe({ ...RED, ...change }, content)
    .problems.map(({ message }) => message)
    .join(' ');
const dye = (owfMilli: number, name = 'Demo blue') => ({ name, owfMilli });

describe('checking a recipe', () => {
  it('finds nothing wrong with a plain one', () => {
    expect(checkRecipe(RED, NYLON)).toEqual({ problems: [], warnings: [] });
  });

  it('tells every fault at once', () => {
    const change: Partial<Recipe> = {
      dyeClass: 'vat',
      dyes: [dye(0, ' ')],
      auxiliaries: [{ kind: 'salt', name: 'salt', form: 'glacial', per: 'litre', mgPerLitre: -1 }],
      liquorRatioMilli: 0,
      temperatureC: 130,
      holdMinutes: 0,
      pHFrom: 9,
      pHTo: 4,
    };
    expect(problems(change)).toEqual([
      'dyeClass',
      'dyes.0.name',
      'dyes.0.owfMilli',
      'auxiliaries.0.form',
      'auxiliaries.0.mgPerLitre',
      'liquorRatioMilli',
      'holdMinutes',
      'pH',
      'temperatureC',
    ]);
  });

  it('refuses a class that does not dye the cloth, with the reason and what would', () => {
    expect(said({}, of(['polyester', 100]))).toBe(
      'Polyester does not take levelling acid dye; disperse dye does; at the boil without carrier only pale shades.',
    );
    expect(problems({ dyeClass: 'reactive' })).toEqual(['dyeClass']);
    expect(problems({ dyeClass: 'henna' as Recipe['dyeClass'] })).toContain('dyeClass');
  });

  it('takes from 0.001 to 20 % of each dye and of all together', () => {
    expect(problems({ dyes: [dye(1)] })).toEqual([]);
    expect(problems({ dyes: [dye(20_000)] })).toEqual([]);
    expect(problems({ dyes: [dye(20_001)] })).toEqual(['dyes.0.owfMilli']);
    expect(problems({ dyes: [dye(0.5)] })).toEqual(['dyes.0.owfMilli']);
    expect(problems({ dyes: [dye(400_000)] })).toEqual(['dyes.0.owfMilli']);
    expect(problems({ dyes: [dye(12_000), dye(9_000)] })).toEqual(['dyes']);
    expect(said({ dyes: [dye(12_000), dye(9_000)] })).toContain('The dyes together make 21 %');
    expect(problems({ dyes: [] })).toEqual(['dyes']);
  });

  it('asks which form of an auxiliary the label names', () => {
    const soda = auxiliaryFrom({ kind: 'soda-ash', name: 'soda', form: '', per: 'litre', amount: 5000 });
    expect(problems({ auxiliaries: [soda] })).toEqual(['auxiliaries.0.form']);
    expect(said({ auxiliaries: [soda] })).toContain('washing soda crystals, decahydrate');
  });

  it('takes auxiliaries up to 200 g/L and 100 % owf', () => {
    const salt = (per: 'litre' | 'cloth', amount: number) => [
      auxiliaryFrom({ kind: 'salt', name: 'salt', form: 'as-sold', per, amount }),
    ];
    expect(problems({ auxiliaries: salt('litre', 200_000) })).toEqual([]);
    expect(problems({ auxiliaries: salt('litre', 200_001) })).toEqual(['auxiliaries.0.mgPerLitre']);
    expect(problems({ auxiliaries: salt('cloth', 100_000) })).toEqual([]);
    expect(problems({ auxiliaries: salt('cloth', 100_001) })).toEqual(['auxiliaries.0.owfMilli']);
    expect(said({ auxiliaries: salt('cloth', 0) })).toContain('0.001 to 100 % owf');
    const glue = { ...salt('litre', 1)[0], kind: 'glue' } as unknown as Recipe['auxiliaries'][number];
    expect(problems({ auxiliaries: [glue] })).toEqual(['auxiliaries.0.kind']);
  });

  it('wants liquor that covers the cloth', () => {
    expect(problems({ liquorRatioMilli: 5000 })).toEqual([]);
    expect(problems({ liquorRatioMilli: 4999 })).toEqual(['liquorRatioMilli']);
    expect(said({ liquorRatioMilli: 2000 })).toContain('does not cover the cloth');
    expect(said({ liquorRatioMilli: 200_001 })).toContain('hardly any dye');
    expect(problems({ liquorRatioMilli: 20_000.5 })).toEqual(['liquorRatioMilli']);
  });

  it('holds for 1 minute to 24 hours', () => {
    expect(problems({ holdMinutes: 1440 })).toEqual([]);
    expect(problems({ holdMinutes: 1441 })).toEqual(['holdMinutes']);
    expect(problems({ holdMinutes: 30.5 })).toEqual(['holdMinutes']);
  });

  it('takes pH from 0 to 14, and none', () => {
    const { pHFrom: _from, pHTo: _to, ...plain } = RED;
    expect(checkRecipe(plain, NYLON).problems).toEqual([]);
    expect(problems({ pHFrom: 15, pHTo: 15 })).toEqual(['pH']);
    expect(problems({ pHFrom: -1 })).toEqual(['pH']);
  });
});

describe('the heat of a recipe', () => {
  it('never passes what an open bath reaches', () => {
    expect(problems({ temperatureC: 100 })).toEqual([]);
    expect(problems({ temperatureC: 100.5 })).toEqual(['temperatureC']);
    expect(said({ dyeClass: 'disperse', temperatureC: 130 }, of(['polyester', 100]))).toContain(
      'commission dyer',
    );
    expect(problems({ temperatureC: Number.NaN })).toEqual(['temperatureC']);
  });

  it('never passes what the most delicate fibre stands', () => {
    expect(problems({ temperatureC: 98 }, of(['silk', 100]))).toEqual(['temperatureC']);
    expect(said({ temperatureC: 61, pHFrom: 6 }, of(['nylon', 95], ['metallised', 5]))).toBe(
      'Metallised film yarn is dyed at 60 °C at most: heat, acid and alkali attack the metal and its lacquer.',
    );
  });

  it('follows the label as far as the fibre allows at all', () => {
    const acetate = of(['acetate', 100]);
    const disperse = { ...RED, dyeClass: 'disperse' as const, temperatureC: 80 };
    expect(checkRecipe(disperse, acetate).problems).toEqual([]);
    expect(said({ ...disperse, temperatureC: 90 }, acetate)).toContain(
      'Up to 90 °C where the label says so.',
    );
    const byLabel = withLabel(disperse, { temperatureC: 90 }, 'Demo label');
    expect(checkRecipe(byLabel, acetate).problems).toEqual([]);
    const hotter = withLabel(disperse, { temperatureC: 91 }, 'Demo label');
    expect(checkRecipe(hotter, acetate).problems.map(({ field }) => field)).toEqual(['temperatureC']);
  });
});

describe('warnings on a recipe', () => {
  it('tell of a bath too cool for the dye', () => {
    expect(warnings({ temperatureC: 60 })).toEqual(['heat-nylon']);
    const [warning] = checkRecipe({ ...RED, temperatureC: 60 }, NYLON).warnings;
    expect(warning?.text).toBe('Nylon is worked with levelling acid dye at 95 to 100 °C.');
  });

  it('hold a reactive dye to the heat of its group, and ask for the group where none is named', () => {
    // 25 to 40 °C for dichlorotriazine: fibres2fabrics.blogspot.com, March 2011.
    const made = starterRecipe(COTTON, 'reactive', [{ name: 'R', owfMilli: 1000 }]);
    if (!made) throw new Error('no recipe');
    const ids = (changes: Partial<Recipe>) =>
      checkRecipe({ ...made, ...changes }, COTTON).warnings.map(({ id }) => id);
    expect(ids({})).toEqual([]);
    expect(ids({ method: 'dichlorotriazine' })).toEqual(['heat-cotton']);
    expect(ids({ method: 'dichlorotriazine', temperatureC: 40 })).toEqual([]);
    expect(ids({ method: 'hot brand' })).toEqual(['reactive-group']);
    const byLabel = { temperatureC: { basis: 'label', source: 'the label' } } as const;
    expect(ids({ method: 'hot brand', marks: byLabel })).toEqual([]);
  });

  it('tell of folds in a short bath', () => {
    expect(warnings({ liquorRatioMilli: 19_999 })).toEqual(['liquor-ratio']);
    expect(warnings({ liquorRatioMilli: 20_000 })).toEqual([]);
  });

  it('tell of pale shades and of fibres left behind', () => {
    expect(warnings({ dyeClass: 'disperse' }, of(['polyester', 100]))).toEqual(['note-polyester']);
    expect(warnings({}, of(['nylon', 90], ['elastane', 10]))).toEqual([
      'limit-elastane',
      'limit-elastane',
      'left-elastane',
    ]);
  });
});

describe("figures from the maker's label", () => {
  const label = withLabel(
    RED,
    {
      liquorRatioMilli: 20_000,
      pHFrom: 5,
      auxiliaries: [
        { kind: 'acetic-acid', name: 'acetic acid', form: '56', per: 'cloth', owfMilli: 3000 },
        { kind: 'salt', name: 'salt', form: 'as-sold', per: 'litre', mgPerLitre: 1000 },
      ],
    },
    'Demo red, label of its tub',
  );

  it("replace the recipe's own and are marked", () => {
    expect(label.liquorRatioMilli).toBe(20_000);
    expect([label.pHFrom, label.pHTo]).toEqual([5, 6]);
    expect(label.auxiliaries.map(({ kind, form }) => [kind, form])).toEqual([
      ['levelling-agent', 'as-sold'],
      ['acetic-acid', '56'],
      ['salt', 'as-sold'],
    ]);
    for (const figure of ['liquorRatioMilli', 'pH', 'auxiliaries.acetic-acid', 'auxiliaries.salt']) {
      expect(markOf(label, figure)).toEqual({ basis: 'label', source: 'Demo red, label of its tub' });
    }
  });

  it('leave the others and their marks', () => {
    expect(label.temperatureC).toBe(98);
    expect(markOf(label, 'temperatureC').basis).toBe('common practice');
    expect(markOf(label, 'holdMinutes')).toEqual({ basis: 'own', source: 'this workroom' });
    expect(RED.liquorRatioMilli).toBe(30_000);
  });
});

describe('amounts of a recipe', () => {
  it('add up to its depth', () => {
    expect(depthOwfMilli({ dyes: [dye(1500), dye(250), dye(1)] })).toBe(1751);
  });

  it('are made and read back either way', () => {
    for (const per of ['litre', 'cloth'] as const) {
      const made = auxiliaryFrom({ kind: 'salt', name: 'salt', form: 'as-sold', per, amount: 1234 });
      expect([made.per, amountOf(made)]).toEqual([per, 1234]);
    }
  });

  it('are converted to the form on the label', () => {
    // Washing soda for soda ash ×2.6997: synth-diy.org archive 18438, 2007.
    const soda = auxiliaryFrom({
      kind: 'soda-ash',
      name: 'soda',
      form: 'anhydrous',
      per: 'litre',
      amount: 10_000,
    });
    expect(inForm(soda, 'decahydrate')).toEqual({ ...soda, form: 'decahydrate', mgPerLitre: 26_997 });
    expect(() => inForm(soda, 'glacial')).toThrow(RangeError);
  });
});

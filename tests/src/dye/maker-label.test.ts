import { describe, expect, it } from 'vitest';
import { afterBaths } from '../../../src/dye/after-baths.ts';
import { atDepth } from '../../../src/dye/depth.ts';
import type { Content } from '../../../src/dye/fibre.ts';
import { EMPTY_LABEL, type MakerLabel } from '../../../src/dye/label-figures.ts';
import {
  byLabel,
  dosesAt,
  labelDifferences,
  lackingDoses,
  saysNothing,
  wholeByLabel,
} from '../../../src/dye/maker-label.ts';
import { orderOfWork } from '../../../src/dye/order-of-work.ts';
import { rampSteps } from '../../../src/dye/ramp.ts';
import type { Recipe } from '../../../src/dye/recipe.ts';
import { starterRecipe } from '../../../src/dye/starter-recipe.ts';

const cotton: Content = [{ fibre: 'cotton', shareBp: 10_000 }];
const acrylic: Content = [{ fibre: 'acrylic', shareBp: 10_000 }];
const DYES = [{ name: 'Madder R', owfMilli: 2000 }];

function offered(content: Content, dyeClass: 'reactive' | 'basic'): Recipe {
  const starter = starterRecipe(content, dyeClass, DYES);
  if (!starter) throw new Error('there is a recipe to start from');
  return starter;
}

/** An invented label of a reactive dye: soda before the heat, in two parts, and a wash-off of its own. */
const LABEL: MakerLabel = {
  ...EMPTY_LABEL,
  source: 'label of Madder R, invented',
  startC: 25,
  temperatureC: 50,
  holdMinutes: 70,
  heatRateMilli: 2000,
  additions: [
    { what: 'salt', atC: null, minutes: 5 },
    { what: 'dye', atC: 30, minutes: 15 },
    { what: 'soda-ash', atC: 40, minutes: 10 },
    { what: 'soda-ash', atC: null, minutes: 20 },
  ],
  doses: [
    { kind: 'salt', form: 'as-sold', upToMilli: 500, per: 'litre', amount: 20_000 },
    { kind: 'salt', form: 'as-sold', upToMilli: 2000, per: 'litre', amount: 45_000 },
    { kind: 'salt', form: 'as-sold', upToMilli: null, per: 'litre', amount: 60_000 },
    { kind: 'soda-ash', form: 'anhydrous', upToMilli: 4000, per: 'litre', amount: 12_000 },
  ],
  washes: [
    { says: 'Rinse cold until clear.', toC: 20, minutes: 12, dose: null },
    { says: 'Soap.', toC: 70, minutes: 25, dose: { kind: 'detergent', form: 'as-sold', mgPerLitre: 2000 } },
  ],
};

describe('the doses of a label', () => {
  it('are those of the next depth, and of the last row beyond it', () => {
    const salt = (depth: number) => dosesAt(LABEL, depth).find(({ kind }) => kind === 'salt');
    expect([100, 500, 501, 2000, 2001, 9000].map((depth) => salt(depth))).toMatchObject([
      { mgPerLitre: 20_000 },
      { mgPerLitre: 20_000 },
      { mgPerLitre: 45_000 },
      { mgPerLitre: 45_000 },
      { mgPerLitre: 60_000 },
      { mgPerLitre: 60_000 },
    ]);
    const soda = dosesAt(LABEL, 9000).find(({ kind }) => kind === 'soda-ash');
    expect(soda).toMatchObject({ name: 'soda ash, anhydrous', mgPerLitre: 12_000 });
    expect(dosesAt(EMPTY_LABEL, 100)).toEqual([]);
  });
});

describe('a recipe by a label', () => {
  it('has its figures and doses in the place of those that were offered, marked as such', () => {
    const made = byLabel(offered(cotton, 'reactive'), LABEL);
    expect(made).toMatchObject({ temperatureC: 50, holdMinutes: 70, heatRateMilli: 2000, label: LABEL });
    expect(made.auxiliaries).toMatchObject([
      { kind: 'salt', mgPerLitre: 45_000 },
      { kind: 'soda-ash', mgPerLitre: 12_000 },
    ]);
    const mark = { basis: 'label', source: 'label of Madder R, invented' };
    for (const figure of ['temperatureC', 'holdMinutes', 'rates', 'auxiliaries.salt']) {
      expect(made.marks[figure]).toEqual(mark);
    }
    // What the label does not say stays as it was offered.
    expect(made.marks.liquorRatioMilli?.basis).toBe('common practice');
    expect(labelDifferences(made)).toEqual([]);
    expect(labelDifferences(offered(cotton, 'reactive'))).toEqual([]);
  });

  it('keeps what the workroom wrote down itself, and tells where that differs', () => {
    const own = { basis: 'own', source: 'this workroom' } as const;
    const starter = offered(cotton, 'reactive');
    const recipe = {
      ...starter,
      heatRateMilli: 1000,
      marks: { ...starter.marks, temperatureC: own, holdMinutes: own, 'auxiliaries.salt': own, rates: own },
    };
    const label = { ...LABEL, liquorRatioMilli: 15_000, coolRateMilli: 500 };
    const made = byLabel(recipe, label);
    expect(made).toMatchObject({
      temperatureC: starter.temperatureC,
      heatRateMilli: 1000,
      liquorRatioMilli: 15_000,
    });
    expect(made.coolRateMilli).toBeUndefined();
    expect(labelDifferences({ ...made, liquorRatioMilli: 30_000 }).map(({ id }) => id)).toEqual([
      'label-temperature',
      'label-time',
      'label-ratio',
      'label-salt',
    ]);
    expect(labelDifferences(made)[2]?.text).toMatch(
      /45 g\/L of salt .* at this depth, and this recipe has .* as its own/,
    );
  });

  it('is told of what the label adds and the recipe lacks', () => {
    const bare = { ...offered(cotton, 'reactive'), auxiliaries: [] };
    const label: MakerLabel = {
      ...LABEL,
      doses: LABEL.doses.slice(0, 1),
      additions: [...LABEL.additions, { what: 'sequestrant', atC: null, minutes: 5 }],
    };
    expect(labelDifferences(byLabel(bare, label)).map(({ text }) => text)).toEqual(
      [
        'The label asks for 20 g/L of salt (sodium chloride) at this depth, and this recipe has none.',
        'The label adds soda ash, and this recipe has none.',
        'The label adds sequestrant, and this recipe has none.',
      ].map((text) => expect.stringContaining(text.slice(0, 30))),
    );
  });

  it('takes its pH, and says nothing where nothing is entered', () => {
    const made = byLabel(offered(cotton, 'reactive'), { ...EMPTY_LABEL, pHFrom: 10.5, pHTo: 11 });
    expect(made).toMatchObject({
      pHFrom: 10.5,
      pHTo: 11,
      marks: { pH: { basis: 'label', source: "the maker's label" } },
    });
    expect(saysNothing({ ...EMPTY_LABEL, source: 'a tub' })).toBe(true);
    expect(saysNothing(LABEL)).toBe(false);
    expect(saysNothing({ ...EMPTY_LABEL, startC: 30 })).toBe(false);
  });
});

describe('the work by a label', () => {
  const recipe = byLabel(offered(cotton, 'reactive'), LABEL);
  const steps = rampSteps(recipe, cotton);

  it('goes in its order: set at 25 °C, dye at 30, soda at 40 in two parts, heated at 2 °C a minute', () => {
    expect(steps.map(({ kind, toC, minutes, adds }) => [kind, toC, minutes, adds.join()])).toEqual([
      ['set', 25, 10, ''],
      ['add', 25, 5, 'salt (sodium chloride)'],
      ['heat', 30, 3, ''],
      ['add', 30, 15, 'Madder R'],
      ['heat', 40, 5, ''],
      ['add', 40, 10, 'soda ash, anhydrous'],
      ['add', 40, 20, 'soda ash, anhydrous'],
      ['heat', 50, 5, ''],
      ['hold', 50, 70, ''],
    ]);
    expect(steps.every(({ mark }) => mark.basis === 'label')).toBe(true);
  });

  it('is told step by step whose it is: what the label leaves open is ours', () => {
    const open = rampSteps(
      byLabel(offered(cotton, 'reactive'), { ...LABEL, startC: null, heatRateMilli: null }),
      cotton,
    );
    expect(open.find(({ kind }) => kind === 'set')?.mark.basis).toBe('common practice');
    expect(open.find(({ kind }) => kind === 'heat')?.mark.basis).toBe('common practice');
    expect(open.find(({ kind }) => kind === 'add')?.mark.basis).toBe('label');
  });

  it('puts half of what is named twice into each, and the order of work with its wash-off after it', () => {
    const work = orderOfWork(recipe, cotton);
    const soda = work.flatMap(({ adds }) => adds.filter(({ name }) => name.startsWith('soda')));
    expect(soda.map(({ part, of }) => [part, of])).toEqual([
      [1, 2],
      [2, 2],
    ]);
    const after = work.slice(work.findIndex(({ kind }) => kind === 'hold') + 1);
    expect(after.map(({ kind, toC, minutes, mark }) => [kind, toC, minutes, mark.basis])).toEqual([
      ['rinse', 20, 12, 'label'],
      ['clear', 70, 25, 'label'],
      ['dry', 20, 120, 'common practice'],
    ]);
  });

  it('is rinsed by our rule first where the label begins with soap, and never hotter than the fibre stands', () => {
    const soapOnly = { ...LABEL, washes: LABEL.washes.slice(1).map((wash) => ({ ...wash, toC: 99 })) };
    const silk: Content = [{ fibre: 'silk', shareBp: 10_000 }];
    const baths = afterBaths({ ...recipe, label: soapOnly }, silk);
    expect(baths.map(({ kind, mark }) => [kind, mark.basis])).toEqual([
      ['rinse', 'from memory'],
      ['clear', 'label'],
    ]);
    // Silk at 85 °C at most: textilelearner.blogspot.com, January 2012.
    expect(baths[1]?.toC).toBe(85);
  });

  it('sets dye in where the label names only the others, and passes a slow stretch no faster', () => {
    const label: MakerLabel = {
      ...EMPTY_LABEL,
      startC: 50,
      heatRateMilli: 3000,
      additions: [{ what: 'acetic-acid', atC: 60, minutes: 5 }],
    };
    const found = rampSteps(byLabel(offered(acrylic, 'basic'), label), acrylic);
    expect(found[1]).toMatchObject({ kind: 'add', adds: ['Madder R'], dyes: true });
    const stretch = found.filter(({ kind, rateCPerMinute }) => kind === 'heat' && rateCPerMinute > 0);
    expect(Math.min(...stretch.map(({ rateCPerMinute }) => rateCPerMinute))).toBeLessThan(1);
    const heated = stretch.reduce((sum, { minutes, rateCPerMinute }) => sum + minutes * rateCPerMinute, 0);
    expect(heated).toBeGreaterThanOrEqual((found.find(({ kind }) => kind === 'hold')?.toC ?? 0) - 50);
  });
});

describe('a recipe that is worked by a label, at another depth', () => {
  const worked = byLabel(offered(cotton, 'reactive'), LABEL);
  const dose = (recipe: Recipe, wanted: string) => {
    const found = recipe.auxiliaries.find(({ kind }) => kind === wanted);
    return found?.per === 'litre' ? found.mgPerLitre : undefined;
  };

  it.each([
    [500, 20_000],
    [501, 45_000],
    [3000, 60_000],
  ])('takes the dose of the label for %i thousandths', (depth, salt) => {
    expect(dose(atDepth(worked, 'cotton', depth), 'salt')).toBe(salt);
  });

  it('keeps what the workroom wrote down itself', () => {
    const written = offered(cotton, 'reactive');
    const own: Recipe = {
      ...written,
      auxiliaries: written.auxiliaries.map((each) =>
        each.kind === 'salt' && each.per === 'litre' ? { ...each, mgPerLitre: 33_000 } : each,
      ),
      marks: { ...written.marks, 'auxiliaries.salt': { basis: 'own', source: '' } },
    };
    expect(dose(atDepth(byLabel(own, LABEL), 'cotton', 3000), 'salt')).toBe(33_000);
  });

  it('has what the label doses and was lacking, marked as that', () => {
    const label: MakerLabel = {
      ...LABEL,
      doses: [
        ...LABEL.doses,
        { kind: 'levelling-agent', form: 'as-sold', upToMilli: null, per: 'litre', amount: 1000 },
      ],
    };
    const whole = wholeByLabel(offered(cotton, 'reactive'), label);
    expect(dose(whole, 'levelling-agent')).toBe(1000);
    expect(whole.marks['auxiliaries.levelling-agent']).toEqual({ basis: 'label', source: label.source });
    expect(lackingDoses(whole, label)).toEqual([]);
    expect(labelDifferences(whole)).toEqual([]);
  });
});

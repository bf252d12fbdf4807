import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openTestHouse, type TestHouse } from '../../support.ts';
import { addressOf, cotton, type Fields, refusedAt, workOut } from './quick-asking.ts';

let house: TestHouse;
beforeAll(async () => {
  house = await openTestHouse();
});
afterAll(() => house.shut());

describe('what cannot be worked out is told at its field', () => {
  const nylon: Fields = {
    mass: '500 g',
    weighed: 'conditioned',
    'fibres.0.fibre': 'nylon',
    'dyes.0.owf': '1',
  };

  it.each<[string, Fields, string, RegExp]>([
    ['no mass', { ...nylon, mass: '0' }, 'mass', /must weigh something/],
    ['no mass and no area', { ...nylon, mass: '' }, 'mass', /Give the mass of the cloth, or its area/],
    ['an area alone', { ...nylon, mass: '', area: '4 m²' }, 'mass_per_area', /Give the mass per area too/],
    [
      'a scale that nothing is said of',
      { ...nylon, weighed: '' },
      'weighed',
      /Say how the cloth was weighed/,
    ],
    ['wet cloth', { ...nylon, weighed: 'wet' }, 'weighed', /weighs its water too/],
    ['400 % of dye', { ...nylon, 'dyes.0.owf': '400' }, 'dyes.0.owf', /from 0\.001 to 20 %/],
    ['a stock of nothing', { ...nylon, 'dyes.0.stock': '0' }, 'dyes.0.stock', /holds something/],
    [
      'stocks beyond the bath',
      { ...nylon, 'dyes.0.owf': '10', 'dyes.0.stock': '0.1' },
      'dyes.0.stock',
      /more than the bath/,
    ],
    ['shares short of the whole', { ...nylon, 'fibres.0.share': '90' }, 'fibres', /add up to 90 %/],
    [
      'a ratio that does not wet',
      { ...nylon, liquor_ratio: '3' },
      'liquor_ratio',
      /does not cover the cloth/,
    ],
    [
      'heat beyond the fibre',
      { ...nylon, 'fibres.0.fibre': 'acetate', dye_class: 'disperse', temperature: '95' },
      'temperature',
      /Acetate is dyed at 85 °C at most/,
    ],
    [
      '130 °C',
      { ...nylon, 'fibres.0.fibre': 'polyester', temperature: '130' },
      'temperature',
      /commission dyer/,
    ],
    [
      'a dye that does not take',
      { ...nylon, 'fibres.0.fibre': 'polyester', dye_class: 'acid-levelling' },
      'dye_class',
      /Polyester does not take levelling acid dye; disperse dye does; at the boil without carrier only pale shades/,
    ],
    [
      'a vessel below one strip',
      { ...nylon, vessel: '2 L', strips: '2' },
      'vessel',
      /One strip's cloth with its liquor takes/,
    ],
    ['gallons of no country', { ...nylon, vessel: '5 gal' }, 'vessel', /is it a US gallon/],
    ['power without a unit', { ...nylon, heater: '2000' }, 'heater', /with its unit/],
    [
      'parts that are not the strips',
      { ...nylon, vessel: '20 L', strips: '4', parts: '3 2' },
      'parts',
      /must make the 4 strips/,
    ],
    [
      'an amount without a basis',
      { ...nylon, 'auxiliaries.0.what': 'salt/as-sold', 'auxiliaries.0.amount': '5' },
      'auxiliaries.0.amount',
      /Say what the amount is for/,
    ],
    [
      'another thing for its form',
      {
        ...nylon,
        'auxiliaries.0.what': 'salt/as-sold',
        'auxiliaries.0.amount': '5 g/L',
        'auxiliaries.0.stated': 'soda-ash/anhydrous',
      },
      'auxiliaries.0.stated',
      /Choose a form of salt/,
    ],
    [
      'a fibre that takes nothing',
      { ...nylon, 'fibres.0.fibre': 'olefin' },
      'dye_class',
      /no dye bath colours it/,
    ],
  ])('%s', async (_, fields, field, message) => {
    const problems = await refusedAt(house, fields);
    expect(problems).toHaveProperty([field], expect.stringMatching(message));
    const page = await house.page(addressOf(fields));
    expect(page.text).toContain(`id="f-${field.replace(/\W/g, '-')}`);
  });
});

describe('the page', () => {
  it('shows every caution before the first amount, and takes no amount without', async () => {
    const page = await house.page(
      addressOf(
        cotton({ mass: '1 lb', 'dyes.0.owf': '2', offered: 'yes', vessel: '5 US gal', sheer: 'yes' }),
      ),
    );
    expect(page.status).toBe(200);
    expect(page.text.indexOf('Read first')).toBeGreaterThan(0);
    expect(page.text.indexOf('Read first')).toBeLessThan(page.text.indexOf('<h2>Amounts'));
    const { result } = (
      await house.data(addressOf(cotton({ mass: '1 lb', 'dyes.0.owf': '2', offered: 'yes' })))
    ).body;
    expect(result.cautions.slice(-2).map(({ id }: { id: string }) => id)).toEqual(['label', 'waste-water']);
    expect(result.cautions.map(({ id }: { id: string }) => id)).toEqual(
      expect.arrayContaining(['dust', 'reactive', 'alkali', 'scald', 'mains']),
    );
    // 0.45359237 kg × 2 % = 9.0718474 g (agreement of 1 July 1959 on the pound).
    expect(result.lines[0].how).toBe('453.592 g × 2 % = 9.07184 g');
  });

  it('weighs too little for the balance out of a stock that it proposes', async () => {
    const { lines } = await workOut(
      house,
      cotton({ mass: '200 g', 'dyes.0.owf': '0.1', balance: '0.01 g', liquor_ratio: '20' }),
    );
    // 0.2 g is off by 5.8 % on 0.01 g (2 × 0.0058 ÷ 0.2); 1 % holds it in 20 mL, and 1 g is the least that is weighed.
    expect(lines[0]?.amounts[0]).toEqual({ amount: '0.2 g', volume: '20 mL' });
    // 1 g on 0.01 g, a jug of 100 mL and 20 mL by two fillings of a pipette: 0.58, 0.58 and 0.12 %, twice 0.83.
    expect(lines[0]).toMatchObject({
      off: '±1.7 % by balance of 0.01 g, cylinder of 100 mL, graduated pipette of 10 mL',
    });
    expect((lines[0] as unknown as { stock: string }).stock).toBe(
      'too little for the balance, off ±5.8 % where 5 % is allowed: weigh 1 g and make it up to 100 mL, 1 g in 100 mL',
    );
    expect(lines.at(-1)?.how).toBe('4 L − 20 mL = 3.98 L');
  });

  it('lists the ways to share over baths, fewest first, strips whole', async () => {
    // 2 kg at 20:1 in 20 L filled to 15 L: a strip of 1/14 takes 2.957 L with its cloth, so five at most.
    const { split, groups } = await workOut(
      house,
      cotton({ mass: '2 kg', 'dyes.0.owf': '1', liquor_ratio: '20', vessel: '20 L', strips: '14' }),
    );
    expect(split?.options).toEqual([
      { baths: '3', what: '5 strips in each, all alike, 1 more than wanted', taken: false },
      { baths: '3', what: '5, 5 and 4 strips: each bath weighed for itself', taken: true },
      { baths: '7', what: '2 strips in each, all alike', taken: false },
    ]);
    expect(groups.map(({ label, strips }) => [label, strips])).toEqual([
      ['Baths 1 to 2, each', 5],
      ['Bath 3', 4],
    ]);
  });

  it('takes care of sheer cloth, of the pot, and of metallised yarn and elastane', async () => {
    const polyester = {
      mass: '500 g',
      weighed: 'conditioned',
      'fibres.0.fibre': 'polyester',
      'dyes.0.owf': '0.5',
    };
    const { warnings } = await workOut(house, {
      ...polyester,
      sheer: 'yes',
      material: 'aluminium',
      liquor_ratio: '20',
    });
    expect(warnings.find(({ id }) => id === 'crease-care')?.text).toMatch(
      /Liquor 1:30 or longer.*cool by 1 °C.*make it 1:30 or longer/,
    );
    expect(warnings.find(({ id }) => id === 'material')?.text).toMatch(/Aluminium/);
    const lame = { 'fibres.0.share': '80', 'fibres.1.fibre': 'metallised', 'fibres.1.share': '20' };
    const problems = await refusedAt(house, { ...polyester, ...lame, temperature: '98' });
    expect(problems.temperature).toMatch(/Metallised film yarn is dyed at 60 °C at most/);
    const stretch = await workOut(house, { ...polyester, ...lame, 'fibres.1.fibre': 'elastane' });
    expect(stretch.warnings.map(({ id }) => id)).toEqual(expect.arrayContaining(['uneven', 'elastane']));
  });

  it('works reactive dye at the heat of its group, and lets the label go before it', async () => {
    const heatOf = async (more: Fields) =>
      (
        await house.data(
          addressOf({
            ...cotton({ mass: '1 kg', 'dyes.0.owf': '2', offered: 'yes' }),
            temperature: '',
            ...more,
          }),
        )
      ).body.result.figures[1];
    // Bands: fibres2fabrics.blogspot.com, March 2011; the upper end of each.
    expect(await heatOf({ method: 'dichlorotriazine' })).toMatchObject({ value: '40 °C' });
    expect(await heatOf({ method: 'trichloropyrimidine' })).toMatchObject({ value: '95 °C' });
    expect(await heatOf({ temperature: '50', from_label: 'yes' })).toEqual({
      label: 'Temperature',
      value: '50 °C',
      source: "from the maker's label",
    });
  });
});

import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openTestHouse, type TestHouse } from '../../support.ts';
import { cotton, refusedAt, shown, workOut } from './quick-asking.ts';

let house: TestHouse;
beforeAll(async () => {
  house = await openTestHouse();
});
afterAll(() => house.shut());

describe('worked examples, as they are displayed', () => {
  it('5 g of cloth at 2 % from a 0.5 % stock takes 20 mL', async () => {
    // Sohel, textilecalculation.blogspot.com, December 2014.
    const { lines } = await workOut(
      house,
      cotton({ mass: '5 g', 'dyes.0.owf': '2', 'dyes.0.stock': '0.5', liquor_ratio: '10' }),
    );
    expect(shown(lines)['Dye 1']).toBe('20 mL');
    expect(lines[0]?.how).toBe('5 g × 2 % = 0.1 g; 0.1 g ÷ 0.5 g × 100 mL = 20 mL');
  });

  it('5 g at 10:1 with 20 g/L of salt from a 25 % stock takes 4 mL', async () => {
    // Sohel, textilecalculation.blogspot.com, December 2014.
    const { lines } = await workOut(
      house,
      cotton({
        mass: '5 g',
        'dyes.0.owf': '2',
        liquor_ratio: '10',
        'auxiliaries.0.what': 'salt/as-sold',
        'auxiliaries.0.amount': '20 g/L',
        'auxiliaries.0.stock': '25 %',
        balance: '0.001 g',
      }),
    );
    expect(shown(lines)['Salt (sodium chloride)']).toBe('4 mL');
  });

  it('a lab dip of 5 g at 10:1: 2.5, 10, 5, 7.5, 10 and 2.5 mL, and 12.5 mL of water', async () => {
    // Textilecalculation.blogspot.com, January 2015, dyeing calculation in lab dip.
    const auxiliaries: [what: string, amount: string, stock: string][] = [
      ['levelling-agent/as-sold', '0.5 g/L', '1'],
      ['sequestrant/as-sold', '2 g/L', '1'],
      ['lubricant/as-sold', '1 g/L', '1'],
      ['glauber-salt/anhydrous', '40 g/L', '20'],
      ['soda-ash/anhydrous', '10 g/L', '20'],
    ];
    const rows = auxiliaries.flatMap(([what, amount, stock], row) => [
      [`auxiliaries.${row}.what`, what],
      [`auxiliaries.${row}.amount`, amount],
      [`auxiliaries.${row}.stock`, stock],
    ]);
    const { lines, bath } = await workOut(
      house,
      cotton({
        mass: '5 g',
        liquor_ratio: '10:1',
        'dyes.0.name': 'Dye',
        'dyes.0.owf': '1.5',
        'dyes.0.stock': '1',
        ...Object.fromEntries(rows),
      }),
    );
    expect(bath).toEqual({ shown: '50 mL', how: '5 g × 10 L/kg = 50 mL' });
    expect(lines.map(({ name, amounts }) => [name, amounts[0]?.volume || amounts[0]?.amount])).toEqual([
      ['Dye', '7.5 mL'],
      ['Levelling agent', '2.5 mL'],
      ['Sequestrant', '10 mL'],
      ['Lubricant', '5 mL'],
      ['Sodium sulphate, anhydrous', '10 mL'],
      ['Soda ash, anhydrous', '2.5 mL'],
      ['Fresh water', '12.5 mL'],
    ]);
    expect(lines.at(-1)?.how).toBe('50 mL − 7.5 mL − 2.5 mL − 10 mL − 5 mL − 10 mL − 2.5 mL = 12.5 mL');
  });

  it('2 g at 20:1 with 1 g/L of dispersant and 1 mL/L of acid takes 0.04 g and 0.04 mL in 40 mL', async () => {
    // Textilepad, February 2022, dyeing of polyester.
    const { lines, bath } = await workOut(house, {
      ...cotton({ mass: '2 g', liquor_ratio: '20:1', balance: '0.001 g' }),
      'fibres.0.fibre': 'polyester',
      dye_class: 'disperse',
      temperature: '95',
      // The page of the example says no heat: what goes deeper than a tint goes by a label.
      from_label: 'yes',
      'dyes.0.owf': '0.6',
      'auxiliaries.0.what': 'dispersant/as-sold',
      'auxiliaries.0.amount': '1 g/L',
      'auxiliaries.1.what': 'acetic-acid/glacial',
      'auxiliaries.1.amount': '1 mL/L',
    });
    expect(bath.shown).toBe('40 mL');
    expect(lines[1]?.amounts[0]?.amount).toBe('0.04 g');
    expect(lines[2]?.amounts[0]?.volume).toBe('0.04 mL');
  });

  it('4 % of 100 kg is 4 kg of dye', async () => {
    // Venkatesh, dyeing terminology, VFSTR University.
    const { lines } = await workOut(house, cotton({ mass: '100 kg', 'dyes.0.owf': '4', liquor_ratio: '10' }));
    expect(shown(lines)['Dye 1']).toBe('4 kg');
  });

  it('50 kg at 10:1 make 500 L, and 2 g/L in it 1000 g', async () => {
    // Textileschool.com, page 28820.
    const { lines, bath } = await workOut(
      house,
      cotton({
        mass: '50 kg',
        'dyes.0.owf': '1',
        liquor_ratio: '1:10',
        'auxiliaries.0.what': 'levelling-agent/as-sold',
        'auxiliaries.0.amount': '2 g/L',
      }),
    );
    expect(bath.shown).toBe('500 L');
    expect(shown(lines)['Levelling agent']).toBe('1 kg');
    expect(lines[1]?.how).toBe('500 L × 2 g/L = 1000 g');
  });

  it('3 % on the cotton of 100 g of polyester and cotton, half and half, is 1.5 g', async () => {
    // Parmar, drmsparmar.blogspot.com, January 2015.
    const { lines } = await workOut(
      house,
      cotton({
        mass: '100 g',
        'fibres.0.share': '50',
        'fibres.1.fibre': 'polyester',
        'fibres.1.share': '50',
        'dyes.0.owf': '1',
        liquor_ratio: '20',
        'auxiliaries.0.what': 'caustic-soda/as-sold',
        'auxiliaries.0.amount': '3 %',
        balance: '0.01',
      }),
    );
    expect(shown(lines)['Caustic soda, solid']).toBe('1.5 g');
  });

  it('50 % of 100 g from a 10 % stock is 500 mL, and not the 50 g that one page prints', async () => {
    // The page is zaro.info, dye formula; grams × % ÷ stock % gives 100 × 50 ÷ 10.
    const { lines } = await workOut(
      house,
      cotton({
        mass: '100 g',
        'dyes.0.owf': '1',
        liquor_ratio: '20',
        'auxiliaries.0.what': 'salt/as-sold',
        'auxiliaries.0.amount': '50 %',
        'auxiliaries.0.stock': '10',
      }),
    );
    expect(shown(lines)['Salt (sodium chloride)']).toBe('500 mL');
  });

  it('5 g/L of soda for 5 g at 8:1 from a 20 % stock is 1 mL', async () => {
    // Worked out: 40 mL × 5 g/L = 0.2 g; 0.2 ÷ 20 × 100.
    const { lines } = await workOut(
      house,
      cotton({
        mass: '5 g',
        'dyes.0.owf': '1',
        'dyes.0.stock': '1',
        liquor_ratio: '8',
        'auxiliaries.0.what': 'soda-ash/anhydrous',
        'auxiliaries.0.amount': '5 g/L',
        'auxiliaries.0.stock': '20',
      }),
    );
    expect(shown(lines)['Soda ash, anhydrous']).toBe('1 mL');
  });

  it('washing soda for 100 g of soda ash is 270 g, vinegar and 56 % acid for glacial by their strength', async () => {
    // Molar masses 286.14 and 105.99: ×2.6997; by mass 1 : 1.79 : 20, by volume 1 : 1.76 : 20.9 (densities 1.049,
    // 1.0625; 5 g in 100 mL).
    const at = (what: string, stated: string) =>
      workOut(
        house,
        cotton({
          mass: '1 kg',
          'dyes.0.owf': '1',
          liquor_ratio: '20',
          'auxiliaries.0.what': what,
          'auxiliaries.0.amount': '5 g/L',
          'auxiliaries.0.stated': stated,
        }),
      );
    const soda = await at('soda-ash/decahydrate', 'soda-ash/anhydrous');
    expect(soda.lines[1]?.inAll).toBe('≈ 270 g');
    expect(soda.lines[1]?.how).toBe('20 L × 5 g/L × 2.699728 ≈ 269.97281 g');
    const strong = await at('acetic-acid/56', 'acetic-acid/glacial');
    expect(strong.lines[1]?.inAll).toBe('≈ 178.6 g');
    expect(strong.lines[1]?.amounts[0]?.volume).toBe('≈ 168 mL');
    const vinegar = await at('acetic-acid/vinegar-5', 'acetic-acid/glacial');
    expect(vinegar.lines[1]?.amounts[0]?.volume).toBe('2 L');
    const glauber = await at('glauber-salt/decahydrate', 'glauber-salt/anhydrous');
    expect(glauber.lines[1]?.how).toBe('20 L × 5 g/L × 2.268345 ≈ 226.834453 g');
  });

  it.each([
    // Journal table, hindawi.com jma/2016/9739380, table 2: 10:1, 70 °C.
    ['0.5', '20 g/L', '5 g/L'],
    ['1.5', '50 g/L', '15 g/L'],
    ['4', '70 g/L', '20 g/L'],
  ])('salt and soda for %s percent of dye are %s and %s', async (owf, salt, soda) => {
    const { lines } = await workOut(house, cotton({ mass: '1 kg', 'dyes.0.owf': owf, offered: 'yes' }));
    expect(lines.slice(1, 3).map((line) => (line as unknown as { asked: string }).asked)).toEqual([
      salt,
      soda,
    ]);
  });

  it('20 L from 15 to 95 °C take 6698 kJ; 1 °C a minute wants 1.40 kW', async () => {
    // Worked out: 20 × 4.186 × 80 = 6697.6 kJ = 1.86 kWh, 2 kW at 75 % take 74 min; the cloth is added here.
    const { heat } = await workOut(house, {
      mass: '1 kg',
      weighed: 'conditioned',
      'fibres.0.fibre': 'polyester',
      'dyes.0.owf': '0.5',
      liquor_ratio: '20',
      temperature: '95',
      water: '15',
      heater: '2 kW',
      efficiency: '75',
    });
    const [energy, time, power] = heat.rows;
    expect(energy).toEqual({
      label: 'Energy, 15 to 95 °C',
      value: '1.89 kWh',
      how: '20 L × 4.186 × 80 + 1 kg cloth × 1.3 × 80 = 6802 kJ; ÷ 3600',
    });
    expect(time?.value).toBe('76 min');
    expect(power?.value).toBe('1.42 kW');
    expect(heat.verdict).toMatch(/can follow/);
  });

  it('15 kg at 20:1 are 300 L and more than six 75 L pots, once the cloth is counted too', async () => {
    // Worked out: 300 L at two thirds of 75 L make six pots without the cloth; 15 kg push up 10.5 L more.
    const { bath, split } = await workOut(house, {
      mass: '15 kg',
      weighed: 'conditioned',
      'fibres.0.fibre': 'nylon',
      'dyes.0.owf': '1',
      liquor_ratio: '20',
      vessel: '75 L',
    });
    expect([bath.shown, split?.count]).toEqual(['300 L', 7]);
  });

  it('80 g taken up of 100 g of dye are an exhaustion of 80 %', async () => {
    // textileschool.com, article 28820.
    const asked = cotton({
      mass: '5 kg',
      'dyes.0.owf': '2',
      'dyes.0.name': 'Red',
      liquor_ratio: '20',
      left: '20 g',
    });
    const { figures } = await workOut(house, asked);
    expect(figures.at(-1)).toMatchObject({ label: 'Exhaustion', value: '80 %' });
    expect(figures.at(-1)?.source).toContain('(100 g − 20 g) ÷ 100 g; published: textileschool.com');
    expect(await refusedAt(house, { ...asked, left: '101 g' })).toEqual({
      left: 'No more dye can be left than was put in, which is 100 g.',
    });
  });
});

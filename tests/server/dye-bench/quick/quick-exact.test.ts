import { evaluate } from 'mathjs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openTestHouse, type TestHouse } from '../../support.ts';
import { cotton, type Fields, type Line, shown, workOut } from './quick-asking.ts';

let house: TestHouse;
beforeAll(async () => {
  house = await openTestHouse();
});
afterAll(() => house.shut());

/** Dyes of these depths from one strength of stock. */
const fromStock = (mass: string, stock: string, ...depths: string[]): Fields =>
  cotton({
    mass,
    liquor_ratio: '40',
    ...Object.fromEntries(
      depths.flatMap((depth, row) => [
        [`dyes.${row}.owf`, depth],
        [`dyes.${row}.stock`, stock],
      ]),
    ),
  });

const volumes = (lines: Line[]) =>
  lines.flatMap(({ name, amounts }) => (name.startsWith('Dye') ? [amounts[0]?.volume] : []));

describe('nothing is rounded before the volume of a stock', () => {
  it.each<[source: string, fields: Fields, wanted: string[]]>([
    ['1 g × 0.04 ÷ 0.1', fromStock('1 g', '0.1', '0.04'), ['0.4 mL']],
    // A published set of three dyes on 5 g of cloth from 1 % stocks; grams × % ÷ stock % (textilelearner.blogspot.com).
    [
      '5 g × 1.122 ÷ 1 …',
      fromStock('5 g', '1', '1.122', '2.014', '1.486'),
      ['5.61 mL', '10.07 mL', '7.43 mL'],
    ],
    // A pound of cloth taken as 454 g: dummies' guide to depth of shade, the values of a wool dyer.
    ['454 g, 1 %', fromStock('454 g', '1', '1'), ['454 mL']],
    ['454 g, 2 %', fromStock('454 g', '1', '2'), ['908 mL']],
    ['454 g, 0.1 % from 1 %', fromStock('454 g', '1', '0.1'), ['45.4 mL']],
    ['454 g, 0.1 % from 0.1 %', fromStock('454 g', '0.1', '0.1'), ['454 mL']],
    // Textilepad.com, February 2022, polyester: 2 g of cloth.
    ['2 g from 1 %', fromStock('2 g', '1', '0.6', '0.4', '0.8'), ['1.2 mL', '0.8 mL', '1.6 mL']],
  ])('%s', async (_, fields, wanted) => {
    const { lines } = await workOut(house, fields);
    expect(volumes(lines)).toEqual(wanted);
  });

  it('2 g at 20:1 make 40 mL, of which three stocks leave 36.4 mL of water', async () => {
    // The same page prints "200 − 3.64 = 36.36" for four of them: the bath is 40 mL.
    const fields = { ...fromStock('2 g', '1', '0.6', '0.4', '0.8'), liquor_ratio: '20' };
    const { lines, bath } = await workOut(house, fields);
    expect(bath.shown).toBe('40 mL');
    expect(lines.at(-1)?.how).toBe('40 mL − 1.2 mL − 0.8 mL − 1.6 mL = 36.4 mL');
  });

  it.each([
    // A dyer's page on depth of shade, and a supplier of wool dyes: 125 g at 2 %, 300 g at 3 %.
    ['125 g', '2', '2.5 g'],
    ['300 g', '3', '9 g'],
  ])('%s at %s percent takes %s', async (mass, owf, wanted) => {
    const { lines } = await workOut(house, cotton({ mass, 'dyes.0.owf': owf, liquor_ratio: '20' }));
    expect(shown(lines)['Dye 1']).toBe(wanted);
  });
});

/** Every "left = right" of a sum, worked out by a library of units: exact where it says so, near where it says ≈. */
function checkSums(how: string): number {
  let checked = 0;
  let before = '';
  for (const part of how.split('; ')) {
    const [left = '', sign, right = ''] = part.split(/ ([=≈]) /);
    const plain = (text: string) =>
      text
        .replaceAll('×', '*')
        .replaceAll('÷', '/')
        .replaceAll('−', '-')
        .replaceAll('%', '/ 100')
        .replaceAll('mL', 'ml')
        .replace(/\/ ([\d.]+ g\/ml)/, '/ ($1)');
    const whole = left.startsWith('÷') ? `${before} ${left}` : left;
    const [got, said] = [evaluate(plain(whole)), evaluate(plain(right))];
    const off = Math.abs(got.toNumber(said.formatUnits()) / said.toNumber(said.formatUnits()) - 1);
    expect(off, part).toBeLessThanOrEqual(sign === '=' ? 1e-12 : 1e-3);
    if (sign === '≈') expect(off, part).toBeGreaterThan(1e-12);
    before = right;
    checked += 1;
  }
  return checked;
}

describe('the sums that are printed are true', () => {
  it.each<[string, Fields]>([
    ['a dye from a weak stock', fromStock('1 g', '0.1', '0.04')],
    ['three dyes on odd grams', fromStock('5.123 g', '0.7', '1.122', '2.014', '1.486')],
    [
      'a little acid given for another form',
      cotton({
        mass: '437.3 kg',
        'dyes.0.owf': '0.123',
        liquor_ratio: '23.7',
        'auxiliaries.0.what': 'acetic-acid/glacial',
        'auxiliaries.0.amount': '0.025 %',
        'auxiliaries.0.stated': 'acetic-acid/vinegar-5',
        'auxiliaries.1.what': 'soda-ash/decahydrate',
        'auxiliaries.1.amount': '0.7 g/L',
        'auxiliaries.1.stated': 'soda-ash/anhydrous',
      }),
    ],
  ])('of %s', async (_, fields) => {
    const { lines } = await workOut(house, fields);
    const checked = lines.flatMap(({ how }) => (how === 'the whole bath' ? [] : [checkSums(how)]));
    expect(checked.length).toBeGreaterThan(1);
  });
});

describe('an amount given for another form is used as it was given', () => {
  it('0.025 % of vinegar for 100 kg is 1.24 g of glacial acid, and not 1 g', async () => {
    // 5 g of acid in 100 mL of 1.006 g/mL: 25 g × 50 ÷ 1006 = 1.2425 g. Rounded to 0.001 % first it was 19.5 % off.
    const { lines } = await workOut(
      house,
      cotton({
        mass: '100 kg',
        'dyes.0.owf': '1',
        liquor_ratio: '20',
        'auxiliaries.0.what': 'acetic-acid/glacial',
        'auxiliaries.0.amount': '0.025 %',
        'auxiliaries.0.stated': 'acetic-acid/vinegar-5',
        balance: '0.01 g',
      }),
    );
    const acid = lines.find(({ name }) => name.startsWith('Glacial'));
    expect(acid?.inAll).toBe('≈ 1.24 g');
    expect(acid?.how).toBe('100000 g × 0.025 % × 0.049702 ≈ 1.242545 g; ÷ 1.049 g/mL ≈ 1.185 mL');
  });
});

describe('amounts are those that a hand can measure', () => {
  const asked = (more: Fields) => workOut(house, cotton({ liquor_ratio: '20', ...more }));

  it('to the step of the balance', async () => {
    const at = async (balance: string) =>
      shown((await asked({ mass: '100 kg', 'dyes.0.owf': '0.005', balance })).lines)['Dye 1'];
    expect(await at('0.001')).toBe('5 g');
    const odd = { mass: '12.345 kg', 'dyes.0.owf': '0.05' };
    // 6.1725 g.
    expect(shown((await asked({ ...odd, balance: '0.01' })).lines)['Dye 1']).toBe('≈ 6.17 g');
    const coarse = await asked({ mass: '40.111 kg', 'dyes.0.owf': '0.05', balance: '0.1' });
    // 20.0555 g.
    expect(shown(coarse.lines)['Dye 1']).toBe('≈ 20.1 g');
    const small = await asked({
      mass: '1.0123 kg',
      'dyes.0.owf': '1',
      'auxiliaries.0.what': 'salt/as-sold',
      'auxiliaries.0.amount': '0.039 g/L',
      balance: '0.01',
    });
    // 20.246 L × 0.039 g/L = 0.789594 g.
    expect(shown(small.lines)['Salt (sodium chloride)']).toBe('≈ 0.79 g');
  });

  it('as millilitres of vinegar for the kilogram, and never 20.12 % of it', async () => {
    // 1 % of pure acid: 10 g are in 200 mL of 5 g in 100 mL.
    const { lines } = await asked({
      mass: '1 kg',
      'dyes.0.owf': '1',
      'auxiliaries.0.what': 'acetic-acid/vinegar-5',
      'auxiliaries.0.amount': '20.12 %',
    });
    expect(lines[1]).toMatchObject({ asked: '200 mL to 1 kg of cloth', perBathVolume: '200 mL' });
  });

  it('from a stock that is made up step by step', async () => {
    const { lines } = await asked({ mass: '10 g', 'dyes.0.owf': '0.04', balance: '0.01' });
    expect(lines[0]).toMatchObject({
      stock:
        'too little for the balance, off by all of it where 5 % is allowed: weigh 1 g and make it up to 100 mL, 1 g in 100 mL; take 20 mL of that and make it up to 100 mL, 0.2 g in 100 mL; take 10 mL of that and make it up to 100 mL, 0.02 g in 100 mL',
    });
  });

  it('and where no jug helps, it says that the balance is too coarse', async () => {
    const { lines } = await asked({ mass: '40 g', 'dyes.0.owf': '1', balance: '1' });
    expect(lines[0]).toMatchObject({ stock: expect.stringContaining('too little for this balance') });
  });
});

describe('which mass owf is of', () => {
  const at = (weighed: string) =>
    workOut(house, { ...cotton({ mass: '100 g', 'dyes.0.owf': '2', liquor_ratio: '20' }), weighed });

  it('is the air-dry one: oven-dry cotton gains its 8.5 %, which changes every amount', async () => {
    const [dry, lying] = [await at('oven-dry'), await at('conditioned')];
    expect(dry.mass.shown).toBe('108.5 g');
    expect(dry.mass.how).toContain('100 g oven-dry × (1 + 8.5 %) = 108.5 g air-dry, the mass that owf is of');
    expect(dry.lines[0]?.how).toBe('108.5 g × 2 % = 2.17 g');
    expect(dry.bath.shown).toBe('2.17 L');
    expect(lying.mass).toEqual({ shown: '100 g', how: 'from the scale, air-dry, the mass that owf is of' });
    expect(lying.lines[0]?.how).toBe('100 g × 2 % = 2 g');
  });
});

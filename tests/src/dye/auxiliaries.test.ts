import { describe, expect, it } from 'vitest';
import {
  AUXILIARIES,
  AUXILIARY_KINDS,
  type AuxiliaryKind,
  auxiliaryForm,
  auxiliaryNamed,
  auxiliaryOf,
  hazardsOf,
  liquidVolumeUl,
  massInForm,
  saltAndSoda,
} from '../../../src/dye/auxiliaries.ts';

const KILO = 1_000_000;

describe('the auxiliaries', () => {
  it('are listed once each, under every kind', () => {
    expect(AUXILIARIES.map(({ kind }) => kind)).toEqual([...AUXILIARY_KINDS]);
    expect(() => auxiliaryOf('glue' as AuxiliaryKind)).toThrow(RangeError);
  });

  it('answer to their names and to those of their forms', () => {
    expect(auxiliaryNamed('Washing soda crystals, decahydrate')).toBe('soda-ash');
    expect(auxiliaryNamed('acetic acid')).toBe('acetic-acid');
    expect(auxiliaryNamed('as sold')).toBeUndefined();
  });

  it('warn of acids and alkalis by their hazards', () => {
    const withHazard = (hazard: string) =>
      AUXILIARIES.filter(({ kind }) => hazardsOf(kind).some((each) => each === hazard)).map(
        ({ kind }) => kind,
      );
    expect(withHazard('acid')).toEqual(['acetic-acid', 'citric-acid', 'formic-acid', 'sulphuric-acid']);
    expect(withHazard('alkali')).toEqual(['soda-ash', 'caustic-soda']);
    expect(withHazard('hydrosulphite')).toEqual(['hydrosulphite']);
    expect(withHazard('carrier')).toEqual(['carrier']);
  });
});

describe('one form for another', () => {
  it('takes 2.6997 times as much washing soda as soda ash', () => {
    // Hydrate ratio 2.6997: synth-diy.org archive 18438, 2007; also 286.14 / 105.99 g/mol.
    expect(massInForm('soda-ash', KILO, 'anhydrous', 'decahydrate') / KILO).toBeCloseTo(2.6997, 4);
    expect(massInForm('soda-ash', KILO, 'anhydrous', 'decahydrate') / KILO).toBeCloseTo(286.14 / 105.99, 3);
  });

  it("takes 1.17 times the monohydrate and 2.27 times the crystals of Glauber's salt", () => {
    // Molar masses 124.00 / 105.99 and 322.20 / 142.04 g/mol, from memory.
    expect(massInForm('soda-ash', KILO, 'anhydrous', 'monohydrate') / KILO).toBeCloseTo(124.0 / 105.99, 3);
    expect(massInForm('glauber-salt', KILO, 'anhydrous', 'decahydrate') / KILO).toBeCloseTo(
      322.2 / 142.04,
      3,
    );
  });

  it('takes 1.79 times the acid of 56 %, and 20 mL of vinegar for a gram of acid', () => {
    expect(massInForm('acetic-acid', KILO, 'glacial', '56') / KILO).toBeCloseTo(1.79, 2);
    const vinegarMg = massInForm('acetic-acid', 1000, 'glacial', 'vinegar-5');
    expect(liquidVolumeUl('acetic-acid', 'vinegar-5', vinegarMg)).toBe(20_000);
  });

  it('takes 1.76 mL of the acid of 56 % for each of glacial', () => {
    // A litre of glacial weighs 1.049 kg: safety data sheet; of 56 % 1.0625 kg: from memory.
    const acidMg = massInForm('acetic-acid', 1049, 'glacial', '56');
    expect((liquidVolumeUl('acetic-acid', '56', acidMg) ?? 0) / 1000).toBeCloseTo(1.76, 2);
  });

  it('makes a litre of 5 % acid from 84 mL of 56 %', () => {
    const acidMg = massInForm('acetic-acid', 50_000, 'glacial', '56');
    expect((liquidVolumeUl('acetic-acid', '56', acidMg) ?? 0) / 1000).toBeCloseTo(84.0, 1);
  });

  it('comes back to the first', () => {
    const there = massInForm('glauber-salt', 123_456, 'decahydrate', 'anhydrous');
    expect(
      Math.abs(massInForm('glauber-salt', there, 'anhydrous', 'decahydrate') - 123_456),
    ).toBeLessThanOrEqual(2);
  });

  it('is refused for a form that is not sold', () => {
    expect(() => massInForm('salt', 1, 'as-sold', 'decahydrate')).toThrow(RangeError);
    expect(auxiliaryForm('salt', 'decahydrate')).toBeUndefined();
    expect(liquidVolumeUl('soda-ash', 'anhydrous', 1000)).toBeUndefined();
  });
});

describe('salt and soda by depth', () => {
  // Table 2 of hindawi.com/journals/jma/2016/9739380: 10:1, 70 °C, in g/L.
  it.each([
    [500, 20_000, 5_000],
    [1500, 50_000, 15_000],
    [4000, 70_000, 20_000],
  ])('at %d thousandths of a percent is the published row', (depth, salt, soda) => {
    expect(saltAndSoda(depth)).toMatchObject({
      saltMgPerLitre: salt,
      sodaMgPerLitre: soda,
      mark: { basis: 'published' },
    });
  });

  it('lies on a straight line between rows, and says that it was worked out', () => {
    expect(saltAndSoda(1000)).toMatchObject({
      saltMgPerLitre: 35_000,
      sodaMgPerLitre: 10_000,
      mark: { basis: 'worked out' },
    });
    expect(saltAndSoda(2750)).toMatchObject({ saltMgPerLitre: 60_000, sodaMgPerLitre: 17_500 });
  });

  it('stays at the end rows beyond them', () => {
    expect(saltAndSoda(10)).toMatchObject({ saltMgPerLitre: 20_000, sodaMgPerLitre: 5_000 });
    expect(saltAndSoda(9000)).toMatchObject({
      saltMgPerLitre: 70_000,
      sodaMgPerLitre: 20_000,
      mark: { basis: 'worked out' },
    });
  });
});

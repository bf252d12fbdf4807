import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Bath } from '../../../src/dye/bath.ts';
import { splitOptions } from '../../../src/dye/splitting.ts';
import { fillMl, shareBath } from '../../../src/dye/vessel.ts';

const G = 1000;
const KG = 1_000_000;
const L = 1_000_000;

/** A bath of so much cloth and liquor, with a dye, salt, and vinegar measured by volume. */
function bathOf(massMg: number, litres: number): Bath {
  const vinegarUl = Math.round((litres * L) / 50);
  return {
    massMg,
    volumeUl: litres * L,
    freshWaterUl: litres * L - vinegarUl,
    lines: [
      { part: 'dye', name: 'Demo red', asked: '2 % owf', massMg: Math.round(massMg / 50) },
      {
        part: 'auxiliary',
        name: 'salt',
        kind: 'salt',
        form: 'as-sold',
        asked: '7 g/L',
        massMg: litres * 7 * G,
      },
      {
        part: 'auxiliary',
        name: 'acetic acid',
        kind: 'acetic-acid',
        form: 'vinegar-5',
        asked: '20 g/L',
        massMg: Math.round((vinegarUl * 1006) / 1000),
        volumeUl: vinegarUl,
      },
    ],
  };
}

interface Vessel {
  readonly vesselMl: number;
  readonly temperatureC: number;
  /** false counts the liquor alone */
  readonly displaced?: boolean;
}

/** The first way of sharing that a vessel allows; undefined where it allows none. */
function trySplit(bath: Bath, { vesselMl, temperatureC, displaced = true }: Vessel) {
  const holdsMl = fillMl(vesselMl, temperatureC);
  const massMg = displaced ? bath.massMg : 0;
  const found = splitOptions({ massMg, volumeUl: bath.volumeUl, holdsUl: holdsMl * 1000 });
  if (!found.ok) return undefined;
  return { fillMl: holdsMl, baths: shareBath(bath, found.options[0]?.parts ?? []) };
}

function split(bath: Bath, vessel: Vessel) {
  const splitting = trySplit(bath, vessel);
  if (!splitting) throw new Error('the vessel allows no way of sharing');
  return splitting;
}
const sum = (figures: (number | undefined)[]) => figures.reduce<number>((so, each) => so + (each ?? 0), 0);
const spread = (figures: number[]) => Math.max(...figures) - Math.min(...figures);

describe('the fill of a vessel', () => {
  it('is two thirds at the boil and three quarters below it', () => {
    // Common practice for open pots.
    expect(fillMl(75_000, 98)).toBe(50_000);
    expect(fillMl(75_000, 95)).toBe(50_000);
    expect(fillMl(75_000, 94)).toBe(56_250);
    expect(fillMl(20_000, 60)).toBe(15_000);
    expect(fillMl(100, 100)).toBe(66);
  });
});

describe('a bath over several vessels', () => {
  it('of 15 kg at 20:1 takes six pots of 75 L by the liquor alone, and seven with the cloth', () => {
    // 300 L in 50 L each; the cloth pushes up 0.7 L a kilogram, 10.5 L in all (common practice).
    const bath = bathOf(15 * KG, 300);
    expect(split(bath, { vesselMl: 75_000, temperatureC: 98, displaced: false }).baths).toHaveLength(6);
    const { baths, fillMl: holdsMl } = split(bath, { vesselMl: 75_000, temperatureC: 98 });
    expect([baths.length, holdsMl]).toEqual([7, 50_000]);
  });

  it('stays whole where one vessel holds it', () => {
    const bath = bathOf(0.5 * KG, 15);
    expect(split(bath, { vesselMl: 30_000, temperatureC: 98 }).baths).toEqual([bath]);
  });

  it('is two equal halves where one does not', () => {
    const { baths } = split(bathOf(0.8 * KG, 24), { vesselMl: 20_000, temperatureC: 98 });
    expect(baths).toHaveLength(2);
    expect(baths[0]).toEqual(baths[1]);
    expect(baths[0]).toMatchObject({ massMg: 400 * G, volumeUl: 12 * L });
    expect(baths[0]?.lines.map(({ massMg }) => massMg)).toEqual([8 * G, 84 * G, 241_440]);
  });

  it('is refused where the vessel is far too small', () => {
    expect(trySplit(bathOf(15 * KG, 300), { vesselMl: 1000, temperatureC: 98 })).toBeUndefined();
    expect(trySplit(bathOf(15 * KG, 300), { vesselMl: 1, temperatureC: 98 })).toBeUndefined();
  });

  const massMg = fc.integer({ min: 1000, max: 20 * KG });
  const litres = fc.integer({ min: 1, max: 400 });
  const vesselMl = fc.integer({ min: 5_000, max: 100_000 });
  const temperatureC = fc.integer({ min: 20, max: 100 });

  it('loses and makes nothing, and every bath is alike', () => {
    fc.assert(
      fc.property(massMg, litres, vesselMl, temperatureC, (mass, volume, vessel, heat) => {
        const bath = bathOf(mass, volume);
        const splitting = trySplit(bath, { vesselMl: vessel, temperatureC: heat });
        if (!splitting) return;
        const { baths } = splitting;
        expect(sum(baths.map((each) => each.massMg))).toBe(bath.massMg);
        expect(sum(baths.map((each) => each.volumeUl))).toBe(bath.volumeUl);
        expect(sum(baths.map((each) => each.freshWaterUl))).toBe(bath.freshWaterUl);
        expect(spread(baths.map((each) => each.massMg))).toBeLessThanOrEqual(1);
        bath.lines.forEach((line, at) => {
          const shares = baths.map((each) => each.lines[at]);
          expect(sum(shares.map((share) => share?.massMg))).toBe(line.massMg);
          expect(sum(shares.map((share) => share?.volumeUl))).toBe(line.volumeUl ?? 0);
          expect(spread(shares.map((share) => share?.massMg ?? 0))).toBeLessThanOrEqual(1);
        });
      }),
    );
  });

  it('fits every vessel, and in no fewer of them', () => {
    fc.assert(
      fc.property(massMg, litres, vesselMl, temperatureC, (mass, volume, vessel, heat) => {
        const bath = bathOf(mass, volume);
        const splitting = trySplit(bath, { vesselMl: vessel, temperatureC: heat });
        if (!splitting) return;
        const { baths, fillMl: holdsMl } = splitting;
        const standsUl = (each: Bath) => each.volumeUl + each.massMg * 0.7;
        // Each line and the water can be a microlitre over, from sharing whole ones.
        for (const each of baths) expect(standsUl(each)).toBeLessThanOrEqual(holdsMl * 1000 + 5);
        if (baths.length > 1) expect(standsUl(bath)).toBeGreaterThan(holdsMl * 1000 * (baths.length - 1));
      }),
    );
  });
});

describe('a bath shared by the cloth in each vessel', () => {
  it('follows the weights and keeps the whole', () => {
    const bath = bathOf(900 * G, 27);
    const baths = shareBath(bath, [600 * G, 300 * G]);
    expect(baths.map(({ massMg }) => massMg)).toEqual([600 * G, 300 * G]);
    expect(baths.map(({ volumeUl }) => volumeUl)).toEqual([18 * L, 9 * L]);
    expect(baths.map(({ lines }) => lines[0]?.massMg)).toEqual([12 * G, 6 * G]);
  });

  it('needs a vessel', () => {
    expect(() => shareBath(bathOf(KG, 30), [])).toThrow(RangeError);
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { additionFor } from '../../../src/dye/addition.ts';
import { compareRepeat, type RepeatedBatch } from '../../../src/dye/repeat.ts';

const dye = (targetOwfMilli: number, reachedOwfMilli: number, name = 'Fern') => ({
  name,
  targetOwfMilli,
  reachedOwfMilli,
});

describe('an addition', () => {
  // Grams on weight of fabric: W × % ÷ 100 (cottonguide.org); 180 g × (2 − 1.5) ÷ 100 = 0.9 g, half of it 0.45 g.
  it('is half of mass × (target − reached) ÷ 100 at first, and all that is missing then', () => {
    expect(additionFor(180_000, [dye(2000, 1500)], 0)).toEqual({
      ok: true,
      dyes: [{ name: 'Fern', missingMg: 900, nowMg: 450 }],
    });
    expect(additionFor(180_000, [dye(2000, 1750)], 1)).toEqual({
      ok: true,
      dyes: [{ name: 'Fern', missingMg: 450, nowMg: 450 }],
    });
  });

  it('leaves out a dye that has reached its target', () => {
    const dyes = [dye(1000, 1000, 'Moss'), dye(500, 300)];
    expect(additionFor(100_000, dyes, 0)).toMatchObject({ ok: true, dyes: [{ name: 'Fern', nowMg: 100 }] });
  });

  it('is refused a third time, where nothing is missing, and where too much is there', () => {
    expect(additionFor(1000, [dye(2, 1)], 2)).toMatchObject({ ok: false, field: '' });
    expect(additionFor(180_000, [dye(2000, 2000)], 0)).toMatchObject({ ok: false, field: 'dyes' });
    expect(additionFor(180_000, [dye(1, 0), dye(2000, 2001)], 0)).toMatchObject({
      ok: false,
      field: 'dyes.1.reached',
    });
  });

  // At most a quarter of the dye at a time (common practice): 25 % of 2 % is 0.5 %, so that 1 % reached is the least at first.
  it('is refused where more than a quarter of a dye would go in at once', () => {
    expect(additionFor(100_000, [dye(2000, 1000)], 0)).toMatchObject({ ok: true, dyes: [{ nowMg: 500 }] });
    expect(additionFor(100_000, [dye(2000, 990)], 0)).toMatchObject({ ok: false, field: 'dyes.0.reached' });
    expect(additionFor(100_000, [dye(2000, 1500)], 1)).toMatchObject({ ok: true });
    expect(additionFor(100_000, [dye(2000, 1490)], 1)).toMatchObject({ ok: false });
  });

  it('grows with the mass and never passes what is missing', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 100, max: 1_000_000 }),
        fc.integer({ min: 1, max: 4_000 }),
        fc.integer({ min: 2, max: 9 }),
        (massMg, missing, times) => {
          const one = additionFor(massMg * 1000, [dye(5 * missing, 4 * missing)], 1);
          const many = additionFor(massMg * 1000 * times, [dye(5 * missing, 4 * missing)], 1);
          if (!one.ok || !many.ok) throw new Error('a fifth is not too much');
          // To within the rounding of a milligram on both sides.
          expect(
            Math.abs((many.dyes[0]?.nowMg ?? 0) - (one.dyes[0]?.nowMg ?? 0) * times),
          ).toBeLessThanOrEqual(times);
          expect(one.dyes[0]?.nowMg).toBeLessThanOrEqual(one.dyes[0]?.missingMg ?? 0);
        },
      ),
      { numRuns: 100 },
    );
  });
});

describe('a repeat', () => {
  const bath = (massMg: number) => ({ massMg, volumeUl: 0, freshWaterUl: 0, lines: [] });
  const before: RepeatedBatch = {
    recipe: {
      id: 1,
      dyeClass: 'acid-levelling',
      liquorRatioMilli: 20_000,
      temperatureC: 98,
      holdMinutes: 45,
    },
    vessel: { name: 'Pot', volumeMl: 5000 },
    cloths: ['Organza'],
    lots: ['L1'],
    massMg: 180_000,
    baths: [bath(90_000), bath(90_000)],
  };
  const flags = (changed: Partial<RepeatedBatch>) =>
    compareRepeat(before, { ...before, ...changed })
      .filter(({ same }) => !same)
      .map(({ what, must }) => `${what}${must ? '!' : ''}`);

  it('of the same mass differs in nothing', () => {
    expect(flags({})).toEqual([]);
  });

  it('flags what must be equal and tells what may differ', () => {
    expect(flags({ lots: ['L2'] })).toEqual(['ground lot!']);
    expect(flags({ cloths: ['Organza', 'Net'] })).toEqual(['cloth!']);
    expect(flags({ recipe: { ...before.recipe, id: 2, liquorRatioMilli: 30_000 } })).toEqual([
      'recipe!',
      'ratio!',
    ]);
    expect(flags({ massMg: 90_000, baths: [bath(90_000)] })).toEqual(['mass']);
    expect(
      flags({ vessel: { name: 'Vat', volumeMl: 30_000 }, massMg: 540_000, baths: [bath(540_000)] }),
    ).toEqual(['vessel', 'baths', 'mass']);
  });
});

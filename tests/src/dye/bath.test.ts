import fc from 'fast-check';
import { evaluate } from 'mathjs';
import { describe, expect, it } from 'vitest';
import {
  type Bath,
  type Bathed,
  bathFor,
  clothMassMg,
  lengthToPrepareTicks,
  type StockStrength,
  shrinkageBp,
  withStocks,
} from '../../../src/dye/bath.ts';
import { auxiliaryFrom, type Recipe, type RecipeAuxiliary } from '../../../src/dye/recipe.ts';
import { readLength } from '../../../src/quantity/length.ts';

const G = 1000;
const KG = 1_000_000;
const ML = 1000;

function recipe(given: { dyes?: number[]; ratio?: number; auxiliaries?: RecipeAuxiliary[] }): Recipe {
  return {
    dyeClass: 'reactive',
    method: 'test',
    dyes: (given.dyes ?? []).map((percent, at) => ({
      name: `Dye ${at}`,
      owfMilli: Math.round(percent * 1000),
    })),
    auxiliaries: given.auxiliaries ?? [],
    liquorRatioMilli: (given.ratio ?? 10) * 1000,
    temperatureC: 60,
    holdMinutes: 60,
    marks: {},
  };
}
const gPerLitre = (kind: RecipeAuxiliary['kind'], amount: number, form = 'as-sold') =>
  auxiliaryFrom({ kind, name: kind, form, per: 'litre', amount: amount * 1000 });
const onCloth = (kind: RecipeAuxiliary['kind'], percent: number, form = 'as-sold') =>
  auxiliaryFrom({ kind, name: kind, form, per: 'cloth', amount: percent * 1000 });

function bath(bathed: Bathed): Bath {
  if (!bathed.ok) throw new Error(bathed.reason);
  return bathed.bath;
}
/** Stock solutions by strength in percent, for the lines in order. */
const strengths = (...percents: number[]): StockStrength[] =>
  percents.map((percent, line) => ({ line, mgPer100Ml: percent * 1000 }));
const millilitres = (of: Bath) => of.lines.map(({ volumeUl }) => (volumeUl ?? 0) / ML);

describe('amounts for a bath', () => {
  it('of 50 kg at 10:1 are 500 L of liquor and 1000 g at 2 g/L', () => {
    // textileschool.com/28820.
    const made = bath(bathFor(50 * KG, recipe({ auxiliaries: [gPerLitre('salt', 2)] })));
    expect(made.volumeUl).toBe(500_000 * ML);
    expect(made.lines.map(({ massMg }) => massMg)).toEqual([1000 * G]);
  });

  it('of 100 kg at 4 % owf are 4 kg of dye', () => {
    // Venkatesh, dyeing terminology, VFSTR University.
    expect(bath(bathFor(100 * KG, recipe({ dyes: [4] }))).lines).toEqual([
      { part: 'dye', name: 'Dye 0', asked: '4 % owf', massMg: 4 * KG, massUg: 4 * KG * 1000 },
    ]);
  });

  it('of a blend count on the share that is dyed, the liquor on all of it', () => {
    // 100 g of 50/50 polyester and cotton, 3 % on the cotton: 1.5 g. Parmar, drmsparmar.blogspot.com, January 2015.
    const asked = recipe({ dyes: [1], auxiliaries: [onCloth('caustic-soda', 3)] });
    const made = bath(bathFor(100 * G, asked, 5000));
    expect(made.lines.map(({ massMg }) => massMg)).toEqual([0.5 * G, 1.5 * G]);
    expect([made.massMg, made.volumeUl]).toEqual([100 * G, 1000 * ML]);
  });

  it('of 0.8 kg of polyester can be checked by hand', () => {
    const asked = recipe({ dyes: [0.4, 0.125], ratio: 30, auxiliaries: [gPerLitre('dispersant', 1)] });
    const made = bath(bathFor(0.8 * KG, asked));
    expect(made.lines.map(({ massMg }) => massMg)).toEqual([3.2 * G, 1 * G, 24 * G]);
    expect([made.volumeUl, made.freshWaterUl]).toEqual([24_000 * ML, 24_000 * ML]);
  });

  it('count vinegar as part of the liquor', () => {
    const made = bath(
      bathFor(100 * G, recipe({ ratio: 20, auxiliaries: [onCloth('acetic-acid', 20.12, 'vinegar-5')] })),
    );
    expect(made.lines[0]).toMatchObject({ massMg: 20_120, volumeUl: 20 * ML, form: 'vinegar-5' });
    expect(made.freshWaterUl).toBe(1980 * ML);
  });

  it('are refused for no cloth, and where liquids overfill the bath', () => {
    expect(bathFor(0, recipe({ dyes: [1] }))).toMatchObject({ ok: false });
    const sour = recipe({ ratio: 5, auxiliaries: [gPerLitre('acetic-acid', 2000, 'vinegar-5')] });
    expect(bathFor(KG, sour)).toMatchObject({
      ok: false,
      reason: expect.stringContaining('more than the bath'),
    });
  });

  it('grow with the mass', () => {
    const mass = fc.integer({ min: 1, max: 50 * KG });
    const times = fc.integer({ min: 2, max: 20 });
    const owf = fc.integer({ min: 1, max: 20_000 });
    fc.assert(
      fc.property(mass, times, owf, (massMg, k, owfMilli) => {
        const asked = recipe({ dyes: [owfMilli / 1000], ratio: 30, auxiliaries: [gPerLitre('salt', 50)] });
        const [one, many] = [bath(bathFor(massMg, asked)), bath(bathFor(massMg * k, asked))];
        // A half of the last unit is lost to rounding once in one, and k times over in the other.
        expect(Math.abs(many.volumeUl - one.volumeUl * k)).toBeLessThanOrEqual(((k + 1) / 2) * ML);
        expect(Math.abs((many.lines[0]?.massMg ?? 0) - (one.lines[0]?.massMg ?? 0) * k)).toBeLessThanOrEqual(
          (k + 1) / 2,
        );
        const saltSlipMg = ((k + 1) / 2) * 50 + (k + 1) / 2;
        expect(Math.abs((many.lines[1]?.massMg ?? 0) - (one.lines[1]?.massMg ?? 0) * k)).toBeLessThanOrEqual(
          saltSlipMg,
        );
      }),
    );
  });
});

describe('stock solutions', () => {
  it('of 0.5 % hold the dye for 5 g at 2 % in 20 mL', () => {
    // Sohel, textilecalculation.blogspot.com, December 2014.
    const made = bath(withStocks(bath(bathFor(5 * G, recipe({ dyes: [2] }))), strengths(0.5)));
    expect(millilitres(made)).toEqual([20]);
  });

  it('of 25 % hold the salt for 5 g at 10:1 and 20 g/L in 4 mL', () => {
    // Sohel, textilecalculation.blogspot.com, December 2014.
    const dry = bath(bathFor(5 * G, recipe({ auxiliaries: [gPerLitre('salt', 20)] })));
    expect(millilitres(bath(withStocks(dry, strengths(25))))).toEqual([4]);
  });

  it('and water fill a laboratory bath of 50 mL', () => {
    // Sohel, textilecalculation.blogspot.com, January 2015: 2.5, 10, 5, 7.5, 10, 2.5 and 12.5 mL of water.
    const asked = recipe({
      dyes: [1.5],
      auxiliaries: [
        gPerLitre('sequestrant', 0.5),
        gPerLitre('levelling-agent', 2),
        gPerLitre('lubricant', 1),
        gPerLitre('glauber-salt', 40, 'anhydrous'),
        gPerLitre('soda-ash', 10, 'anhydrous'),
      ],
    });
    const made = bath(withStocks(bath(bathFor(5 * G, asked)), strengths(1, 1, 1, 1, 20, 20)));
    expect(millilitres(made)).toEqual([7.5, 2.5, 10, 5, 10, 2.5]);
    expect([made.volumeUl / ML, made.freshWaterUl / ML]).toEqual([50, 12.5]);
  });

  it('of 20 % hold the soda for 5 g at 8:1 and 5 g/L in 1 mL', () => {
    // By the formula g/L × W × L / (10 × stock %): textilelearner.blogspot.com, December 2012.
    const dry = bath(
      bathFor(5 * G, recipe({ ratio: 8, auxiliaries: [gPerLitre('soda-ash', 5, 'anhydrous')] })),
    );
    expect(millilitres(bath(withStocks(dry, strengths(20))))).toEqual([1]);
  });

  it('of 10 % hold 50 % on 100 g in 500 mL, where one page misprints 50', () => {
    // zaro.info, dye formula: prints 50 g for 100 g, 50 % and a stock of 10 %; its own formula gives 500.
    const dry = bath(bathFor(100 * G, recipe({ auxiliaries: [onCloth('salt', 50)] })));
    expect(millilitres(bath(withStocks(dry, strengths(10))))).toEqual([500]);
  });

  it('are refused where they hold more than the bath', () => {
    const dry = bath(bathFor(5 * G, recipe({ dyes: [2] })));
    expect(withStocks(dry, strengths(0.2))).toMatchObject({ ok: true, bath: { freshWaterUl: 0 } });
    expect(withStocks(dry, strengths(0.199))).toEqual({
      ok: false,
      reason:
        'The solutions alone make 51 mL, more than the bath of 50 mL: use a stronger stock or a larger liquor ratio.',
    });
  });

  it('are refused without strength', () => {
    const dry = bath(bathFor(5 * G, recipe({ dyes: [2] })));
    for (const percent of [0, -1, 100.001, 0.0005]) {
      expect(withStocks(dry, strengths(percent)), `${percent}`).toMatchObject({ ok: false });
    }
    expect(() => withStocks(dry, [{ line: 1, mgPer100Ml: 1000 }])).toThrow(RangeError);
  });

  it('and fresh water add up to the bath', () => {
    const percents = fc.array(fc.integer({ min: 1, max: 5000 }), { minLength: 1, maxLength: 5 });
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 20 * KG }), percents, (massMg, owfs) => {
        const dry = bath(bathFor(massMg, recipe({ dyes: owfs.map((owf) => owf / 1000), ratio: 30 })));
        const wet = withStocks(
          dry,
          owfs.map((_, line) => ({ line, mgPer100Ml: 2000 })),
        );
        if (!wet.ok) return;
        const measuredUl = wet.bath.lines.reduce((sum, { volumeUl }) => sum + (volumeUl ?? 0), 0);
        expect(measuredUl + wet.bath.freshWaterUl).toBe(dry.volumeUl);
        expect(wet.bath.lines.map(({ massMg: mg }) => mg)).toEqual(dry.lines.map(({ massMg: mg }) => mg));
      }),
    );
  });
});

describe('the mass of cloth', () => {
  const ticks = (text: string) => {
    const reading = readLength(text, 'cm');
    if (!reading.ok) throw new Error(reading.reason);
    return reading.value;
  };

  it('is area by mass per area', () => {
    const piece = { lengthTicks: ticks('10 m'), widthTicks: ticks('1.5 m') };
    expect(clothMassMg([piece], 30_000)).toBe(450 * G);
    expect(clothMassMg([piece, piece], 30_000)).toBe(900 * G);
    expect(clothMassMg([], 30_000)).toBe(0);
    // 8.5 g/m² × 1.3716 m × 36.576 m = 426.42495 g, worked by hand: 50.1676 m² of tulle, 54 in wide, 40 yd long.
    expect(clothMassMg([{ lengthTicks: ticks('40 yd'), widthTicks: ticks('54 in') }], 8_500)).toBe(426_425);
    const all = { lengthTicks: ticks('100000 m'), widthTicks: ticks('3 m') };
    expect(clothMassMg([all], 10_000_000)).toBe(3_000_000_000_000);
  });

  it.each([
    ['3 1/2 yd', '60 in', 40_000, '3.5 yd * 60 inch'],
    ['12 m', '44 in', 26_333, '12 m * 44 inch'],
    ['57 1/8 in', '9 3/32 in', 17_001, '57.125 inch * 9.09375 inch'],
    ['400 m', '3.2 m', 350_000, '400 m * 3.2 m'],
  ])('of %s by %s at %d mg/m² agrees with a library of units', (length, width, massPerAreaMgM2, area) => {
    const wantedMg = evaluate(`number(${area} * ${massPerAreaMgM2} mg/m^2, mg)`);
    const piece = { lengthTicks: ticks(length), widthTicks: ticks(width) };
    expect(Math.abs(clothMassMg([piece], massPerAreaMgM2) - wantedMg)).toBeLessThanOrEqual(0.501);
  });

  it('is rounded once, not once a piece', () => {
    // A strip of a square millimetre at 40 g/m² weighs 0.04 mg; twenty-five weigh one.
    const strip = { lengthTicks: 160, widthTicks: 160 };
    expect(clothMassMg([strip], 40_000)).toBe(0);
    expect(clothMassMg(new Array(25).fill(strip), 40_000)).toBe(1);
  });

  it('is of whole numbers only', () => {
    expect(() => clothMassMg([{ lengthTicks: 0.5, widthTicks: 160 }], 1)).toThrow(RangeError);
    expect(() => clothMassMg([{ lengthTicks: -1, widthTicks: 160 }], 1)).toThrow(RangeError);
  });
});

describe('shrinkage', () => {
  it('lengthens what is prepared: need ÷ (1 − shrinkage)', () => {
    expect(lengthToPrepareTicks(970, 300)).toBe(1000);
    expect(lengthToPrepareTicks(1000, 0)).toBe(1000);
    expect(lengthToPrepareTicks(1000, 300)).toBe(1031);
    expect(() => lengthToPrepareTicks(1000, 10_000)).toThrow(RangeError);
    expect(() => lengthToPrepareTicks(1000, -1)).toThrow(RangeError);
  });

  it('leaves what is needed, and a tick less would not', () => {
    const need = fc.integer({ min: 0, max: 160_000_000 });
    fc.assert(
      fc.property(need, fc.integer({ min: 0, max: 9_999 }), (needTicks, bp) => {
        const prepared = BigInt(lengthToPrepareTicks(needTicks, bp));
        const left = BigInt(10_000 - bp);
        const wanted = BigInt(needTicks) * 10_000n;
        expect(prepared * left >= wanted).toBe(true);
        expect(prepared === 0n || (prepared - 1n) * left < wanted).toBe(true);
      }),
    );
  });

  it('is measured on the length before', () => {
    expect(shrinkageBp(1000, 970)).toBe(300);
    expect(shrinkageBp(1000, 1010)).toBe(-100);
    expect(() => shrinkageBp(0, 0)).toThrow(RangeError);
  });
});

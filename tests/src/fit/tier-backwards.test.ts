import { describe, expect, it } from 'vitest';
import {
  canBeCut,
  deepest,
  fullest,
  isAllCut,
  leastCloth,
  reworkOf,
  stripLengths,
  type TierSupply,
} from '../../../src/fit/tier-backwards.ts';
import type { Tier } from '../../../src/garment/tiers.ts';
import { inch } from '../../lengths.ts';

// The round cone of the tests of tiers: 74 in at half of its slant, so 222 in at 3×, of strips of 58 in that sew 57 in.
const ORGANZA = 7;
const widths = new Map([[ORGANZA, inch(58)]]);
const form = {
  girths: [
    { dropTicks: 0, girthTicks: inch(28) },
    { dropTicks: inch(40), girthTicks: inch(120) },
  ],
};
const tier: Tier = {
  tierId: 1,
  name: 'Tier',
  hangs: { on: 'form', dropTicks: inch(20) },
  ratioTierId: null,
  direction: 'across',
  offsetStrips: 0,
  closing: 'ring',
  fullnessMilli: 3000,
  depthTicks: inch(9),
  headingTicks: 0,
  hangSeamTicks: inch('1/2'),
  hemTicks: inch('1/2'),
  seamTicks: inch('1/2'),
  endTicks: 0,
  stripLengthTicks: null,
  blocks: [{ clothId: ORGANZA, shadeId: 1, lots: 'one', strips: 1 }],
  finishRepeat: true,
};
const rework = reworkOf({ form, tiers: [tier] }, 1, widths);

function now() {
  const worked = rework({});
  if (!worked) throw new Error('the tier can be worked out');
  return worked;
}

const OF_SHADE = { clothId: ORGANZA, shadeId: 1 };
const piece = (lengthTicks: number, lotId = 1) => ({
  ...OF_SHADE,
  pieceId: lengthTicks,
  lotId,
  usableWidthTicks: inch(58),
  lengthTicks,
});
const supply = (parts: Partial<TierSupply>): TierSupply => ({ free: [], held: [], cut: [], ...parts });
const cut = (count: number, depthTicks = inch(10)) => ({
  ...OF_SHADE,
  lotId: 1,
  count,
  size: { depthTicks, lengthTicks: inch(58) },
});

describe('a tier from the cloth that there is', () => {
  it('is as full as its whole strips sew: 4 × 57 ÷ 74 = 3.081, 3 × 57 ÷ 74 = 2.310', () => {
    expect(fullest(now(), rework, supply({ free: [piece(inch(40))] }))?.fullnessMilli).toBe(3080);
    expect(fullest(now(), rework, supply({ free: [piece(inch(39))] }))?.fullnessMilli).toBe(2310);
    // Flat it takes 74 in, two strips.
    expect(fullest(now(), rework, supply({ free: [piece(inch(20))] }))?.fullnessMilli).toBe(1540);
    expect(fullest(now(), rework, supply({ free: [piece(inch(19))] }))).toBeNull();
  });

  it('is as deep as a quarter of the length, less an inch for seam and hem, in whole steps', () => {
    const depth = (lengthTicks: number) =>
      deepest(rework, supply({ free: [piece(lengthTicks)] }), inch(100), inch(1))?.depthTicks;
    expect(depth(inch(44))).toBe(inch(10));
    expect(depth(inch(47))).toBe(inch(10));
    expect(depth(inch(48))).toBe(inch(11));
    expect(depth(inch(7))).toBeUndefined();
    expect(deepest(rework, supply({ free: [piece(inch(48))] }), inch(5), inch(1))?.depthTicks).toBe(inch(5));
  });

  it('counts what is cut in its size, and stays with that lot', () => {
    const twoMore = { free: [piece(inch(20))] };
    expect(canBeCut(now(), supply(twoMore))).toBe(false);
    expect(canBeCut(now(), supply({ ...twoMore, cut: [cut(2)] }))).toBe(true);
    expect(canBeCut(now(), supply({ ...twoMore, cut: [cut(2, inch(9))] }))).toBe(false);
    expect(canBeCut(now(), supply({ free: [piece(inch(20), 2)], cut: [cut(2)] }))).toBe(false);
    expect(canBeCut(now(), supply({ held: [piece(inch(20))], cut: [cut(2)] }))).toBe(true);
    expect([3, 4].map((count) => isAllCut(now(), supply({ cut: [cut(count)] })))).toEqual([false, true]);
  });

  it('takes least cloth, then fewest seams: halves take as much as whole widths and sew twice as often', () => {
    const answers = stripLengths(tier, rework, widths);
    const [whole, half] = answers;
    expect(whole).toMatchObject({
      stripLengthTicks: null,
      strips: 4,
      seams: 4,
      clothTicks: inch(40),
      wasteBp: 0,
    });
    // 222 ÷ 28 = 7.93.
    expect(half).toMatchObject({ stripLengthTicks: inch(29), strips: 8, seams: 8, clothTicks: inch(40) });
    // A third is 19⅓ in cut and sews 18⅓: thirteen strips, five rows of 10 in.
    expect(answers[2]).toMatchObject({ strips: 13, clothTicks: inch(50) });
    expect(leastCloth(answers)).toBe(whole);
  });

  it('cannot be worked out again where it does not hang', () => {
    expect(reworkOf({ form, tiers: [] }, 1, widths)({})).toBeNull();
  });
});

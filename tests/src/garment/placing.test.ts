import { describe, expect, it } from 'vitest';
import { type PlacedTier, placeTiers } from '../../../src/garment/placing.ts';
import { TICKS_PER } from '../../../src/quantity/length.ts';
import { cm } from '../../lengths.ts';

/** A cone whose radius grows by 60 cm over a slant of 100 cm, so that it falls 80 cm (a right triangle of 3, 4 and 5). */
const round = (radiusCm: number) => Math.round(2 * Math.PI * radiusCm * TICKS_PER.cm);
const cone = {
  girths: [
    { dropTicks: 0, girthTicks: round(12) },
    { dropTicks: cm(100), girthTicks: round(72) },
  ],
};

const tier = (tierId: number, depthCm: number, parts: Partial<PlacedTier> = {}): PlacedTier => ({
  tierId,
  name: `Tier ${tierId}`,
  hangs: { on: 'form', dropTicks: cm(20) },
  ratioTierId: null,
  depthTicks: cm(depthCm),
  placedBy: 'upper',
  placedTicks: null,
  levelTierId: null,
  ...parts,
});
const level = (tierId: number, depthCm: number, levelTierId: number) =>
  tier(tierId, depthCm, { placedBy: 'level', levelTierId });
const placed = (tiers: readonly PlacedTier[], waistCm: number | null = null) => {
  const found = placeTiers(cone, waistCm === null ? null : cm(waistCm), tiers);
  return [...found].map(([tierId, one]) => [tierId, one.ok ? one.dropTicks : one.message]);
};

describe('a tier that is placed by its lower edge', () => {
  it('hangs as much higher as it is deep', () => {
    expect(placed([tier(1, 30, { placedBy: 'lower', placedTicks: cm(70) })])).toEqual([[1, cm(40)]]);
  });

  it('is none that is placed by its upper edge, and none on another tier', () => {
    expect(placed([tier(1, 30), tier(2, 5, { hangs: { on: 'edge', tierId: 1 } })])).toEqual([]);
  });

  // Of the 80 cm that the cone falls 40 are left: half of its slant.
  it('hangs from a height above the floor, down the surface of the form', () => {
    const [[, drop] = []] = placed([tier(1, 30, { placedBy: 'floor', placedTicks: cm(40) })], 80);
    expect(Math.abs(Number(drop) - cm(20))).toBeLessThanOrEqual(2);
  });

  it('is level with another tier, or with a ruffle at its edge, and follows both', () => {
    const ruffle = tier(2, 8, { hangs: { on: 'edge', tierId: 1 } });
    expect(placed([tier(1, 30), ruffle, level(3, 10, 1), level(4, 12, 2)])).toEqual([
      [3, cm(20 + 30 - 10)],
      [4, cm(20 + 30 + 8 - 12)],
    ]);
    expect(placed([tier(1, 34), ruffle, level(4, 12, 2)])).toEqual([[4, cm(20 + 34 + 8 - 12)]]);
  });

  it('follows a tier that follows, in whatever order they are given', () => {
    const low = tier(1, 30, { placedBy: 'lower', placedTicks: cm(80) });
    expect(placed([level(3, 20, 2), level(2, 10, 1), low])).toEqual([
      [1, cm(50)],
      [2, cm(70)],
      [3, cm(60)],
    ]);
  });
});

describe('what does not follow', () => {
  it.each([
    [
      'a height while the waist is not known',
      tier(1, 30, { placedBy: 'floor', placedTicks: cm(10) }),
      null,
      /waist/,
    ],
    [
      'a height above the waist',
      tier(1, 30, { placedBy: 'floor', placedTicks: cm(90) }),
      80,
      /above the waist/,
    ],
    [
      'a depth that reaches above the waist',
      tier(1, 30, { placedBy: 'lower', placedTicks: cm(20) }),
      80,
      /deeper/,
    ],
    ['a tier that is gone', level(1, 30, 9), 80, /not there/],
  ] as const)('%s', (_what, one, waist, message) => {
    expect(placed([one], waist)).toEqual([[1, expect.stringMatching(message)]]);
  });

  it('two that are level with each other, and one with what hangs on it', () => {
    const loop = 'It is level with a tier whose place follows from it: place one of them by a drop.';
    expect(placed([level(1, 30, 2), level(2, 20, 1)])).toEqual([
      [1, loop],
      [2, loop],
    ]);
    expect(placed([level(1, 30, 2), tier(2, 5, { hangs: { on: 'edge', tierId: 1 } })])).toEqual([[1, loop]]);
  });
});

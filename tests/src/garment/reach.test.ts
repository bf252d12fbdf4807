import { describe, expect, it } from 'vitest';
import { dropTo, fallAt, fallOf } from '../../../src/garment/fall.ts';
import type { Form } from '../../../src/garment/girth.ts';
import type { Hanging } from '../../../src/garment/hanging.ts';
import { hoopGirth } from '../../../src/garment/hoop.ts';
import { aboveFloor, coversOf, type Deep, reachesOf, shapedAbove } from '../../../src/garment/reach.ts';
import { cm, inch } from '../../lengths.ts';

const CONE: Form = {
  girths: [
    { dropTicks: 0, girthTicks: inch(28) },
    { dropTicks: inch(40), girthTicks: inch(120) },
  ],
};

function tier(tierId: number, hangs: Hanging, depth: number): Deep {
  return { tierId, name: `Tier ${tierId}`, hangs, ratioTierId: null, depthTicks: cm(depth) };
}

const onForm = (drop: number): Hanging => ({ on: 'form', dropTicks: cm(drop) });

describe('the fall of a form', () => {
  // Geometry of a round cone: radii 28/2π and 120/2π, slant 40, so √(40² − (92/2π)²) = 37.22 in.
  it('from 28 to 120 in round over 40 in of slant is 37.22 in', () => {
    const fall = fallOf(CONE);
    expect(fallAt(fall, inch(40)) / inch(1)).toBeCloseTo(Math.sqrt(1600 - (92 / (2 * Math.PI)) ** 2), 3);
    expect(fallAt(fall, inch(40)) / inch(1)).toBeCloseTo(37.22, 2);
    expect(fallAt(fall, inch(20)) / inch(1)).toBeCloseTo(18.61, 2);
  });

  it('goes straight down below the last girth, and the drop to a clearance is its inverse', () => {
    const fall = fallOf(CONE);
    expect(fallAt(fall, inch(43)) - fallAt(fall, inch(40))).toBe(inch(3));
    // A waist 41 in up and a hem 2 in clear: 39 in down, 1.78 in below the form.
    expect(dropTo(fall, inch(39)) / inch(1)).toBeCloseTo(40 + 39 - 37.2247, 2);
    for (const drop of [0, 7, 25, 40, 55]) {
      expect(Math.abs(dropTo(fall, fallAt(fall, inch(drop))) - inch(drop))).toBeLessThanOrEqual(1);
    }
  });

  it('of a form that grows by more than its slant is level there', () => {
    const flat: Form = {
      girths: [
        { dropTicks: cm(10), girthTicks: cm(60) },
        { dropTicks: cm(20), girthTicks: cm(600) },
      ],
    };
    expect(fallAt(fallOf(flat), cm(20))).toBe(cm(10));
  });

  it('of an ellipse follows the radius of the circle with its area', () => {
    const hoops = [
      { widthTicks: cm(40), depthTicks: cm(10) },
      { widthTicks: cm(160), depthTicks: cm(40) },
    ];
    const girths = hoops.map((hoop, i) => ({ dropTicks: cm(100 * i), girthTicks: hoopGirth(hoop), hoop }));
    // √(20·5) = 10 to √(80·20) = 40: √(100² − 30²) = 95.394.
    expect(fallAt(fallOf({ girths }), cm(100)) / cm(1)).toBeCloseTo(95.394, 3);
  });
});

describe('where a tier begins and ends', () => {
  const tiers = [
    tier(1, onForm(10), 30),
    tier(2, { on: 'edge', tierId: 1 }, 8),
    tier(3, { on: 'face', tierId: 1, heightTicks: cm(12) }, 9),
    tier(4, { on: 'edge', tierId: 2 }, 5),
    tier(5, { on: 'edge', tierId: 9 }, 5),
  ];

  it('follows what it is sewn on', () => {
    const reaches = reachesOf(tiers);
    const ends = [1, 2, 3, 4].map((id) => [reaches.get(id)?.startTicks, reaches.get(id)?.endTicks]);
    expect(ends).toEqual([
      [cm(10), cm(40)],
      [cm(40), cm(48)],
      [cm(28), cm(37)],
      [cm(48), cm(53)],
    ]);
    expect(reaches.get(4)?.rootId).toBe(1);
    expect(reaches.has(5)).toBe(false);
  });

  it('says how far above the floor it hangs', () => {
    const [hem] = [...reachesOf([tier(1, { on: 'form', dropTicks: inch(20) }, 0)]).values()];
    if (!hem) throw new Error('it hangs from the form');
    expect(aboveFloor(fallOf(CONE), hem, inch(41)) / inch(1)).toBeCloseTo(41 - 18.61, 2);
  });
});

describe('how tiers cover each other', () => {
  it('is what reaches below the next hang, or what is left bare above it', () => {
    const tiers = [tier(1, onForm(0), 30), tier(2, onForm(25), 30), tier(3, onForm(60), 20)];
    expect(coversOf(tiers)).toEqual([
      { aboveId: 1, reachingId: 1, belowId: 2, dropTicks: cm(25), overTicks: cm(5) },
      { aboveId: 2, reachingId: 2, belowId: 3, dropTicks: cm(60), overTicks: -cm(5) },
    ]);
  });

  it('counts what is sewn on the tiers above, and a longer tier further up', () => {
    const ruffle = tier(4, { on: 'edge', tierId: 2 }, 7);
    const tiers = [tier(1, onForm(0), 30), tier(2, onForm(25), 30), ruffle, tier(3, onForm(60), 20)];
    expect(coversOf(tiers)[1]).toMatchObject({ reachingId: 4, belowId: 3, overTicks: cm(2) });
    const long = [tier(1, onForm(0), 70), tier(2, onForm(25), 30), tier(3, onForm(60), 20)];
    expect(coversOf(long)[1]).toMatchObject({ aboveId: 2, reachingId: 1, overTicks: cm(10) });
  });

  it('tells tiers at one drop once', () => {
    expect(coversOf([tier(1, onForm(0), 30), tier(2, onForm(20), 9), tier(3, onForm(20), 9)])).toHaveLength(
      1,
    );
  });
});

describe('a level hem over a tilted form', () => {
  it('is cut for the longest drop and shaped above where the others are shorter', () => {
    expect(shapedAbove({ frontTicks: cm(98), sideTicks: cm(101), backTicks: cm(108) })).toEqual({
      longestTicks: cm(108),
      frontTicks: cm(10),
      sideTicks: cm(7),
      backTicks: 0,
    });
  });
});

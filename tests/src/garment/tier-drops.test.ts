import { describe, expect, it } from 'vitest';
import type { Form } from '../../../src/garment/girth.ts';
import type { Hanging } from '../../../src/garment/hanging.ts';
import {
  floorClearance,
  type HungTier,
  levelHemShaping,
  overlapsOf,
  tierDropsOf,
} from '../../../src/garment/tier-drops.ts';
import { verticalDropsOf } from '../../../src/garment/vertical-drop.ts';
import { cm, inch } from '../../lengths.ts';

const CONE: Form = {
  girths: [
    { dropTicks: 0, girthTicks: inch(28) },
    { dropTicks: inch(40), girthTicks: inch(120) },
  ],
};

function tier(tierId: number, hangs: Hanging, depth: number): HungTier {
  return { tierId, name: `Tier ${tierId}`, hangs, ratioTierId: null, depthTicks: cm(depth) };
}

const onForm = (drop: number): Hanging => ({ on: 'form', dropTicks: cm(drop) });

describe('where a tier begins and ends', () => {
  const tiers = [
    tier(1, onForm(10), 30),
    tier(2, { on: 'edge', tierId: 1 }, 8),
    tier(3, { on: 'face', tierId: 1, heightTicks: cm(12) }, 9),
    tier(4, { on: 'edge', tierId: 2 }, 5),
    tier(5, { on: 'edge', tierId: 9 }, 5),
  ];

  it('follows what it is sewn on', () => {
    const drops = tierDropsOf(tiers);
    const ends = [1, 2, 3, 4].map((id) => [drops.get(id)?.startTicks, drops.get(id)?.endTicks]);
    expect(ends).toEqual([
      [cm(10), cm(40)],
      [cm(40), cm(48)],
      [cm(28), cm(37)],
      [cm(48), cm(53)],
    ]);
    expect(drops.get(4)?.rootId).toBe(1);
    expect(drops.has(5)).toBe(false);
  });

  it('says how far above the floor it hangs', () => {
    const [hem] = [...tierDropsOf([tier(1, { on: 'form', dropTicks: inch(20) }, 0)]).values()];
    if (!hem) throw new Error('it hangs from the form');
    expect(floorClearance(verticalDropsOf(CONE), hem, inch(41)) / inch(1)).toBeCloseTo(41 - 18.61, 2);
  });
});

describe('how tiers overlap', () => {
  it('is what reaches below the next hang, or what is left bare above it', () => {
    const tiers = [tier(1, onForm(0), 30), tier(2, onForm(25), 30), tier(3, onForm(60), 20)];
    expect(overlapsOf(tiers)).toEqual([
      { aboveId: 1, reachingId: 1, belowId: 2, dropTicks: cm(25), overTicks: cm(5) },
      { aboveId: 2, reachingId: 2, belowId: 3, dropTicks: cm(60), overTicks: -cm(5) },
    ]);
  });

  it('counts what is sewn on the tiers above, and a longer tier further up', () => {
    const ruffle = tier(4, { on: 'edge', tierId: 2 }, 7);
    const tiers = [tier(1, onForm(0), 30), tier(2, onForm(25), 30), ruffle, tier(3, onForm(60), 20)];
    expect(overlapsOf(tiers)[1]).toMatchObject({ reachingId: 4, belowId: 3, overTicks: cm(2) });
    const long = [tier(1, onForm(0), 70), tier(2, onForm(25), 30), tier(3, onForm(60), 20)];
    expect(overlapsOf(long)[1]).toMatchObject({ aboveId: 2, reachingId: 1, overTicks: cm(10) });
  });

  it('tells tiers at one drop once', () => {
    expect(overlapsOf([tier(1, onForm(0), 30), tier(2, onForm(20), 9), tier(3, onForm(20), 9)])).toHaveLength(
      1,
    );
  });
});

describe('a level hem over a tilted form', () => {
  it('is cut for the longest drop and shaped above where the others are shorter', () => {
    expect(levelHemShaping({ frontTicks: cm(98), sideTicks: cm(101), backTicks: cm(108) })).toEqual({
      longestTicks: cm(108),
      frontTicks: cm(10),
      sideTicks: cm(7),
      backTicks: 0,
    });
  });
});

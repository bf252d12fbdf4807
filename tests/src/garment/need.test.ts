import { describe, expect, it } from 'vitest';
import type { LotRule } from '../../../src/garment/band.ts';
import { needsOf } from '../../../src/garment/need.ts';
import { type TierBlock, type WorkedTier, workTiers } from '../../../src/garment/tiers.ts';
import { inch, m } from '../../lengths.ts';

const [ORGANZA, TULLE] = [1, 2];
const [ROSE, IVORY] = [10, 20];
const widths = new Map([
  [ORGANZA, inch(58)],
  [TULLE, m('1.4')],
]);
const form = { girths: [0, inch(40)].map((dropTicks) => ({ dropTicks, girthTicks: inch(95) })) };

function block(clothId: number, shadeId: number, strips = 1, lots: LotRule = 'one'): TierBlock {
  return { clothId, shadeId, lots, strips };
}

function garment(...tiers: readonly (readonly TierBlock[])[]): readonly WorkedTier[] {
  const worked = workTiers(
    form,
    tiers.map((blocks, i) => ({
      tierId: i + 1,
      name: `Tier ${i + 1}`,
      hangs: { on: 'form', dropTicks: i },
      ratioTierId: null,
      direction: 'across',
      offsetStrips: 0,
      closing: 'ring',
      fullnessMilli: 3000,
      depthTicks: inch(9 + i),
      headingTicks: 0,
      hangSeamTicks: inch('1/2'),
      hemTicks: inch('1/2'),
      seamTicks: inch('1/2'),
      endTicks: 0,
      stripLengthTicks: null,
      blocks,
      finishRepeat: true,
    })),
    widths,
  );
  if (!worked.ok) throw new Error('the garment can be worked out');
  return worked.tiers;
}

describe('the needs of a garment', () => {
  it('are strips of one size for each tier of a cloth and shade', () => {
    expect(needsOf(garment([block(ORGANZA, ROSE)]))).toEqual([
      {
        clothId: ORGANZA,
        shadeId: ROSE,
        lots: 'one',
        demands: [{ tierId: 1, depthTicks: inch(10), lengthTicks: inch(58), direction: 'across', count: 5 }],
        strips: 5,
      },
    ]);
  });

  it('join tiers of the same cloth and shade, and keep apart what differs in either', () => {
    const needs = needsOf(
      garment(
        [block(ORGANZA, ROSE), block(ORGANZA, IVORY)],
        [block(TULLE, ROSE)],
        [block(ORGANZA, IVORY, 2)],
      ),
    );
    expect(needs.map(({ clothId, shadeId, strips }) => [clothId, shadeId, strips])).toEqual([
      [ORGANZA, ROSE, 3],
      [ORGANZA, IVORY, 3 + 6],
      [TULLE, ROSE, 6],
    ]);
    expect(needs[1]?.demands).toEqual([
      { tierId: 1, depthTicks: inch(10), lengthTicks: inch(58), direction: 'across', count: 3 },
      { tierId: 3, depthTicks: inch(12), lengthTicks: inch(58), direction: 'across', count: 6 },
    ]);
  });

  it('take the strictest rule of their tiers', () => {
    const any = block(ORGANZA, ROSE, 1, 'any');
    expect(needsOf(garment([any], [any]))[0]?.lots).toBe('any');
    expect(needsOf(garment([any], [block(ORGANZA, ROSE)]))[0]?.lots).toBe('one');
    expect(needsOf(garment([block(ORGANZA, ROSE)], [any]))[0]?.lots).toBe('one');
    const meet = block(ORGANZA, ROSE, 1, 'meet');
    expect(needsOf(garment([any], [meet]))[0]?.lots).toBe('meet');
    expect(needsOf(garment([meet, any], [block(ORGANZA, ROSE)]))[0]?.lots).toBe('one');
  });

  it('add up to the strips of all tiers', () => {
    const tiers = garment([block(ORGANZA, ROSE, 2), block(TULLE, IVORY)], [block(TULLE, IVORY, 3)]);
    const needs = needsOf(tiers);
    const inTiers = tiers.reduce((sum, tier) => sum + tier.count.strips, 0);
    expect(needs.reduce((sum, need) => sum + need.strips, 0)).toBe(inTiers);
    for (const need of needs) {
      expect(need.demands.reduce((sum, demand) => sum + demand.count, 0)).toBe(need.strips);
    }
  });

  it('of no tiers are none', () => {
    expect(needsOf([])).toEqual([]);
  });
});

import { describe, expect, it } from 'vitest';
import { leftToHem, type MadeTier, madeDifferences, nextToCut } from '../../../src/garment/as-made.ts';
import { cm } from '../../lengths.ts';

const tier = (tierId: number, startCm: number, endCm: number, parts: Partial<MadeTier> = {}): MadeTier => ({
  tierId,
  startTicks: cm(startCm),
  endTicks: cm(endCm),
  madeTicks: null,
  followedTicks: 0,
  movable: true,
  begun: false,
  ...parts,
});

describe('a tier that was measured', () => {
  it('is followed by those below that are still to cut; what is begun, pinned or measured stays', () => {
    const tiers = [
      tier(1, 0, 30, { madeTicks: cm(32), begun: true }),
      tier(2, 28, 60),
      tier(3, 30, 62, { begun: true }),
      tier(4, 31, 63, { movable: false }),
      tier(5, 33, 64, { madeTicks: cm(64) }),
      tier(6, 0, 20),
    ];
    expect(madeDifferences(tiers)[0]).toEqual({
      tierId: 1,
      byTicks: cm(2),
      leftTicks: cm(2),
      follow: [2],
      stay: [3],
    });
  });

  it('leaves nothing over once it was followed, and only the rest when it is measured again', () => {
    const [all] = madeDifferences([
      tier(1, 0, 30, { madeTicks: cm(32), followedTicks: cm(2) }),
      tier(2, 28, 60),
    ]);
    expect(all?.leftTicks).toBe(0);
    const [rest] = madeDifferences([
      tier(1, 0, 30, { madeTicks: cm(29), followedTicks: cm(2) }),
      tier(2, 28, 60),
    ]);
    expect(rest?.leftTicks).toBe(-cm(3));
  });

  it('says what is left from its edge to the planned hem', () => {
    expect(leftToHem([tier(1, 0, 30, { madeTicks: cm(61) }), tier(2, 28, 96)])).toBe(cm(35));
    expect(leftToHem([tier(1, 0, 30)])).toBeNull();
  });

  it('says which tier is cut next: the highest below that is neither begun nor measured', () => {
    const made = tier(1, 0, 30, { madeTicks: cm(31) });
    expect(nextToCut([made, tier(3, 60, 96), tier(2, 28, 62, { begun: true })])).toBe(3);
    expect(nextToCut([made, tier(3, 60, 96), tier(2, 28, 62)])).toBe(2);
    expect(nextToCut([tier(2, 28, 62)])).toBeNull();
    expect(nextToCut([made])).toBeNull();
  });
});

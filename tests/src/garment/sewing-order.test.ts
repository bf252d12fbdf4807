import { describe, expect, it } from 'vitest';
import { sewingOrder, type TierToSew } from '../../../src/garment/sewing-order.ts';
import { cm } from '../../lengths.ts';

function tier(tierId: number, parts: Partial<TierToSew> = {}): TierToSew {
  return {
    tierId,
    hangs: 'form',
    dropTicks: cm(10 * tierId),
    onTierId: null,
    heightTicks: null,
    hemFirst: false,
    upperEdge: 'seam',
    lowerEdge: 'narrow',
    gathered: true,
    joined: true,
    ...parts,
  };
}

const edging = (tierId: number, onTierId: number, parts: Partial<TierToSew> = {}) =>
  tier(tierId, { hangs: 'edge', dropTicks: null, onTierId, ...parts });
const onFace = (tierId: number, onTierId: number, height: number) =>
  tier(tierId, { hangs: 'face', dropTicks: null, onTierId, heightTicks: cm(height) });

const orderOf = (tiers: readonly TierToSew[]) => sewingOrder(tiers).map(({ tierId }) => tierId);
const stepsOf = (tierId: number, tiers: readonly TierToSew[]) =>
  (sewingOrder(tiers).find((work) => work.tierId === tierId)?.steps ?? []).map((step) =>
    step.kind === 'sew on' ? `sew on ${step.tierId}` : step.kind,
  );

describe('the order of work', () => {
  it('puts the lowest tier on first, the foundation layer before the form', () => {
    const tiers = [tier(1), tier(2), tier(3, { hangs: 'foundation', dropTicks: cm(5) })];
    expect(orderOf(tiers)).toEqual([3, 2, 1]);
  });

  it('makes what is sewn on a tier before it, and sews it on while that tier lies flat', () => {
    // 1 hangs; 2 edges it, 3 edges 2; 4 and 5 lie on the face of 1, 5 lower than 4.
    const tiers = [tier(1), edging(2, 1), edging(3, 2), onFace(4, 1, 20), onFace(5, 1, 8)];
    expect(orderOf(tiers)).toEqual([3, 2, 5, 4, 1]);
    expect(stepsOf(1, tiers)).toEqual([
      'cut',
      'join',
      'lower edge',
      'sew on 2',
      'sew on 5',
      'sew on 4',
      'gather',
      'hang',
    ]);
    expect(stepsOf(3, tiers)).toEqual(['cut', 'join', 'lower edge', 'gather']);
  });

  it('hems strips before they are joined where the tier says so', () => {
    const hemFirst = tier(1, { hemFirst: true, upperEdge: 'rolled' });
    expect(stepsOf(1, [hemFirst])).toEqual(['cut', 'lower edge', 'upper edge', 'join', 'gather', 'hang']);
  });

  it('leaves out what is not done: raw edges, gathers of a flat band, seams of one open strip', () => {
    const plain = tier(1, { lowerEdge: 'raw', upperEdge: 'raw', gathered: false, joined: false });
    expect(stepsOf(1, [plain])).toEqual(['cut', 'hang']);
  });

  it('leaves out loops and what hangs on nothing', () => {
    expect(orderOf([edging(1, 2), edging(2, 1), edging(3, 9), tier(4)])).toEqual([4]);
  });
});

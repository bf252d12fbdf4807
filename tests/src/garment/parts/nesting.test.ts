import { describe, expect, it } from 'vitest';
import { nestRings, type Rings } from '../../../../src/garment/parts/nesting.ts';

const ring = (id: number, innerTicks: number, outerTicks: number, count = 1, mayNest = true): Rings => ({
  id,
  innerTicks,
  outerTicks,
  count,
  mayNest,
});

describe('rings from the holes of larger rings', () => {
  it('take the smallest hole that they fit, one a hole, each leaving a hole of its own', () => {
    // Holes of 30 and 20; rings of 20, 18 and 9: 20 goes into 20, 18 into 30, and 9 into the hole of 10 of the first.
    const nested = nestRings([
      ring(1, 30, 60),
      ring(2, 20, 50),
      ring(3, 10, 20),
      ring(4, 8, 18),
      ring(5, 2, 9),
    ]);
    expect(nested).toEqual([
      { guestId: 3, hostId: 2, count: 1 },
      { guestId: 4, hostId: 1, count: 1 },
      { guestId: 5, hostId: 3, count: 1 },
    ]);
    expect(nestRings([ring(1, 20, 50), ring(2, 10, 21)])).toEqual([]);
    expect(nestRings([ring(1, 20, 50, 2), ring(2, 10, 20, 3)])).toEqual([
      { guestId: 2, hostId: 1, count: 2 },
    ]);
    expect(nestRings([ring(1, 20, 50), ring(2, 10, 20, 1, false)])).toEqual([]);
  });

  /** The most area of blocks that any way of putting rings into holes saves, every way tried. */
  function mostSaved(rings: readonly Rings[]): number {
    const single = rings.flatMap(({ count, ...one }) => Array.from({ length: count }, () => one));
    const tryFrom = (at: number, taken: ReadonlySet<number>): number => {
      const guest = single[at];
      if (!guest) return 0;
      let best = tryFrom(at + 1, taken);
      if (!guest.mayNest) return best;
      single.forEach((host, place) => {
        if (taken.has(place) || host.innerTicks < guest.outerTicks) return;
        best = Math.max(best, guest.outerTicks ** 2 + tryFrom(at + 1, new Set([...taken, place])));
      });
      return best;
    };
    return tryFrom(0, new Set());
  }

  it('save as much cloth as any way that is tried', () => {
    let seed = 7;
    const draw = (to: number) => {
      seed = (seed * 16_807) % 2_147_483_647;
      return seed % to;
    };
    for (let job = 0; job < 200; job += 1) {
      const rings = Array.from({ length: 1 + draw(3) }, (_, id) => {
        const outer = 2 + draw(12);
        return ring(id, 1 + draw(outer - 1), outer, 1 + draw(2), draw(4) > 0);
      });
      const saved = nestRings(rings).reduce(
        (sum, { guestId, count }) => sum + count * (rings[guestId]?.outerTicks ?? 0) ** 2,
        0,
      );
      expect(saved).toBe(mostSaved(rings));
    }
  });
});

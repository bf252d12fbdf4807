import fc from 'fast-check';
import { expect } from 'vitest';
import type { Fit, Stretch } from '../../src/fit/strips.ts';
import type { StripDemand } from '../../src/garment/need.ts';
import { m } from '../lengths.ts';

export const WIDTH = m('1.5');

export function demand(tierId: number, depthTicks: number, count: number, lengthTicks = WIDTH): StripDemand {
  return { tierId, depthTicks, lengthTicks, direction: 'across', count };
}

export function piece(pieceId: number, lengthTicks: number, lotId = 1, usableWidthTicks = WIDTH): Stretch {
  return { pieceId, lotId, usableWidthTicks, lengthTicks };
}

/** Up to `most` demands in small numbers, so that sizes meet exactly now and then. */
export function demandsOf(most: number) {
  const size = fc.record({
    depthTicks: fc.integer({ min: 1, max: 12 }),
    lengthTicks: fc.integer({ min: 1, max: 6 }),
    count: fc.integer({ min: 0, max: 6 }),
  });
  return fc
    .array(size, { minLength: 1, maxLength: most })
    .map((sizes) => sizes.map((strip, tierId) => ({ tierId, direction: 'across' as const, ...strip })));
}

export const shelves = fc
  .array(
    fc.record({
      lotId: fc.integer({ min: 1, max: 3 }),
      usableWidthTicks: fc.integer({ min: 0, max: 12 }),
      lengthTicks: fc.integer({ min: 0, max: 30 }),
    }),
    { maxLength: 7 },
  )
  .map((pieces) => pieces.map((stretch, i) => ({ pieceId: i + 1, ...stretch })));

export const rules = fc.constantFrom('one' as const, 'any' as const);

/**
 * Cuts every lay of a fit from the pieces, with arithmetic of its own, and fails where something does not fit or add
 * up. Gives back what is left of each piece.
 */
export function cutAll(fit: Fit, demands: readonly StripDemand[], pieces: readonly Stretch[]): Stretch[] {
  const left = pieces.map((piece) => ({ ...piece }));
  const made = demands.map(() => 0);
  let usedTicks = 0;
  for (const lay of fit.lays) {
    const piece = left.find(({ pieceId }) => pieceId === lay.pieceId);
    if (piece === undefined) throw new Error(`piece ${lay.pieceId} is not on the shelf`);
    expect(piece.lotId).toBe(lay.lotId);
    expect(lay.columns * lay.stripLengthTicks).toBeLessThanOrEqual(piece.usableWidthTicks);
    for (let cutLength = 0; cutLength < lay.cutLengths; cutLength += 1) {
      piece.lengthTicks -= lay.depthTicks;
      usedTicks += lay.depthTicks;
    }
    expect(piece.lengthTicks).toBeGreaterThanOrEqual(0);
    let strips = 0;
    for (const { tierId, count } of lay.strips) {
      const at = demands.findIndex((demand) => demand.tierId === tierId);
      expect(demands[at]).toMatchObject({ depthTicks: lay.depthTicks, lengthTicks: lay.stripLengthTicks });
      made[at] = (made[at] ?? 0) + count;
      strips += count;
      expect(count).toBeGreaterThan(0);
    }
    expect(strips).toBeLessThanOrEqual(lay.columns * lay.cutLengths);
    // A cut length that yields no wanted strip would be waste.
    expect(strips).toBeGreaterThan(lay.columns * (lay.cutLengths - 1));
  }
  demands.forEach(({ tierId, count }, i) => {
    expect(fit.made[i]).toEqual({ tierId, count: made[i] });
    expect(fit.missing[i]).toEqual({ tierId, count: count - (made[i] ?? 0) });
    expect(made[i]).toBeLessThanOrEqual(count);
  });
  const wanted = demands.reduce((sum, { count }) => sum + count, 0);
  expect(fit.madeStrips + fit.missingStrips).toBe(wanted);
  expect(fit.madeStrips).toBe(made.reduce((sum, count) => sum + count, 0));
  expect(fit.usedTicks).toBe(usedTicks);
  expect(fit.lotIds).toEqual([...new Set(fit.lays.map(({ lotId }) => lotId))].sort((a, b) => a - b));
  return left;
}

/** Whether one more strip of a size could be cut from a piece. */
export function takesOne(piece: Stretch, demand: StripDemand): boolean {
  return piece.lengthTicks >= demand.depthTicks && piece.usableWidthTicks >= demand.lengthTicks;
}

/** The most strips that can be made at all with drops of one size each, by trying everything: small cases only. */
export function mostStrips(demands: readonly StripDemand[], pieces: readonly Stretch[]): number {
  const sizes = oneOfEachSize(demands);
  const known = new Map<string, number>();
  const most = (at: number, restTicks: number, wanted: readonly number[]): number => {
    const piece = pieces[at];
    if (piece === undefined) return 0;
    const key = `${at} ${restTicks} ${wanted.join()}`;
    const before = known.get(key);
    if (before !== undefined) return before;
    let best = most(at + 1, pieces[at + 1]?.lengthTicks ?? 0, wanted);
    sizes.forEach((demand, i) => {
      const columns = Math.floor(piece.usableWidthTicks / demand.lengthTicks);
      const strips = Math.min(columns, wanted[i] ?? 0);
      if (strips === 0 || restTicks < demand.depthTicks) return;
      const less = wanted.map((count, j) => (j === i ? count - strips : count));
      best = Math.max(best, strips + most(at, restTicks - demand.depthTicks, less));
    });
    known.set(key, best);
    return best;
  };
  return most(
    0,
    pieces[0]?.lengthTicks ?? 0,
    sizes.map(({ count }) => count),
  );
}

/** Tiers that want one size share a cut length. */
function oneOfEachSize(demands: readonly StripDemand[]): StripDemand[] {
  const sizes = new Map<string, StripDemand>();
  for (const demand of demands) {
    const key = `${demand.depthTicks} ${demand.lengthTicks}`;
    sizes.set(key, { ...demand, count: demand.count + (sizes.get(key)?.count ?? 0) });
  }
  return [...sizes.values()];
}

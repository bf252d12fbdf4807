import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fitStrips } from '../../../src/fit/strips.ts';
import { cm } from '../../lengths.ts';
import {
  cutAll,
  demand,
  demandsOf,
  mostStrips,
  piece,
  rules,
  shelves,
  takesOne,
  WIDTH,
} from '../laid-out.ts';

describe('strips of several sizes', () => {
  it('use what one size leaves of a piece for another', () => {
    const fit = fitStrips(
      [demand(1, cm(50), 3), demand(2, cm(30), 2)],
      [piece(1, cm(80)), piece(2, cm(80)), piece(3, cm(50))],
      'any',
    );
    expect(fit.missingStrips).toBe(0);
  });

  it('of three sizes fill each piece: 50 + 30 + 20 cm out of every metre', () => {
    const demands = [demand(1, cm(50), 3), demand(2, cm(30), 3), demand(3, cm(20), 3)];
    const fit = fitStrips(demands, [piece(1, cm(100)), piece(2, cm(100)), piece(3, cm(100))], 'any');
    expect(fit).toMatchObject({ missingStrips: 0, usedTicks: cm(300) });
  });

  it('of one size for two tiers share a cut length', () => {
    const demands = [demand(1, cm(9), 5), demand(2, cm(9), 1)];
    const pieces = [piece(1, cm(27), 1, 2 * WIDTH)];
    expect(mostStrips(demands, pieces)).toBe(6);
    expect(fitStrips(demands, pieces, 'any').madeStrips).toBe(6);
  });

  it('build on the best that fewer pieces gave, where no single pass finds it', () => {
    // 78 cm of strips cannot come from 77 cm of cloth; every single pass over these four pieces leaves two out.
    const demands = [demand(1, cm(10), 4), demand(2, cm(8), 3), demand(3, cm(7), 2)];
    const pieces = [5, 29, 22, 21].map((length, i) => piece(i + 1, cm(length)));
    expect(mostStrips(demands, pieces)).toBe(8);
    expect(fitStrips(demands, pieces, 'any').madeStrips).toBe(8);
  });

  it('take the least length that makes them: one cut length of a wide piece before two of a narrow one', () => {
    const pieces = [piece(1, cm(60)), piece(2, cm(90), 1, 2 * WIDTH)];
    const fit = fitStrips([demand(1, cm(30), 2)], pieces, 'any');
    expect(fit).toMatchObject({ madeStrips: 2, usedTicks: cm(30) });
  });

  it('can be cut as claimed, and nothing that is missing would fit into what is left', () => {
    fc.assert(
      fc.property(demandsOf(6), shelves, rules, (demands, pieces, lots) => {
        const fit = fitStrips(demands, pieces, lots);
        const left = cutAll(fit, demands, pieces);
        if (lots === 'one') expect(fit.lotIds.length).toBeLessThanOrEqual(1);
        const usable = lots === 'any' ? left : left.filter(({ lotId }) => fit.lotIds.includes(lotId));
        const missing = demands.filter((_, i) => (fit.missing[i]?.count ?? 0) > 0);
        expect(missing.some((strip) => usable.some((stretch) => takesOne(stretch, strip)))).toBe(false);
      }),
      { numRuns: 500 },
    );
  });

  it('never come to more than trying everything, and to as much for one size', () => {
    fc.assert(
      fc.property(demandsOf(3), shelves, (demands, pieces) => {
        const most = mostStrips(demands, pieces);
        expect(fitStrips(demands, pieces, 'any').madeStrips).toBeLessThanOrEqual(most);
        const one = demands.slice(0, 1);
        expect(fitStrips(one, pieces, 'any').madeStrips).toBe(mostStrips(one, pieces));
      }),
      { numRuns: 200 },
    );
  });

  it('never take more cloth, by area, than the strips and the pieces have', () => {
    fc.assert(
      fc.property(demandsOf(6), shelves, rules, (demands, pieces, lots) => {
        const { made, usedTicks } = fitStrips(demands, pieces, lots);
        const area = demands.reduce(
          (sum, d, i) => sum + d.depthTicks * d.lengthTicks * (made[i]?.count ?? 0),
          0,
        );
        const widest = Math.max(0, ...pieces.map(({ usableWidthTicks }) => usableWidthTicks));
        expect(area).toBeLessThanOrEqual(usedTicks * widest);
        expect(usedTicks).toBeLessThanOrEqual(pieces.reduce((sum, { lengthTicks }) => sum + lengthTicks, 0));
      }),
    );
  });

  it('are the same in whatever order strips and pieces come', () => {
    fc.assert(
      fc.property(demandsOf(5), shelves, rules, (demands, pieces, lots) => {
        const there = fitStrips(demands, pieces, lots);
        const back = fitStrips([...demands].reverse(), [...pieces].reverse(), lots);
        expect(back.madeStrips).toBe(there.madeStrips);
        expect(back.usedTicks).toBe(there.usedTicks);
        expect(back.lays.map(({ pieceId, cutLengths }) => [pieceId, cutLengths])).toEqual(
          there.lays.map(({ pieceId, cutLengths }) => [pieceId, cutLengths]),
        );
      }),
    );
  });

  it('are the same when all sizes are scaled alike', () => {
    fc.assert(
      fc.property(
        demandsOf(5),
        shelves,
        rules,
        fc.integer({ min: 2, max: 4064 }),
        (demands, pieces, lots, k) => {
          const larger = fitStrips(
            demands.map((d) => ({ ...d, depthTicks: d.depthTicks * k, lengthTicks: d.lengthTicks * k })),
            pieces.map((p) => ({
              ...p,
              usableWidthTicks: p.usableWidthTicks * k,
              lengthTicks: p.lengthTicks * k,
            })),
            lots,
          );
          const fit = fitStrips(demands, pieces, lots);
          expect(larger.made).toEqual(fit.made);
          expect(larger.usedTicks).toBe(fit.usedTicks * k);
        },
      ),
    );
  });
});

describe('another piece', () => {
  const newcomer = fc.record({
    pieceId: fc.constantFrom(0, 4, 100),
    lotId: fc.integer({ min: 1, max: 4 }),
    usableWidthTicks: fc.integer({ min: 0, max: 12 }),
    lengthTicks: fc.integer({ min: 0, max: 30 }),
  });

  it('never lowers the strips made of one or two sizes, whichever piece it is', () => {
    fc.assert(
      fc.property(demandsOf(2), shelves, newcomer, rules, (demands, pieces, another, lots) => {
        const more = fitStrips(demands, [...pieces, another], lots);
        expect(more.madeStrips).toBeGreaterThanOrEqual(fitStrips(demands, pieces, lots).madeStrips);
      }),
      { numRuns: 2000 },
    );
  });

  it('newly received never lowers the strips made of any number of sizes', () => {
    fc.assert(
      fc.property(demandsOf(7), shelves, newcomer, rules, (demands, pieces, another, lots) => {
        const more = fitStrips(demands, [...pieces, { ...another, pieceId: 100 }], lots);
        expect(more.madeStrips).toBeGreaterThanOrEqual(fitStrips(demands, pieces, lots).madeStrips);
      }),
      { numRuns: 1000 },
    );
  });
});

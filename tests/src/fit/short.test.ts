import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Supply, shortOf } from '../../../src/fit/short.ts';
import { fitStrips } from '../../../src/fit/strips.ts';
import { cm, m } from '../../lengths.ts';
import { cutAll, demand, demandsOf, piece, rules, shelves, WIDTH } from '../laid-out.ts';

const ROSE_A = 1;
const ROSE_B = 2;

function supply(parts: Partial<Supply> & Pick<Supply, 'demands'>): Supply {
  return { lots: 'one', usableWidthTicks: WIDTH, cut: [], held: [], free: [], ...parts };
}

const supplies: fc.Arbitrary<Supply> = fc
  .record({
    demands: demandsOf(4),
    lots: rules,
    usableWidthTicks: fc.integer({ min: 1, max: 12 }),
    cutOf: fc.array(fc.record({ tierId: fc.nat(4), lotId: fc.nat(3), count: fc.nat(3) }), { maxLength: 3 }),
    heldFor: fc.array(fc.nat(4), { minLength: 7, maxLength: 7 }),
    heldOn: shelves,
    free: shelves,
  })
  .map(({ cutOf, heldFor, heldOn, ...rest }) => ({
    ...rest,
    cut: cutOf,
    held: heldOn.map((stretch, i) => ({
      ...stretch,
      pieceId: stretch.pieceId + 50,
      tierId: heldFor[i] ?? 0,
    })),
  }));

describe('what is short', () => {
  it('is nothing where all fits', () => {
    const short = shortOf(supply({ demands: [demand(1, cm(30), 10)], free: [piece(1, m(3))] }));
    expect(short).toMatchObject({
      wantedStrips: 10,
      wantedTicks: m(3),
      freeStrips: 10,
      freeTicks: m(3),
      freeLotIds: [1],
      shortStrips: 0,
      shortTicks: 0,
      reasons: [],
    });
  });

  it('is never told by a sum of lengths: two remnants of 0.7 m do not give a strip 1.3 m deep', () => {
    const free = [piece(1, m('0.7')), piece(2, m('0.7'))];
    expect(shortOf(supply({ demands: [demand(1, m('1.3'), 1)], free }))).toMatchObject({
      freeStrips: 0,
      freeTicks: m('1.4'),
      shortStrips: 1,
      shortTicks: m('1.3'),
      reasons: [{ kind: 'too short', pieces: 2, freeTicks: m('1.4'), depthTicks: m('1.3') }],
    });
  });

  it('is all where 14.2 m are free in six pieces shorter than a strip', () => {
    const lengths = ['2.4', '2.4', '2.4', '2.4', '2.3', '2.3'];
    const free = lengths.map((length, i) => piece(i + 1, m(length)));
    const short = shortOf(supply({ demands: [demand(1, m('2.5'), 4)], free }));
    expect(short).toMatchObject({ freeStrips: 0, shortStrips: 4, shortTicks: m(10) });
    expect(short.reasons).toEqual([
      { kind: 'too short', pieces: 6, freeTicks: m('14.2'), depthTicks: m('2.5') },
    ]);
  });

  it('is all on an empty shelf', () => {
    expect(shortOf(supply({ demands: [demand(1, m(1), 2)] }))).toMatchObject({
      freeLotIds: [],
      shortOf: [{ tierId: 1, count: 2 }],
      shortTicks: m(2),
      reasons: [{ kind: 'nothing free' }],
    });
  });

  it('tells pieces that are too narrow from the ends of those that are cut', () => {
    const free = [piece(1, m('2.5')), piece(2, m(8), 1, WIDTH - 1)];
    expect(shortOf(supply({ demands: [demand(1, m(1), 5)], free }))).toMatchObject({
      freeStrips: 2,
      shortStrips: 3,
      reasons: [
        { kind: 'too narrow', pieces: 1, freeTicks: m(8), lengthTicks: WIDTH },
        { kind: 'ends', pieces: 1, freeTicks: m('0.5') },
      ],
    });
  });

  it('is what remains where every piece is cut up to its end', () => {
    expect(
      shortOf(supply({ demands: [demand(1, m(1), 5)], free: [piece(1, m(2)), piece(2, m(1))] })),
    ).toMatchObject({
      shortStrips: 2,
      reasons: [{ kind: 'used up', pieces: 2, usedTicks: m(3) }],
    });
  });

  it('has no length to get where a strip is longer than fresh cloth is wide', () => {
    const demands = [demand(1, m(1), 1, WIDTH + 1)];
    expect(shortOf(supply({ demands }))).toMatchObject({
      wantedTicks: null,
      shortTicks: null,
    });
  });
});

describe('lots', () => {
  const demands = [demand(1, m(1), 9)];
  const free = [piece(1, m(4), ROSE_A), piece(2, m(5), ROSE_B)];

  it('are not mixed where one is wanted: 4 m in one and 5 m in another', () => {
    expect(shortOf(supply({ demands, free }))).toMatchObject({
      freeLotIds: [ROSE_B],
      freeStrips: 5,
      elsewhereStrips: 4,
      elsewhereTicks: m(4),
      shortStrips: 4,
      shortTicks: m(4),
      oneLotTicks: m(9),
      reasons: [
        { kind: 'used up', pieces: 1, usedTicks: m(5) },
        { kind: 'other lots', lotIds: [ROSE_A], freeTicks: m(4), strips: 4 },
      ],
    });
  });

  it('are mixed where any will do', () => {
    const short = shortOf(supply({ demands, free, lots: 'any' }));
    expect(short).toMatchObject({
      freeLotIds: [ROSE_A, ROSE_B],
      freeStrips: 9,
      elsewhereTicks: 0,
      shortStrips: 0,
    });
  });

  it('are settled by the strips that are cut already', () => {
    const cut = [{ tierId: 1, lotId: ROSE_A, count: 2 }];
    expect(shortOf(supply({ demands, free, cut }))).toMatchObject({
      cutStrips: 2,
      freeLotIds: [ROSE_A],
      freeStrips: 4,
      shortStrips: 3,
      oneLotTicks: m(7),
    });
  });

  it('are settled by held and free cloth together', () => {
    const held = [{ ...piece(3, m(2), ROSE_A), tierId: 1 }];
    expect(shortOf(supply({ demands, free, held }))).toMatchObject({
      freeLotIds: [ROSE_A],
      heldStrips: 2,
      freeStrips: 4,
      shortStrips: 3,
    });
    const less = [{ ...piece(3, m('0.9'), ROSE_A), tierId: 1 }];
    expect(shortOf(supply({ demands, free, held: less }))).toMatchObject({
      freeLotIds: [ROSE_B],
      heldStrips: 0,
      shortStrips: 4,
      reasons: [
        { kind: 'used up' },
        { kind: 'other lots' },
        { kind: 'held in other lots', pieces: 1, heldTicks: m('0.9') },
      ],
    });
  });

  it('that make as many strips are chosen by what is held, then by the length they take', () => {
    const two = [demand(1, m(1), 2)];
    const held = [{ ...piece(3, m(1), ROSE_B), tierId: 1 }];
    const both = [piece(1, m(3), ROSE_A, 2 * WIDTH), piece(2, m(1), ROSE_B)];
    expect(shortOf(supply({ demands: two, free: both, held })).freeLotIds).toEqual([ROSE_B]);
    const wide = [piece(1, m(3), ROSE_A), piece(2, m(2), ROSE_B, 2 * WIDTH)];
    expect(shortOf(supply({ demands: two, free: wide })).freeLotIds).toEqual([ROSE_B]);
  });

  it('with more free cloth are preferred where none gives a strip', () => {
    const bits = [piece(1, cm(40), ROSE_A), piece(2, cm(90), ROSE_B)];
    expect(shortOf(supply({ demands, free: bits })).freeLotIds).toEqual([ROSE_B]);
  });
});

describe('what is held', () => {
  const demands = [demand(1, cm(50), 4), demand(2, cm(30), 4)];

  it('counts for its own tier before free cloth does', () => {
    const held = [{ ...piece(1, m(1)), tierId: 1 }];
    expect(shortOf(supply({ demands, held, free: [piece(2, m('2.2'))] }))).toMatchObject({
      heldStrips: 2,
      freeStrips: 6,
      shortStrips: 0,
    });
  });

  it('does not count for another tier', () => {
    const held = [{ ...piece(1, m(9)), tierId: 1 }];
    expect(shortOf(supply({ demands, held }))).toMatchObject({
      heldStrips: 4,
      shortOf: [
        { tierId: 1, count: 0 },
        { tierId: 2, count: 4 },
      ],
      reasons: [{ kind: 'nothing free' }, { kind: 'held unused', pieces: 1, heldTicks: m(7) }],
    });
  });

  it('is not needed for strips that are cut', () => {
    const held = [{ ...piece(1, m(1)), tierId: 1 }];
    const cut = [{ tierId: 1, lotId: 1, count: 9 }];
    expect(shortOf(supply({ demands, held, cut }))).toMatchObject({
      cutStrips: 4,
      heldStrips: 0,
      shortStrips: 4,
    });
  });
});

describe('any short', () => {
  it('accounts for every strip wanted, and each claim can be cut', () => {
    fc.assert(
      fc.property(supplies, (all) => {
        const short = shortOf(all);
        const { cutStrips, heldStrips, freeStrips, shortStrips } = short;
        expect(cutStrips + heldStrips + freeStrips + shortStrips).toBe(short.wantedStrips);
        expect(short.elsewhereStrips).toBeLessThanOrEqual(shortStrips);
        const uncut = all.demands.map((one) => {
          const cut = all.cut.filter(({ tierId }) => tierId === one.tierId);
          return { ...one, count: Math.max(0, one.count - cut.reduce((sum, { count }) => sum + count, 0)) };
        });
        const unheld = uncut.map((one, i) => {
          const fit = short.heldFits[i];
          if (fit === undefined) throw new Error('a fit for each demand');
          cutAll(
            fit,
            [one],
            all.held.filter(({ tierId }) => tierId === one.tierId),
          );
          return { ...one, count: fit.missingStrips };
        });
        cutAll(short.freeFit, unheld, all.free);
      }),
      { numRuns: 300 },
    );
  });

  it('gives reasons when something is short, and they account for all free length', () => {
    fc.assert(
      fc.property(supplies, (all) => {
        const { shortStrips, reasons, freeFit, freeTicks, elsewhereTicks } = shortOf(all);
        expect(reasons.length > 0).toBe(shortStrips > 0);
        if (shortStrips === 0) return;
        const told = reasons.reduce((sum, reason) => sum + ('freeTicks' in reason ? reason.freeTicks : 0), 0);
        expect(told + freeFit.usedTicks).toBe(freeTicks + elsewhereTicks);
        expect(freeTicks + elsewhereTicks).toBe(
          all.free.reduce((sum, { lengthTicks }) => sum + lengthTicks, 0),
        );
      }),
      { numRuns: 3000 },
    );
  });

  it('is cured by the length to get', () => {
    fc.assert(
      fc.property(supplies, (all) => {
        const { shortTicks, shortOf: missing } = shortOf(all);
        if (shortTicks === null) return;
        const demands = all.demands.map((one, i) => ({ ...one, count: missing[i]?.count ?? 0 }));
        const fresh = {
          pieceId: 0,
          lotId: 0,
          usableWidthTicks: all.usableWidthTicks,
          lengthTicks: shortTicks,
        };
        expect(fitStrips(demands, [fresh], 'any').missingStrips).toBe(0);
      }),
      { numRuns: 300 },
    );
  });

  it('wants each tier once', () => {
    const twice = [demand(1, cm(30), 1), demand(1, cm(40), 1)];
    expect(() => shortOf(supply({ demands: twice }))).toThrow(RangeError);
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fitStrips, lengthToCut } from '../../../src/fit/strips.ts';
import { showLength } from '../../../src/quantity/length-show.ts';
import { cm, inch, m, yd } from '../../lengths.ts';
import { demand, demandsOf, piece, shelves, WIDTH } from '../laid-out.ts';

describe('strips of one size', () => {
  it('are never cut from a sum of lengths', () => {
    const deep = [demand(1, m('1.3'), 1)];
    expect(fitStrips(deep, [piece(1, m('0.7')), piece(2, m('0.7'))], 'any').madeStrips).toBe(0);
    expect(fitStrips(deep, [piece(1, m('1.4'))], 'any').madeStrips).toBe(1);
  });

  it('are never cut from a piece narrower than they are long', () => {
    const remnant = piece(1, m(10), 1, WIDTH - 1);
    expect(fitStrips([demand(1, cm(20), 4)], [remnant], 'any')).toMatchObject({ madeStrips: 0, lays: [] });
  });

  it('take cut lengths times columns', () => {
    const short = demand(1, cm(20), 100, cm(70));
    const fit = fitStrips([short], [piece(1, cm(99))], 'one');
    expect(fit.lays).toEqual([
      {
        pieceId: 1,
        lotId: 1,
        depthTicks: cm(20),
        stripLengthTicks: cm(70),
        columns: 2,
        cutLengths: 4,
        strips: [{ tierId: 1, count: 8 }],
      },
    ]);
    expect(fit).toMatchObject({ madeStrips: 8, missingStrips: 92, usedTicks: cm(80) });
  });

  it('share the last cut length between tiers', () => {
    const fit = fitStrips(
      [demand(1, cm(20), 3, cm(70)), demand(2, cm(20), 3, cm(70))],
      [piece(1, m(1))],
      'one',
    );
    expect(fit).toMatchObject({ missingStrips: 0, usedTicks: cm(60) });
    expect(fit.lays[0]?.strips).toEqual([
      { tierId: 1, count: 3 },
      { tierId: 2, count: 3 },
    ]);
  });

  it('come to what the formula says', () => {
    fc.assert(
      fc.property(demandsOf(1), shelves, ([only], pieces) => {
        if (only === undefined) throw new Error('one demand');
        const room = pieces.map(
          ({ usableWidthTicks, lengthTicks }) =>
            Math.floor(usableWidthTicks / only.lengthTicks) * Math.floor(lengthTicks / only.depthTicks),
        );
        const most = room.reduce((sum, strips) => sum + strips, 0);
        expect(fitStrips([only], pieces, 'any').madeStrips).toBe(Math.min(only.count, most));
      }),
    );
  });

  it('are cut from the piece that wastes nothing where one is enough', () => {
    const fit = fitStrips([demand(1, cm(30), 3)], [piece(1, m(5)), piece(2, cm(90)), piece(3, m(1))], 'any');
    expect(fit.lays.map(({ pieceId }) => pieceId)).toEqual([2]);
  });
});

describe('lots', () => {
  const four = [demand(1, m(1), 8)];

  it('are kept apart: four metres of each of two lots do not give eight strips of one shade', () => {
    const pieces = [piece(1, m(4), 1), piece(2, m(4), 2)];
    expect(fitStrips(four, pieces, 'one')).toMatchObject({ madeStrips: 4, lotIds: [1] });
    expect(fitStrips(four, pieces, 'any')).toMatchObject({ madeStrips: 8, lotIds: [1, 2] });
  });

  it('that make most strips are taken, then those that need the least length', () => {
    expect(fitStrips(four, [piece(1, m(3), 1), piece(2, m(5), 2)], 'one').lotIds).toEqual([2]);
    const wider = piece(2, m(5), 2, 2 * WIDTH);
    expect(
      fitStrips(
        four.map((d) => ({ ...d, count: 3 })),
        [piece(1, m(5), 1), wider],
        'one',
      ).lotIds,
    ).toEqual([2]);
  });

  it('that may be mixed make at least as many strips of one or two sizes as one lot', () => {
    fc.assert(
      fc.property(demandsOf(2), shelves, (demands, pieces) => {
        const mixed = fitStrips(demands, pieces, 'any').madeStrips;
        expect(mixed).toBeGreaterThanOrEqual(fitStrips(demands, pieces, 'one').madeStrips);
      }),
    );
  });
});

describe('the length to cut', () => {
  it('is six cut lengths of ten inches for six cross-cuts: 1¾ yd to the eighth, 160 cm to ten', () => {
    // Arithmetic: 60 in = 1.667 yd = 152.4 cm.
    const cloth = lengthToCut([demand(1, inch(10), 6, inch(58))], inch(58)) ?? 0;
    expect(cloth).toBe(inch(60));
    expect(showLength(cloth, { system: 'imperial', stepTicks: yd('1/8') }, 'up')).toBe('≈ 1 yd 27 in');
    expect(showLength(cloth, { system: 'metric', stepTicks: cm(10) }, 'up')).toBe('≈ 1.6 m');
  });

  it('is 187 in, so 5¼ yd, for the published skirt of three tiers', () => {
    // annasmountaintreasures.blogspot, 2013: 13 in × 14 cuts + 5 in = 187 in = 5.19 yd, bought as 5¼ yd.
    const cuts =
      lengthToCut([demand(1, inch(13), 3), demand(2, inch(13), 4), demand(3, inch(13), 7)], WIDTH) ?? 0;
    const total = cuts + inch(5);
    expect(total).toBe(inch(187));
    expect(Math.ceil(total / yd('1/4')) * yd('1/4')).toBe(yd('5 1/4'));
  });

  it('is enough, and a tick less is not', () => {
    const sizes = demandsOf(1).filter(([only]) => (only?.count ?? 0) > 0);
    fc.assert(
      fc.property(sizes, fc.integer({ min: 6, max: 12 }), (demands, width) => {
        const cloth = lengthToCut(demands, width) ?? 0;
        expect(fitStrips(demands, [piece(1, cloth, 1, width)], 'any').missingStrips).toBe(0);
        expect(fitStrips(demands, [piece(1, cloth - 1, 1, width)], 'any').missingStrips).toBeGreaterThan(0);
      }),
    );
  });

  it('is none for no strips, and unknown where a strip is longer than the usable width', () => {
    expect(lengthToCut([], WIDTH)).toBe(0);
    expect(lengthToCut([demand(1, cm(10), 0, WIDTH + 1)], WIDTH)).toBe(0);
    expect(lengthToCut([demand(1, cm(10), 1, WIDTH + 1)], WIDTH)).toBe(null);
  });
});

describe('sizes that cannot be', () => {
  it.each([
    [[demand(1, 0, 1)], []],
    [[demand(1, cm(10), -1)], []],
    [[demand(1, cm(10), 1.5)], []],
    [[demand(1, cm(10), 1, Number.NaN)], []],
    [[demand(1, cm(10), 1)], [piece(1, -1)]],
    [[demand(1, cm(10), 1)], [piece(1, 0.5)]],
  ])('are a fault of the program: %j from %j', (demands, pieces) => {
    expect(() => fitStrips(demands, pieces, 'any')).toThrow(RangeError);
  });
});

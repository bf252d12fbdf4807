import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { runsOfRuffle } from '../../../src/garment/ruffle.ts';

const plum = { shadeId: 1, strips: 1 };
const moss = { shadeId: 2, strips: 1 };

describe('the runs of a ruffle', () => {
  it('are as many strips for one of the tier as it is full', () => {
    expect(runsOfRuffle([plum, moss], { fullnessMilli: 2000 })).toEqual([
      { shadeId: 1, strips: 2 },
      { shadeId: 2, strips: 2 },
    ]);
    expect(runsOfRuffle([{ ...plum, strips: 3 }, moss], { fullnessMilli: 1000 })).toEqual([
      { ...plum, strips: 3 },
      moss,
    ]);
  });

  it('round each change of colour where it lies', () => {
    expect(runsOfRuffle([plum, moss], { fullnessMilli: 2500 })).toEqual([
      { shadeId: 1, strips: 3 },
      { shadeId: 2, strips: 2 },
    ]);
  });

  it('come out even at a third, as it was typed', () => {
    const third = { fullnessMilli: 2333, fullnessExact: { num: 7, den: 3 } };
    const runs = runsOfRuffle([plum, { ...moss, strips: 2 }], third);
    expect(runs).toEqual([
      { shadeId: 1, strips: 2 },
      { shadeId: 2, strips: 5 },
    ]);
  });

  it('of one shade are the tier’s own', () => {
    expect(runsOfRuffle([plum], { fullnessMilli: 2500 })).toEqual([plum]);
  });

  // By brute force: the colour of the tier is looked up at the middle of each strip of the ruffle.
  it('show the colour of the tier above the middle of each strip', () => {
    const runs = fc.array(
      fc.record({ shadeId: fc.integer({ min: 1, max: 4 }), strips: fc.integer({ min: 1, max: 5 }) }),
      {
        minLength: 2,
        maxLength: 4,
      },
    );
    fc.assert(
      fc.property(runs, fc.integer({ min: 4, max: 20 }), (order, quarters) => {
        const strips = order.flatMap(({ shadeId, strips: count }) =>
          Array.from({ length: count }, () => shadeId),
        );
        const made = runsOfRuffle(order, { fullnessMilli: quarters * 250 });
        if (new Set(strips).size === 1) return;
        const laid = made.flatMap(({ shadeId, strips: count }) =>
          Array.from({ length: count }, () => shadeId),
        );
        laid.forEach((shadeId, at) => {
          const above = ((at + 0.5) * 4) / quarters;
          // A strip that lies half under either colour may have either.
          const either = [Math.floor(above), Math.ceil(above) - 1].map(
            (strip) => strips[strip % strips.length],
          );
          expect(either).toContain(shadeId);
        });
      }),
      { seed: 11, numRuns: 300 },
    );
  });
});

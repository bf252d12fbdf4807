import { describe, expect, it } from 'vitest';
import { lengthsByMass } from '../../../src/dye/splitting.ts';
import { mixedLots, undyedLotWarnings } from '../../../src/dye/undyed-lots.ts';

const piece = (lengthTicks: number, massMg: number) => ({ lengthTicks, massMg });
const told = (baths: ReturnType<typeof lengthsByMass>) =>
  baths.map((bath) => bath.map(({ piece: of, lengthTicks }) => [of, lengthTicks]));

describe('lengths of baths by mass', () => {
  it('fill bath after bath from piece after piece, so that few pieces are cut through', () => {
    // 300 g and 100 g over two baths of 200 g: only the first piece is cut, at two thirds of its length.
    expect(told(lengthsByMass([piece(3000, 300), piece(1000, 100)], [1, 1], false))).toEqual([
      [[0, 2000]],
      [
        [0, 1000],
        [1, 1000],
      ],
    ]);
  });

  it('go by shares of unlike pots', () => {
    expect(told(lengthsByMass([piece(3000, 300)], [2, 1], false))).toEqual([[[0, 2000]], [[0, 1000]]]);
  });

  it('spread every piece over every bath where cloths take the dye unlike', () => {
    expect(told(lengthsByMass([piece(3000, 300), piece(1000, 100)], [1, 1], true))).toEqual([
      [
        [0, 1500],
        [1, 500],
      ],
      [
        [0, 1500],
        [1, 500],
      ],
    ]);
  });

  it('lose and make no length, whatever the masses', () => {
    // A linear congruential generator, so that each run is the same.
    let seed = 7;
    const random = (most: number) => {
      seed = (seed * 1_103_515_245 + 12_345) % 2_147_483_648;
      return 1 + (seed % most);
    };
    for (let round = 0; round < 300; round += 1) {
      const pieces = Array.from({ length: random(5) }, () => piece(random(100_000), random(5000)));
      const shares = Array.from({ length: random(6) }, () => random(20));
      const baths = lengthsByMass(pieces, shares, round % 2 === 0);
      pieces.forEach(({ lengthTicks }, at) => {
        const of = baths.flat().filter((length) => length.piece === at);
        expect(of.reduce((sum, length) => sum + length.lengthTicks, 0)).toBe(lengthTicks);
        expect(of.every((length) => length.lengthTicks > 0)).toBe(true);
      });
      if (round % 2 === 1) {
        // As many cuts as baths less one at most.
        expect(baths.flat().length).toBeLessThanOrEqual(pieces.length + shares.length - 1);
      }
    }
  });
});

describe('undyed lots in one bath', () => {
  const of = (lotCode: string, name = 'Organza') => ({ lotCode, cloth: { name } });

  it('are told with their bath and cloth', () => {
    expect(
      mixedLots([
        [of('L1'), of('L1')],
        [of('L1'), of('L2'), of('L9', 'Net')],
      ]),
    ).toEqual([{ bath: 2, cloth: 'Organza', lots: ['L1', 'L2'] }]);
  });

  it('are warned of, and one lot a cloth is not', () => {
    expect(undyedLotWarnings([[of('L1'), of('L9', 'Net')]])).toEqual([]);
    const [warning] = undyedLotWarnings([[of('L1'), of('L2')]]);
    expect(warning?.text).toContain('The bath holds Organza of lots L1 and L2');
  });
});

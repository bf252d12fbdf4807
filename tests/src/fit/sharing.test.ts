import { describe, expect, it } from 'vitest';
import type { Claim, ShadeSupply } from '../../../src/fit/sharing.ts';
import { shareOut } from '../../../src/fit/sharing.ts';
import type { LotRule } from '../../../src/garment/band.ts';
import { cm, m } from '../../lengths.ts';

const WIDTH = cm(147);
let lastPiece = 0;

/** A free piece of the full width. */
function piece(lotId: number, lengthTicks: number) {
  lastPiece += 1;
  return { pieceId: lastPiece, lotId, usableWidthTicks: WIDTH, lengthTicks };
}

/** A garment that wants strips of the full width. */
function claim(
  garment: string,
  strips: number,
  depthTicks: number,
  lots: LotRule = 'one',
  tierId = lastPiece,
): Claim<string> {
  const size = { depthTicks, lengthTicks: WIDTH, direction: 'across' as const };
  const demand = { tierId, ...size, count: strips };
  const need = { clothId: 1, shadeId: 1, lots, demands: [demand], strips };
  return { garment, need, cut: [], held: [] };
}

function offer(free: ShadeSupply['free'], onOrderTicks = 0): ShadeSupply {
  return { free, usableWidthTicks: WIDTH, onOrderTicks };
}

describe('what is free, shared out', () => {
  it('goes to the first garment first, and what it leaves to the next', () => {
    // 1 m gives three strips of 30 cm: two for the first, one for the second, which lacks one.
    const { shares, figures } = shareOut(
      [claim('first', 2, cm(30)), claim('second', 2, cm(30))],
      offer([piece(1, m(1))]),
    );
    expect(shares.map(({ short }) => [short.freeStrips, short.shortStrips])).toEqual([
      [2, 0],
      [1, 1],
    ]);
    expect(shares.map(({ takenTicks }) => takenTicks)).toEqual([0, cm(60)]);
    expect(figures).toMatchObject({ wantedStrips: 4, freeStrips: 3, shortStrips: 1, shortTicks: cm(30) });
  });

  it('lets each garment have a lot of its own where each wants one lot', () => {
    const { shares, figures } = shareOut(
      [claim('first', 3, cm(30)), claim('second', 3, cm(30))],
      offer([piece(1, m(1)), piece(2, m(1))]),
    );
    expect(shares.map(({ short }) => short.freeLotIds)).toEqual([[1], [2]]);
    expect(figures).toMatchObject({ shortStrips: 0, freeLotIds: [1, 2], freeTicks: m(2), elsewhereTicks: 0 });
  });

  it('counts two remnants of 0.7 m as no strip of 1.3 m depth', () => {
    const { figures } = shareOut(
      [claim('one', 1, m('1.3'))],
      offer([piece(1, m('0.7')), piece(1, m('0.7'))]),
    );
    expect(figures).toMatchObject({
      freeStrips: 0,
      freeTicks: m('1.4'),
      shortStrips: 1,
      shortTicks: m('1.3'),
    });
  });

  it('counts 4 m and 5 m of two lots as 5 m where one lot is wanted', () => {
    const free = [piece(1, m(4)), piece(2, m(5))];
    const { figures } = shareOut([claim('one', 8, m(1))], offer(free));
    expect(figures).toMatchObject({
      freeStrips: 5,
      freeTicks: m(5),
      freeLotIds: [2],
      elsewhereStrips: 3,
      elsewhereTicks: m(4),
      shortStrips: 3,
      shortTicks: m(3),
      oneLotTicks: m(8),
    });
    expect(shareOut([claim('any', 8, m(1), 'any')], offer(free)).figures.shortStrips).toBe(0);
  });

  it('gets what is missing of two garments together, so that they share a cut length', () => {
    // Three columns of 49 cm in 147 cm: one strip each for two garments is one cut length of 30 cm, not two.
    const narrow = (garment: string, tierId: number): Claim<string> => {
      const size = { depthTicks: cm(30), lengthTicks: cm(49), direction: 'across' as const };
      const demand = { tierId, ...size, count: 1 };
      const need = { clothId: 1, shadeId: 1, lots: 'one' as const, demands: [demand], strips: 1 };
      return { garment, need, cut: [], held: [] };
    };
    const { shares, figures } = shareOut([narrow('first', 1), narrow('second', 2)], offer([]));
    expect(shares.map(({ short }) => short.shortTicks)).toEqual([cm(30), cm(30)]);
    expect(figures).toMatchObject({ shortStrips: 2, shortTicks: cm(30), oneLotTicks: null });
  });

  it('counts what is on order once for all garments, and orders only the rest', () => {
    const { figures } = shareOut([claim('first', 2, cm(30)), claim('second', 2, cm(30))], offer([], cm(95)));
    expect(figures).toMatchObject({
      shortStrips: 4,
      onOrderStrips: 3,
      toOrderStrips: 1,
      toOrderTicks: cm(30),
    });
  });

  it('says nothing of one lot where nothing at all is there to match', () => {
    expect(shareOut([claim('one', 2, cm(30))], offer([])).figures.oneLotTicks).toBeNull();
  });
});

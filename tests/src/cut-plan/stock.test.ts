import { describe, expect, it } from 'vitest';
import type { Flaw } from '../../../src/cut-plan/job.ts';
import {
  flawsBehind,
  flawsSeenFrom,
  flawsWithin,
  jobOfStock,
  USUAL_WAYS,
} from '../../../src/cut-plan/stock.ts';
import { readLength } from '../../../src/quantity/length.ts';

function ticks(text: string): number {
  const read = readLength(text, 'cm');
  if (!read.ok) throw new Error(read.reason);
  return read.value;
}

function flaw(from: string, to: string, left: string, right: string): Flaw {
  return { fromTicks: ticks(from), toTicks: ticks(to), leftTicks: ticks(left), rightTicks: ticks(right) };
}

describe('the usual ways of cutting', () => {
  it('keep half a metre and have a table of three metres', () => {
    expect(USUAL_WAYS).toEqual({ usefulTicks: ticks('50'), tableTicks: ticks('3 m'), flaws: 'straddle' });
  });
});

describe('flaws', () => {
  const flaws = [flaw('90', '95', '0', '10'), flaw('10', '30', '100', '160'), flaw('40', '42', '150', '155')];

  it('are cut to a piece, the nearest to its free end first', () => {
    expect(flawsWithin(flaws, ticks('92'), ticks('147'))).toEqual([
      flaw('10', '30', '100', '147'),
      flaw('90', '92', '0', '10'),
    ]);
  });

  it('come nearer by what is cut off before them, and go with it', () => {
    expect(flawsBehind(flaws, ticks('20'))).toEqual([
      flaw('70', '75', '0', '10'),
      flaw('0', '10', '100', '160'),
      flaw('20', '22', '150', '155'),
    ]);
    expect(flawsBehind(flaws, ticks('42'))).toHaveLength(1);
  });

  it('are seen from a line further along with places below 0 for what lies before it', () => {
    expect(flawsSeenFrom(flaws.slice(0, 2), ticks('20'))).toEqual([
      { ...flaw('70', '75', '0', '10') },
      { ...flaw('0', '10', '100', '160'), fromTicks: -ticks('10') },
    ]);
  });
});

describe('the job of a need', () => {
  it('joins what is free and held of a piece, and leaves out lots that do not match what is cut', () => {
    const stretch = (pieceId: number, lotId: number, length: string) => ({
      pieceId,
      lotId,
      usableWidthTicks: ticks('147'),
      lengthTicks: ticks(length),
    });
    const demand = { lengthTicks: ticks('49'), depthTicks: ticks('30'), direction: 'across' as const };
    const job = jobOfStock({
      demands: [
        { ...demand, tierId: 7, count: 0 },
        { ...demand, tierId: 8, count: 4 },
      ],
      lots: 'one',
      meets: [],
      fixedLotIds: [3],
      stretches: [stretch(1, 3, '40'), stretch(2, 4, '500'), stretch(1, 3, '60')],
      ways: USUAL_WAYS,
    });
    expect(job.kinds).toMatchObject([{ kindId: 1, count: 4, lots: 'one' }]);
    expect(job.pieces).toMatchObject([{ pieceId: 1, lotId: 3, lengthTicks: ticks('1 m'), count: 1 }]);
  });
});

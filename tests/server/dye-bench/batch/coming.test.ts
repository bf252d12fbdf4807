import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readDyeablePieces } from '../../../../server/dye-bench/batch/dyeable.ts';
import { readDyeing } from '../../../../server/dye-bench/batch/dyeing.ts';
import { readPlannedOf } from '../../../../server/dye-bench/batch/plan-rows.ts';
import { holdLength } from '../../../../server/ledger/verbs.ts';
import { m } from '../../../lengths.ts';
import { makeBolt, makeTier, openTestHouse, type TestHouse } from '../../support.ts';
import { finish, furnish, plan, start, undo } from '../recipe/making.ts';

let house: TestHouse;
beforeAll(async () => {
  house = await openTestHouse();
});
afterAll(() => house.shut());

/** What is expected back, in all and length by length. */
function inLengths(...ticks: readonly number[]) {
  return {
    lengthTicks: ticks.reduce((sum, length) => sum + length, 0),
    lengths: ticks.map((lengthTicks) => ({ lengthTicks, usableWidthTicks: m('1.47') })),
  };
}

describe('what other rooms are told', () => {
  it('is what planned batches and those in the pot are expected to give, until it is back', async () => {
    const { piece, stock, moss, recipeId, vesselId } = await furnish(house, '10 m', 0, '9');
    const other = house.write((tx) => makeBolt(tx, stock.lotId, '5 m'));
    const lengths = { [piece.code]: '4', [other.code]: '2' };
    const code = await plan(house, { recipeId, vesselId, lengths });
    const coming = { clothId: stock.clothId, shadeId: moss, code };
    // 4 m and 2 m less 2.5 % are 3.9 m and 1.95 m.
    const both = inLengths(m('3.9'), m('1.95'));
    expect(readDyeing(house.book)).toEqual([{ ...coming, ...both, inPot: false }]);
    expect(readPlannedOf(house.book, [piece.id, other.id])).toEqual(
      new Map([
        [piece.id, m(4)],
        [other.id, m(2)],
      ]),
    );
    const started = await start(house, code);
    expect(readDyeing(house.book)).toEqual([{ ...coming, ...both, inPot: true }]);
    expect(readPlannedOf(house.book, [piece.id, other.id]).size).toBe(0);
    const finished = await finish(house, code, ['3.9', '']);
    expect(readDyeing(house.book)).toEqual([{ ...coming, ...inLengths(m('1.95')), inPot: true }]);
    await finish(house, code, ['1.9']);
    expect(readDyeing(house.book)).toEqual([]);
    await undo(house, finished);
    expect(readDyeing(house.book)).toEqual([{ ...coming, ...inLengths(m('3.9')), inPot: true }]);
    expect((await undo(house, started)).status).toBe(409);
  });

  it('is the free length of undyed grounds, less what is held', () => {
    const { stock, piece } = house.write((tx) => {
      const lot = tx.first(
        tx.db
          .selectFrom('lot')
          .innerJoin('shade', 'shade.id', 'lot.shade_id')
          .select(['lot.id', 'lot.cloth_id', 'lot.shade_id'])
          .where('shade.ground', '=', 1),
      );
      if (!lot) throw new Error('there is no ground');
      const made = { clothId: lot.cloth_id, shadeId: lot.shade_id, lotId: lot.id };
      return { stock: made, piece: makeBolt(tx, made.lotId, '8 m') };
    });
    house.write((tx) => holdLength(tx, piece.id, makeTier(tx, stock), { lengthTicks: m(3), typed: '3 m' }));
    const found = readDyeablePieces(house.book, { clothIds: [stock.clothId] });
    expect(found.find(({ id }) => id === piece.id)).toMatchObject({ freeTicks: m(5), ground: true });
    expect(readDyeablePieces(house.book, { clothIds: [] })).toEqual([]);
  });
});

import { holdLength } from '../../../../server/ledger/verbs.ts';
import { newKey, type TestHouse } from '../../support.ts';
import type { OnTable } from '../tier/tier.ts';

/** Equal strips of a tier in a lay: lengths in ticks. */
export interface Run {
  readonly tierId: number;
  readonly depth: number;
  readonly length: number;
  readonly left: number;
  readonly columns: number;
  readonly stack?: number;
  readonly strips?: number;
}

export interface LayWanted {
  readonly pieceId: number;
  readonly from: number;
  readonly height: number;
  readonly runs: readonly Run[];
  /** how much of its length is held for each of its tiers, in the order in which they first come */
  readonly parts: readonly number[];
}

/** Holds lays as a plan of the garment; gives their numbers. */
export function holdLays(house: TestHouse, table: OnTable, lays: readonly LayWanted[]): number[] {
  const ids: number[] = [];
  house.book.write({ key: newKey(), asked: null, personId: 1 }, (tx) => {
    const garment = tx.first(tx.db.selectFrom('garment').select('id').where('code', '=', table.code));
    const { lastId: planId } = tx.run(
      tx.db.insertInto('cut_plan').values({
        garment_id: garment?.id ?? 0,
        cloth_id: table.stock.clothId,
        shade_id: table.stock.shadeId,
        held_key: tx.requestKey,
        job_hash: 'a'.repeat(64),
        wish: 'least length',
        short_strips: 0,
        charged_ticks: 0,
        charged_area: 0,
        bound_area: 0,
        bound_over: 'all lots',
      }),
    );
    lays.forEach((lay, i) => {
      const { lastId } = tx.run(
        tx.db.insertInto('cut_lay').values({
          plan_id: planId,
          position: i + 1,
          piece_id: lay.pieceId,
          from_ticks: lay.from,
          length_ticks: lay.height,
          slit_into: JSON.stringify(lay.runs.map(asSlit)),
        }),
      );
      ids.push(lastId);
      const tierIds = [...new Set(lay.runs.map(({ tierId }) => tierId))];
      tierIds.forEach((tierId, place) => {
        const own = lay.runs.filter((run) => run.tierId === tierId);
        const lengthTicks = lay.parts[place] ?? 0;
        tx.run(
          tx.db.insertInto('cut_lay_tier').values({
            lay_id: lastId,
            tier_id: tierId,
            strips: own.reduce((sum, run) => sum + asSlit(run).strips, 0),
            length_ticks: lengthTicks,
          }),
        );
        holdLength(tx, lay.pieceId, tierId, { lengthTicks, typed: '' });
      });
    });
    return { location: '/', said: 'Held.' };
  });
  return ids;
}

function asSlit({ tierId, depth, length, left, columns, stack = 1, strips = columns * stack }: Run) {
  return {
    tierId,
    depthTicks: depth,
    lengthTicks: length,
    turned: false,
    leftTicks: left,
    acrossTicks: length,
    alongTicks: depth,
    columns,
    stack,
    strips,
  };
}

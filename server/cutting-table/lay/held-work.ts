import { METRIC } from '../../../src/quantity/length-show.ts';
import { readHeldPlans } from '../../cut-plans/store.ts';
import type { Reader } from '../../database/book.ts';
import { keptUntilWritten } from '../../database/kept.ts';
import { readWorkroom } from '../../kit/workroom.ts';
import { isToCut, layOfPiece, readGarmentAtTable } from './held-lays.ts';
import { tableMinutes } from './table-ways.ts';

/** What is still to be cut by the held plans of a garment: strips, and whole minutes at the table. */
export interface HeldWork {
  readonly strips: number;
  readonly minutes: number;
}

const workOf = keptUntilWritten((reader, code: string): HeldWork => {
  const { usefulRemnantTicks } = readWorkroom(reader);
  // Only the reasons why a lay falls out are in units, and none of them is told here.
  const plans = readGarmentAtTable(reader, code, METRIC).plans.map(({ lays, table }) => {
    const toCut = lays.filter(isToCut);
    const strips = toCut.flatMap(({ lay }) => lay.slits.map((slit) => slit.strips));
    return {
      strips: strips.reduce((sum, count) => sum + count, 0),
      minutes: tableMinutes(
        toCut.map((lay) => layOfPiece(lay, usefulRemnantTicks)),
        table,
      ).minutes,
    };
  });
  return plans.reduce(
    (sum, plan) => ({ strips: sum.strips + plan.strips, minutes: sum.minutes + plan.minutes }),
    { strips: 0, minutes: 0 },
  );
});

/** The held work of garments, by their numbers; those without a lay to cut are left out. */
export function readHeldWork(
  reader: Reader,
  garments: readonly { readonly id: number; readonly code: string }[],
): Map<number, HeldWork> {
  const plans = readHeldPlans(
    reader,
    garments.map(({ id }) => id),
  );
  const open = new Set(
    plans.flatMap(({ garmentId, lays }) => (lays.some(({ state }) => state !== 'cut') ? [garmentId] : [])),
  );
  return new Map(
    garments
      .filter(({ id }) => open.has(id))
      .map(({ id, code }): [number, HeldWork] => [id, workOf(reader, code)])
      .filter(([, { strips }]) => strips > 0),
  );
}

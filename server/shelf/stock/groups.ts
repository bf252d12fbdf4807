import type { Units } from '../../../src/quantity/length-show.ts';
import { address } from '../../kit/address.ts';
import { shadeChip } from '../../kit/chip.ts';
import { sayLot } from '../../kit/choices.ts';
import { clothPath, lotPath, shadePath } from '../../kit/paths.ts';
import { type PieceRecord, type PieceRow, shapeTotals, type Totals } from '../piece/list.ts';
import { type LotSums, sumUp } from './lots.ts';

/**
 * Groups ordered pieces by shade or cloth, then lot. The totals are those of the whole group, also where the page
 * ends within it.
 */
export function groupPieces(
  rows: readonly PieceRecord[],
  pieces: readonly PieceRow[],
  by: 'shade' | 'cloth',
  read: { readonly units: Units; readonly lots: readonly LotSums[] },
) {
  if (rows.length === 0) return [];
  const idOf = (row: PieceRecord) => (by === 'shade' ? row.shade_id : row.cloth_id);
  const totalsOf = (isOf: (lot: LotSums) => boolean) =>
    shapeTotals(sumUp(read.lots.filter(isOf)), read.units);
  return runs(rows, idOf).map((run) => {
    const [first] = run;
    return {
      ...headingOf(first, by),
      totals: totalsOf((lot) => (by === 'shade' ? lot.shadeId : lot.clothId) === idOf(first)),
      lots: runs(run, (row) => row.lot_id).map((lotRun) =>
        shapeLot(
          lotRun,
          pieces,
          totalsOf(({ lotId }) => lotId === lotRun[0].lot_id),
        ),
      ),
    };
  });
}

/** All of one shade or of one cloth that the shelf has. */
export type Group = ReturnType<typeof groupPieces>[number];

function headingOf(row: PieceRecord, by: 'shade' | 'cloth') {
  return by === 'shade'
    ? {
        name: row.name,
        href: shadePath(row.shade_id),
        chip: shadeChip(row, { href: shadePath(row.shade_id) }),
      }
    : { name: row.cloth_name, href: clothPath(row.cloth_id), chip: null };
}

/** One lot of it: what can be used together without a difference in shade. */
function shapeLot(run: Run<PieceRecord>, pieces: readonly PieceRow[], totals: Totals) {
  const [row] = run;
  const ids = new Set(run.map(({ id }) => id));
  return {
    code: row.lot_code,
    said: sayLot({ code: row.lot_code, origin: row.origin, mill_lot: row.mill_lot }),
    href: lotPath(row.lot_code),
    cloth: { name: row.cloth_name, href: clothPath(row.cloth_id) },
    chip: shadeChip(row, { href: address('/shelf', { shade: row.shade_id }) }),
    totals,
    pieces: pieces.filter(({ id }) => ids.has(id)),
  };
}

type Run<T> = [T, ...T[]];

/** Neighbours that belong together. */
function runs<T>(rows: readonly T[], idOf: (row: T) => number): Run<T>[] {
  const found: Run<T>[] = [];
  for (const row of rows) {
    const last = found.at(-1);
    if (last && idOf(last[0]) === idOf(row)) last.push(row);
    else found.push([row]);
  }
  return found;
}

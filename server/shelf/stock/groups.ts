import type { Units } from '../../../src/quantity/length-show.ts';
import { address } from '../../kit/address.ts';
import { shadeChip } from '../../kit/chip.ts';
import { sayLot } from '../../kit/choices.ts';
import { clothPath, lotPath, shadePath } from '../../kit/paths.ts';
import { type PieceRecord, type PieceRow, shapeTotals, type Totals } from '../piece/list.ts';
import type { LotSums, LotsInOrder } from './kept-lots.ts';
import { sumUp } from './lots.ts';

/**
 * Groups ordered pieces by shade or cloth, then lot. The totals are those of the whole group, also where the page
 * ends within it.
 */
export function groupPieces(
  rows: readonly PieceRecord[],
  pieces: readonly PieceRow[],
  by: 'shade' | 'cloth',
  read: { readonly units: Units; readonly lots: LotsInOrder },
) {
  if (rows.length === 0) return [];
  const idOf = (row: PieceRecord) => (by === 'shade' ? row.shade_id : row.cloth_id);
  const lotsOf = by === 'shade' ? read.lots.byShade : read.lots.byCloth;
  const shaped = new Map(pieces.map((piece) => [piece.id, piece]));
  const totalsOf = (lots: readonly LotSums[]) => shapeTotals(sumUp(lots), read.units);
  return runs(rows, idOf).map((run) => {
    const lots = lotsOf.get(idOf(run[0])) ?? [];
    return {
      ...headingOf(run[0], by),
      totals: totalsOf(lots),
      lots: runs(run, (row) => row.lot_id).map((lotRun) =>
        shapeLot(lotRun, shaped, totalsOf(lots.filter(({ lotId }) => lotId === lotRun[0].lot_id))),
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
function shapeLot(run: Run<PieceRecord>, pieces: ReadonlyMap<number, PieceRow>, totals: Totals) {
  const [row] = run;
  return {
    code: row.lot_code,
    said: sayLot({ code: row.lot_code, origin: row.origin, mill_lot: row.mill_lot }),
    href: lotPath(row.lot_code),
    cloth: { name: row.cloth_name, href: clothPath(row.cloth_id) },
    chip: shadeChip(row, { href: address('/shelf', { shade: row.shade_id }) }),
    totals,
    pieces: run.flatMap(({ id }) => pieces.get(id) ?? []),
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

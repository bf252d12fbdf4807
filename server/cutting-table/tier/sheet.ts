import type { TierCut } from '../../../src/fit/tier-cuts.ts';
import { showLength, type Units } from '../../../src/quantity/length-show.ts';
import type { PieceRow } from '../../shelf/piece/list.ts';

/** One piece on the printed cut sheet, with a box to tick for every strip. */
export interface SheetRow {
  readonly code: string;
  readonly place: string;
  readonly lot: string;
  readonly from: 'held' | 'free';
  readonly strips: number;
  readonly drops: number;
  readonly columns: number;
  readonly length: string;
  /** boxes in groups: a drop each where it gives several strips, else five strips each */
  readonly groups: readonly { readonly from: number; readonly to: number }[];
}

const STRIPS_A_GROUP = 5;

/** The planned cuts of a shade of which `cutStrips` are cut already. */
export function shapeSheet(
  cuts: readonly TierCut[],
  cutStrips: number,
  pieces: ReadonlyMap<number, PieceRow>,
  units: Units,
): SheetRow[] {
  let counted = cutStrips;
  return cuts.flatMap((cut): SheetRow[] => {
    const piece = pieces.get(cut.pieceId);
    if (!piece) return [];
    const from = counted;
    counted += cut.strips;
    return [
      {
        code: piece.code,
        place: piece.place,
        lot: piece.lot.code,
        from: cut.from,
        strips: cut.strips,
        drops: cut.drops,
        columns: cut.columns,
        length: showLength(cut.lengthTicks, units, 'up'),
        groups: groupsOf(from, cut.strips, cut.columns > 1 ? cut.columns : STRIPS_A_GROUP),
      },
    ];
  });
}

/** Strips are numbered through a shade, so that a sheet can be talked about and agrees with the bench. */
function groupsOf(before: number, strips: number, size: number) {
  const groups = Math.floor((strips + size - 1) / size);
  return Array.from({ length: groups }, (_, place) => ({
    from: before + place * size + 1,
    to: before + Math.min(strips, (place + 1) * size),
  }));
}

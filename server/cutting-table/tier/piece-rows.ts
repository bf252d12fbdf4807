import { columnsAcross, lengthForStrips, stripsInStretch } from '../../../src/fit/cut-length.ts';
import { type FreeForTier, mayUseLot } from '../../../src/fit/tier-cuts.ts';
import { showLength, type Units } from '../../../src/quantity/length-show.ts';
import { writeLength } from '../../../src/quantity/written-length.ts';
import type { HeldFor } from '../../garments/garment/done.ts';
import { cutPath, holdPath, releasePath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { PieceRow } from '../../shelf/piece/list.ts';
import { sayStrips } from './piece-card.ts';
import type { Sources } from './sources.ts';
import type { ShadeAtTable, TierAtTable } from './table.ts';

/** A piece of which the tier holds some. */
export type HeldRow = ReturnType<typeof shapeHeldRows>[number];

export function shapeHeldRows(
  table: TierAtTable,
  shade: ShadeAtTable | null,
  row: HeldFor,
  pieces: ReadonlyMap<number, PieceRow>,
  units: Units,
) {
  const piece = pieces.get(row.pieceId);
  if (!piece) return [];
  const [code, tierId] = [table.garment.code, table.tier.id];
  const size = { widthTicks: row.usableWidthTicks, lengthTicks: row.lengthTicks };
  const strips = shade ? stripsInStretch(shade, size) : 0;
  return [
    {
      piece,
      heldTicks: row.lengthTicks,
      held: showLength(row.lengthTicks, units, 'down'),
      /** strips that fit into what is held */
      strips,
      gives: shade ? sayStrips(strips, columnsAcross(shade, row.usableWidthTicks)) : '',
      /** '' where nothing can be cut from it now */
      cutHref: shade && table.closed === '' && shade.leftStrips > 0 ? cutPath(code, tierId, piece.code) : '',
      release: {
        action: releasePath(code, tierId),
        requestKey: mintKey(),
        length: writeLength(row.lengthTicks, units),
      },
    },
  ];
}

/** A free piece that gives at least one strip. */
export function shapeFreeRows(
  table: TierAtTable,
  { shade, missingStrips }: Sources,
  row: FreeForTier,
  pieces: ReadonlyMap<number, PieceRow>,
  units: Units,
) {
  const piece = pieces.get(row.pieceId);
  if (!piece) return [];
  const [code, tierId] = [table.garment.code, table.tier.id];
  const lengthTicks = lengthForStrips(
    shade,
    { widthTicks: row.usableWidthTicks, lengthTicks: row.lengthTicks },
    missingStrips,
  );
  return [
    {
      piece,
      strips: row.strips,
      gives: sayStrips(row.strips, columnsAcross(shade, row.usableWidthTicks)),
      lotNote: row.lotNote,
      cutHref: cutPath(code, tierId, piece.code),
      holdHref: holdPath(code, tierId, piece.code),
      /** null where nothing more is wanted, or another lot would have to meet those in use */
      hold:
        lengthTicks > 0 && mayUseLot(shade, row.lotId)
          ? {
              action: holdPath(code, tierId),
              requestKey: mintKey(),
              length: writeLength(lengthTicks, units),
            }
          : null,
    },
  ];
}

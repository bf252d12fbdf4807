import { showLength } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { countOf } from '../../kit/words.ts';
import { readHolds } from '../../ledger/state.ts';
import { findPiece } from '../../shelf/piece/facts.ts';
import { selectPieces, shapeShelfPieces } from '../../shelf/piece/list.ts';
import { readNeeded } from '../../short/spare.ts';
import type { Asker } from '../../web/house.ts';
import type { TierAtTable } from './table.ts';

/** The piece that a form is about, with who holds what of it. */
export type PieceCard = NonNullable<ReturnType<typeof shapePieceCard>>;

/** null where no piece is named, or there is none of that code. */
export function shapePieceCard(reader: Reader, table: TierAtTable, named: string, asker: Asker) {
  const found = named === '' ? undefined : findPiece(reader, named);
  if (!found) return null;
  const [piece] = shapeShelfPieces(
    reader,
    reader.all(selectPieces(reader.db).where('piece.id', '=', found.id)),
    asker.units,
    readNeeded(reader),
  );
  if (!piece) return null;
  const holds = readHolds(reader, found.id);
  const heldHereTicks = holds.find(({ tierId }) => tierId === table.tier.id)?.heldTicks ?? 0;
  return {
    piece,
    /** what this tier holds of it; '' for nothing */
    heldHere: heldHereTicks === 0 ? '' : showLength(heldHereTicks, asker.units, 'down'),
    heldHereTicks,
    /** what others hold of it, a sentence each */
    holds: holds
      .filter(({ tierId }) => tierId !== table.tier.id)
      .map(
        ({ heldTicks, heldFor }) => `${showLength(heldTicks, asker.units, 'down')} is held for ${heldFor}`,
      ),
  };
}

/** "8 strips, 3 a length". */
export function sayStrips(strips: number, columns: number): string {
  const count = countOf(strips, 'strip', 'strips');
  return columns > 1 ? `${count}, ${columns} a length` : count;
}

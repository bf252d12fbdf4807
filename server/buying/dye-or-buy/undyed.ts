import { afterShrinkage, lengthToPrepareTicks } from '../../../src/dye/bath.ts';
import { fitStrips } from '../../../src/fit/strips.ts';
import type { StripDemand } from '../../../src/garment/need.ts';
import { costOf } from '../../../src/quantity/money.ts';
import type { Reader } from '../../database/book.ts';
import { type DyeablePiece, readDyeablePieces } from '../../dye-bench/batch/dyeable.ts';
import type { TypedLength } from '../../dye-bench/batch/plan.ts';
import { readPlannedOf } from '../../dye-bench/batch/plan-rows.ts';
import { readNeeded } from '../../short/spare.ts';

/** Undyed lengths that give some strips once they are dyed. */
export interface UndyedLengths {
  readonly lengths: readonly TypedLength[];
  readonly strips: number;
  readonly missingStrips: number;
  readonly lotCodes: readonly string[];
  /** what the lengths cost as they lie, in minor units */
  readonly clothMinor: number;
}

/** An undyed piece and how much of it nobody wants. */
interface Spare {
  readonly piece: DyeablePiece;
  readonly spareTicks: number;
}

/** What lies undyed of a cloth: free, needed undyed by no garment, and wanted by no planned batch. */
export function readSpareUndyed(reader: Reader, clothId: number): Spare[] {
  const pieces = readDyeablePieces(reader, { clothIds: [clothId] });
  const shadeIds = [...new Set(pieces.map(({ shade }) => shade.id))];
  const needed = readNeeded(reader, { of: { clothIds: [clothId], shadeIds } });
  const planned = readPlannedOf(
    reader,
    pieces.map(({ id }) => id),
  );
  return pieces.flatMap((piece) => {
    const wanted = (needed.ofPieces.get(piece.id)?.neededTicks ?? 0) + (planned.get(piece.id) ?? 0);
    const spareTicks = piece.freeTicks - wanted;
    return spareTicks > 0 ? [{ piece, spareTicks }] : [];
  });
}

/**
 * Which undyed lengths to send for some strips, by whole strips: of one lot where one gives them all, else of any. A
 * piece is cut from its free end for as many strips as it gives, and as much longer as dyeing shrinks it.
 */
export function undyedFor(
  reader: Reader,
  demands: readonly StripDemand[],
  spare: readonly Spare[],
  shrinkageBp: number,
): UndyedLengths {
  const stretches = spare.map(({ piece, spareTicks }) => ({
    pieceId: piece.id,
    lotId: piece.lotId,
    usableWidthTicks: piece.usableWidthTicks,
    lengthTicks: afterShrinkage(spareTicks, shrinkageBp),
  }));
  const ofOne = fitStrips(demands, stretches, 'one');
  const fit = ofOne.missingStrips === 0 ? ofOne : fitStrips(demands, stretches, 'any');
  const lengths = fit.ends.flatMap(({ pieceId, endTicks }): TypedLength[] => {
    const found = spare.find(({ piece }) => piece.id === pieceId);
    if (!found || endTicks === 0) return [];
    const lengthTicks = Math.min(lengthToPrepareTicks(endTicks, shrinkageBp), found.spareTicks);
    return [{ piece: found.piece, lengthTicks, typed: '' }];
  });
  const costs = readCosts(
    reader,
    lengths.map(({ piece }) => piece.id),
  );
  const costOfLength = ({ piece, lengthTicks }: TypedLength) =>
    costOf(lengthTicks, { minor: costs.get(piece.id) ?? 0, perTicks: piece.onHandTicks });
  return {
    lengths,
    strips: fit.madeStrips,
    missingStrips: fit.missingStrips,
    lotCodes: [...new Set(lengths.map(({ piece }) => piece.lotCode))],
    clothMinor: lengths.reduce((sum, length) => sum + costOfLength(length), 0),
  };
}

/** What pieces cost as they lie, by piece, in minor units. */
function readCosts(reader: Reader, pieceIds: readonly number[]): ReadonlyMap<number, number> {
  if (pieceIds.length === 0) return new Map();
  const rows = reader.all(
    reader.db
      .selectFrom('piece')
      .select(['id', 'cost_minor'])
      .where('id', 'in', [...pieceIds]),
  );
  return new Map(rows.map(({ id, cost_minor }) => [id, cost_minor]));
}

import { showLength, type Units } from '../../../src/quantity/length-show.ts';
import type { Tx } from '../../database/book.ts';
import { grouped } from '../../kit/grouped.ts';
import { listed } from '../../kit/words.ts';
import { readWorkroom } from '../../kit/workroom.ts';
import { readPiece, sayLeft } from '../../ledger/state.ts';
import { writeOffLength } from '../../ledger/verbs.ts';
import type { LayAtTable } from './held-lays.ts';

/** The offcut at the end of a piece: shorter than what the workroom keeps, and nobody holds any of it. */
export interface EndOfPiece {
  readonly code: string;
  readonly lengthTicks: number;
}

/** The offcuts that will lie at the end of their pieces once these lays are cut as planned. */
export function endsAfter(lays: readonly LayAtTable[], usefulTicks: number): EndOfPiece[] {
  return [...grouped(lays, ({ piece }) => piece.id).values()].flatMap((ofPiece) => {
    const [{ piece }] = ofPiece as [LayAtTable];
    const takenTicks = sum(ofPiece.map(({ leadTicks, lay }) => leadTicks + lay.lengthTicks));
    const forLays = sum(ofPiece.flatMap(({ lay }) => lay.parts.map(({ lengthTicks }) => lengthTicks)));
    const left = { onHandTicks: piece.on_hand_ticks - takenTicks, heldTicks: piece.held_ticks - forLays };
    return isOffcut(left, usefulTicks) ? [{ code: piece.code, lengthTicks: left.onHandTicks }] : [];
  });
}

function isOffcut(left: { onHandTicks: number; heldTicks: number }, usefulTicks: number): boolean {
  return left.heldTicks <= 0 && left.onHandTicks > 0 && left.onHandTicks < usefulTicks;
}

/** "0.06 m of B12 and 0.1 m of B14"; '' for none. */
export function sayEnds(ends: readonly EndOfPiece[], units: Units): string {
  return listed(ends.map(({ code, lengthTicks }) => `${showLength(lengthTicks, units, 'down')} of ${code}`));
}

/** After lays were cut: writes off what their pieces end in where that was asked for, and says what is left of them. */
export function endLays(
  tx: Tx,
  pieceIds: Iterable<number>,
  asked: { readonly said: string; readonly wasteEnd: boolean; readonly units: Units },
): { said: string; after: string } {
  const ids = [...pieceIds];
  const ends = asked.wasteEnd ? writeOffEnds(tx, ids) : [];
  const off = ends.length > 0 ? ` The offcut at the end was written off: ${sayEnds(ends, asked.units)}.` : '';
  return {
    said: `${asked.said}${off}`,
    after: ids.map((id) => sayLeft(tx, id, asked.units)).join(' '),
  };
}

/** What is left is looked at as it is now, since another length may have been used than was planned. */
function writeOffEnds(tx: Tx, pieceIds: readonly number[]): EndOfPiece[] {
  const { usefulRemnantTicks } = readWorkroom(tx);
  return pieceIds.flatMap((id) => {
    const piece = readPiece(tx, id);
    if (!isOffcut(piece, usefulRemnantTicks)) return [];
    const { code, onHandTicks: lengthTicks } = piece;
    writeOffLength(tx, id, { lengthTicks, typed: '', why: 'offcut after the last lay' });
    return [{ code, lengthTicks }];
  });
}

function sum(ticks: readonly number[]): number {
  return ticks.reduce((total, n) => total + n, 0);
}

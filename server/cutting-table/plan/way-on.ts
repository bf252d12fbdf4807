import { readPlansOnPieces } from '../../cut-plans/store.ts';
import type { Reader } from '../../database/book.ts';
import { planPath } from '../../kit/paths.ts';
import { withWayOn } from '../../refusal.ts';

/** Does what the ledger may refuse of a piece; a conflict then leads to the plan that holds the piece, where lays fall out. */
export function withPlanWayOn<T>(reader: Reader, pieceId: number, work: () => T): T {
  return withWayOn(work, () => {
    const holding = readPlansOnPieces(reader, [pieceId]).find(({ lays }) =>
      lays.some((lay) => lay.pieceId === pieceId && lay.state === 'held'),
    );
    const garment = holding && readCode(reader, holding.garmentId);
    if (!garment) return null;
    return {
      text: `Count it at the cut plan of ${garment}: the lays that do not fit fall out`,
      href: planPath(garment),
    };
  });
}

function readCode(reader: Reader, garmentId: number): string | undefined {
  return reader.first(reader.db.selectFrom('garment').select('code').where('id', '=', garmentId))?.code;
}

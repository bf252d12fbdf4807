import type { Units } from '../../../src/quantity/length-show.ts';
import { readPlansOnPieces } from '../../cut-plans/store.ts';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import { planPath } from '../../kit/paths.ts';
import { wordFor } from '../../kit/words.ts';
import { withWayOn } from '../../refusal.ts';
import { readGarmentAtTable } from '../lay/held-lays.ts';

/** An answer to a change of a piece, with the lays that fall out by it. */
export function withFallenOut(tx: Tx, pieceId: number, units: Units, answer: Answer): Answer {
  return { ...answer, said: `${answer.said}${sayFallenOut(tx, pieceId, units)}` };
}

/**
 * What a change of a piece does to the lays that are planned on it, as a sentence with a space before it; '' where
 * all of them can be cut as before.
 */
function sayFallenOut(reader: Reader, pieceId: number, units: Units): string {
  const garmentIds = [...new Set(readPlansOnPieces(reader, [pieceId]).map(({ garmentId }) => garmentId))];
  if (garmentIds.length === 0) return '';
  const garments = reader.all(
    reader.db.selectFrom('garment').select('code').where('id', 'in', garmentIds).orderBy('id'),
  );
  return garments
    .map(({ code }) => {
      const { plans } = readGarmentAtTable(reader, code, units);
      const lays = plans.flatMap(({ lays: of }) => of).filter(({ lay }) => lay.pieceId === pieceId);
      const out = lays.filter(({ fallsOut }) => fallsOut !== '').length;
      if (out === 0) return '';
      return wordFor(out, ` A lay of ${code} falls out.`, ` ${out} lays of ${code} fall out.`);
    })
    .join('');
}

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

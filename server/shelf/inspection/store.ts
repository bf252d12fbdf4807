import type { HoleRule } from '../../../src/buying/grading.ts';
import type { Reader } from '../../database/book.ts';
import { type Param, prepared } from '../../database/statements.ts';
import { readTyped } from '../../kit/typed.ts';
import { readFoundFlaws, standingInspections } from '../../ledger/inspected.ts';
import { inForce } from '../../ledger/standing.ts';

/** How what comes is judged. */
export interface GradingRule {
  readonly holes: HoleRule;
  /** points in 100 square yards that still pass */
  readonly mostPoints: number;
  /** what may be missing on a length, in hundredths of a percent */
  readonly shortBp: number;
}

/** 40 points is a common pass mark, and the standard sets none; 2.5 % is usual in terms of trade. */
const USUAL: GradingRule = { holes: 'by size', mostPoints: 40, shortBp: 250 };

export function readGradingRule(reader: Reader): GradingRule {
  const row = reader.first(reader.db.selectFrom('grading_rule').selectAll().orderBy('id', 'desc'));
  return row ? { holes: row.holes, mostPoints: row.most_points, shortBp: row.short_bp } : USUAL;
}

/** The newest inspection of each of some pieces; one whose count was undone is none. */
export function readInspections(reader: Reader, pieceIds: readonly number[]): Map<number, Inspection> {
  if (pieceIds.length === 0) return new Map();
  const rows = reader.all(
    selectInspections(reader).where('piece_id', 'in', pieceIds).orderBy('inspection.id'),
  );
  return new Map(rows.map((row) => [row.piece_id, shapeInspection(row)]));
}

function selectInspections(reader: Reader) {
  return standingInspections(reader)
    .innerJoin('person', 'person.id', 'inspection.person_id')
    .selectAll('inspection')
    .select('person.name as by');
}

type InspectionRecord =
  ReturnType<typeof selectInspections> extends { execute(): Promise<(infer R)[]> } ? R : never;

function shapeInspection(row: InspectionRecord) {
  const rule: GradingRule = {
    holes: row.holes as HoleRule,
    mostPoints: row.most_points,
    shortBp: row.short_bp,
  };
  return {
    ...rule,
    id: row.id,
    markedTicks: row.marked_ticks,
    lengthTicks: row.length_ticks,
    widthTicks: row.width_ticks,
    swatch:
      row.swatch_area_mm2 === null || row.swatch_mass_mg === null
        ? null
        : { areaMm2: row.swatch_area_mm2, massMg: row.swatch_mass_mg },
    flaws: readFoundFlaws(row.flaws),
    note: row.note,
    at: row.at,
    by: row.by,
    typed: readTyped(row.typed),
  };
}

/** What was measured and found on a piece that came, and the rules of that day. */
export type Inspection = ReturnType<typeof shapeInspection>;

const usesOf = prepared((db, pieceId: Param<number>) =>
  db
    .selectFrom('entry')
    .select('entry.kind')
    .where('entry.piece_id', '=', pieceId)
    .where('entry.kind', 'not in', ['received', 'recounted', 'held', 'released', 'reversed'])
    .where(inForce('entry')),
);

/** Whether lengths of a piece were taken off or added since it came, so that what came cannot be told any more. */
export function isUsed(
  reader: Reader,
  piece: { readonly id: number; readonly onHandTicks: number },
): boolean {
  const used = reader.first(usesOf(piece.id));
  return used !== undefined || piece.onHandTicks === 0;
}

/** Whether a piece came with a delivery and is still as it came, so that it can be inspected. */
export function canBeInspected(reader: Reader, piece: { readonly id: number; readonly onHandTicks: number }) {
  return reader.first(receiptOf(piece.id)) !== undefined && !isUsed(reader, piece);
}

const receiptOf = prepared((db, pieceId: Param<number>) =>
  db.selectFrom('entry').select('id').where('piece_id', '=', pieceId).where('kind', '=', 'received'),
);

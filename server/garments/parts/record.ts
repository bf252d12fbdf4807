import type { LengthUnit } from '../../../src/quantity/length.ts';
import type { Reader } from '../../database/book.ts';
import { inList, type Param, prepared } from '../../database/statements.ts';
import { readTyped, type Typed } from '../../kit/typed.ts';

/** What the strips of one size of a part are held and cut for. */
export interface PartRow {
  readonly id: number;
  /** '' for the main size */
  readonly size: string;
}

/** A part that is kept with a garment, as it was asked. */
export interface KeptPart {
  readonly id: number;
  /** what its strips are held and cut for, among the tiers, by size; none where the book had no cloth yet */
  readonly rows: readonly PartRow[];
  readonly kind: string;
  readonly name: string;
  /** of the bare numbers in what was asked */
  readonly unit: LengthUnit;
  readonly asked: Typed;
  /** how many alike */
  readonly pieces: number;
  /** null takes the garment's, as `garmentClothOf` has it */
  readonly clothId: number | null;
  readonly shadeId: number | null;
  readonly takenOutAt: string | null;
  readonly version: number;
  readonly changedAt: string;
  readonly changedBy: string | null;
}

const partsOf = prepared((db, garmentIds: Param<readonly number[]>) =>
  db
    .selectFrom('garment_part')
    .leftJoin('person', 'person.id', 'garment_part.changed_by_id')
    .select([
      'garment_part.garment_id as garmentId',
      'garment_part.id',
      'garment_part.kind',
      'garment_part.name',
      'garment_part.unit',
      'garment_part.asked',
      'garment_part.pieces',
      'garment_part.cloth_id as clothId',
      'garment_part.shade_id as shadeId',
      'garment_part.taken_out_at as takenOutAt',
      'garment_part.version',
      'garment_part.changed_at as changedAt',
      'person.name as changedBy',
    ])
    .where('garment_part.garment_id', 'in', inList(garmentIds))
    .orderBy('garment_part.id'),
);

const rowsOf = prepared((db, garmentIds: Param<readonly number[]>) =>
  db
    .selectFrom('tier')
    .select(['id', 'part_size as size', 'garment_part_id as partId'])
    .where('garment_id', 'in', inList(garmentIds))
    .where('garment_part_id', 'is not', null)
    .orderBy('id'),
);

/** All parts that are kept with garments, those taken out included, in the order in which they were added. */
export function readPartsOf(reader: Reader, garmentIds: readonly number[]) {
  const parts = reader.all(partsOf(garmentIds));
  const rows = parts.length === 0 ? [] : reader.all(rowsOf(garmentIds));
  return parts.map(({ garmentId, asked, ...part }) => {
    const own = rows.filter(({ partId }) => partId === part.id).map(({ id, size }) => ({ id, size }));
    const kept: KeptPart = { ...part, rows: own, asked: readTyped(asked) };
    return { garmentId, part: kept };
  });
}

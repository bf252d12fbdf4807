import type { LengthUnit } from '../../../src/quantity/length.ts';
import type { Reader } from '../../database/book.ts';
import { inList, type Param, prepared } from '../../database/statements.ts';
import { readTyped, type Typed } from '../../kit/typed.ts';

/** A part that is kept with a garment, as it was asked. */
export interface KeptPart {
  readonly id: number;
  /** what its strips are held and cut for, among the tiers; null where the book had no cloth yet */
  readonly rowId: number | null;
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
    .leftJoin('tier', 'tier.garment_part_id', 'garment_part.id')
    .select([
      'garment_part.garment_id as garmentId',
      'garment_part.id',
      'tier.id as rowId',
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

/** All parts that are kept with garments, those taken out included, in the order in which they were added. */
export function readPartsOf(reader: Reader, garmentIds: readonly number[]) {
  return reader.all(partsOf(garmentIds)).map(({ garmentId, asked, ...part }) => {
    const kept: KeptPart = { ...part, asked: readTyped(asked) };
    return { garmentId, part: kept };
  });
}

import type { LengthUnit } from '../../../src/quantity/length.ts';
import type { Reader } from '../../database/book.ts';
import { keptUntilWritten } from '../../database/kept.ts';
import { type Param, prepared } from '../../database/statements.ts';
import { readTyped, type Typed } from '../../kit/typed.ts';
import { orProblems, type Problem, unknown } from '../../refusal.ts';
import { readSewing, type Sewing } from '../../setup/rates/store.ts';
import type { Garment } from '../garment/records.ts';
import { partOfKind } from './all.ts';
import { type Part, type PartAnswer, partWords } from './describing.ts';

/** A part that is kept with a garment, as it was asked. */
export interface KeptPart {
  readonly id: number;
  readonly kind: string;
  readonly name: string;
  /** of the bare numbers in what was asked */
  readonly unit: LengthUnit;
  readonly asked: Typed;
  /** how many alike */
  readonly pieces: number;
  readonly clothId: number | null;
  readonly shadeId: number | null;
  readonly takenOutAt: string | null;
  readonly version: number;
  readonly changedAt: string;
  readonly changedBy: string | null;
}

const partsOf = prepared((db, garmentId: Param<number>) =>
  db
    .selectFrom('garment_part')
    .leftJoin('person', 'person.id', 'garment_part.changed_by_id')
    .select([
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
    .where('garment_part.garment_id', '=', garmentId)
    .orderBy('garment_part.id'),
);

/** All parts that are kept with a garment, those taken out included, in the order in which they were added. */
export function readKeptParts(reader: Reader, garmentId: number): KeptPart[] {
  return reader.all(partsOf(garmentId)).map(({ asked, ...part }) => ({ ...part, asked: readTyped(asked) }));
}

/** @throws {Refusal} unknown */
export function readKeptPart(reader: Reader, garment: Garment, partId: number): KeptPart {
  const part = readKeptParts(reader, garment.id).find(({ id }) => id === partId);
  if (!part) throw unknown(`such part of ${garment.code}`);
  return part;
}

/** A kept part worked out again from what was asked; `answer` is null where that cannot be done any more. */
export interface WorkedPart {
  readonly kept: KeptPart;
  readonly part: Part;
  readonly answer: PartAnswer | null;
  readonly problems: readonly Problem[];
}

/** The parts of a garment that were not taken out, each worked out. */
export const workKeptParts = keptUntilWritten((reader, garmentId: number): readonly WorkedPart[] => {
  const kept = readKeptParts(reader, garmentId).filter(({ takenOutAt }) => takenOutAt === null);
  if (kept.length === 0) return [];
  const sewing = readSewing(reader);
  return kept.map((part) => workKept(part, sewing));
});

export function workKept(kept: KeptPart, sewing: Sewing): WorkedPart {
  const part = partOfKind(kept.kind);
  const words = partWords(kept.unit, sewing);
  const { value, problems } = orProblems(() => part.workOut(kept.unit, kept.asked, words));
  return { kept, part, answer: value ?? null, problems };
}

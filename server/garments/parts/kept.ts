import { keptUntilWritten } from '../../database/kept.ts';
import { orProblems, type Problem, unknown } from '../../refusal.ts';
import { readSewing, type Sewing } from '../../setup/rates/store.ts';
import type { Garment } from '../garment/records.ts';
import { partOfKind } from './all.ts';
import { type Part, type PartAnswer, partWords } from './describing.ts';
import { type KeptPart, readPartsOf } from './record.ts';

/** @throws {Refusal} unknown */
export function keptPartOf(garment: Garment, partId: number): KeptPart {
  const part = garment.parts.find(({ id }) => id === partId);
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
  const parts = readPartsOf(reader, [garmentId]).map(({ part }) => part);
  const kept = parts.filter(({ takenOutAt }) => takenOutAt === null);
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

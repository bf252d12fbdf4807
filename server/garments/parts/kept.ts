import { keptUntilWritten } from '../../database/kept.ts';
import { orProblems, type Problem, unknown } from '../../refusal.ts';
import { readSewing, type Sewing } from '../../setup/rates/store.ts';
import { type Garment, readGarment } from '../garment/records.ts';
import { readUsableWidths } from '../garment/worked.ts';
import { partOfKind } from './all.ts';
import { clothOfPart, clothsOfParts } from './cut.ts';
import { type Part, type PartAnswer, partWords } from './describing.ts';
import type { KeptPart } from './record.ts';

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
export const workKeptParts = keptUntilWritten((reader, code: string): readonly WorkedPart[] => {
  const garment = readGarment(reader, code);
  const kept = garment.parts.filter(({ takenOutAt }) => takenOutAt === null);
  if (kept.length === 0) return [];
  const sewing = readSewing(reader);
  const widths = readUsableWidths(reader, [...new Set(clothsOfParts(garment))]);
  return kept.map((part) => {
    const clothId = clothOfPart(garment, part)?.clothId;
    return workKept(part, sewing, clothId === undefined ? null : (widths.get(clothId) ?? null));
  });
});

function workKept(kept: KeptPart, sewing: Sewing, usableWidthTicks: number | null): WorkedPart {
  const part = partOfKind(kept.kind);
  const words = partWords(kept.unit, sewing, usableWidthTicks);
  const { value, problems } = orProblems(() => part.workOut(kept.unit, kept.asked, words));
  return { kept, part, answer: value ?? null, problems };
}

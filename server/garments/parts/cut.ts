import type { ClothShade, PartToCut } from '../../../src/garment/need.ts';
import { orProblems } from '../../refusal.ts';
import type { Garment } from '../garment/records.ts';
import { partOfKind } from './all.ts';
import type { CutOfPart, PartWords } from './describing.ts';
import type { KeptPart } from './record.ts';

/** What is cut is told in ticks: no word of the answer is read. */
const NO_WORDS: PartWords = { size: () => '', cloth: () => '' };

/** What one of a part is cut as; null where it is not cut of cloth, or cannot be worked out. */
export function cutOfPart({
  kind,
  unit,
  asked,
}: Pick<KeptPart, 'kind' | 'unit' | 'asked'>): CutOfPart | null {
  return orProblems(() => partOfKind(kind).workOut(unit, asked, NO_WORDS)).value?.cut ?? null;
}

/** The cloth and shade that parts without their own are cut of: those of the first tier; null where there is none. */
export function garmentClothOf({ tiers }: Pick<Garment, 'tiers'>): ClothShade | null {
  const first = tiers.find(({ takenOutAt, blocks }) => takenOutAt === null && blocks.length > 0);
  const block = first?.blocks[0];
  return first && block ? { clothId: block.clothId ?? first.clothId, shadeId: block.shadeId } : null;
}

/** What a part is cut of; null where neither it nor the garment names a cloth and a shade. */
export function clothOfPart(garment: Pick<Garment, 'tiers'>, part: KeptPart): ClothShade | null {
  const own = garmentClothOf(garment);
  const clothId = part.clothId ?? own?.clothId;
  const shadeId = part.shadeId ?? own?.shadeId;
  return clothId === undefined || shadeId === undefined ? null : { clothId, shadeId };
}

/** The cloths that the parts of a garment name, or take from it. */
export function clothsOfParts(garment: Pick<Garment, 'tiers' | 'parts'>): number[] {
  return garment.parts.flatMap((part) => clothOfPart(garment, part)?.clothId ?? []);
}

/** What the parts of a garment are cut as; those that were taken out, and those of no cloth, are left out. */
export function partsToCut(
  garment: Pick<Garment, 'tiers' | 'parts'>,
  widths: ReadonlyMap<number, number>,
): PartToCut[] {
  return garment.parts.flatMap((part): PartToCut[] => {
    const of = clothOfPart(garment, part);
    if (part.takenOutAt !== null || part.rowId === null || of === null) return [];
    const cut = cutOfPart(part);
    if (!cut) return [];
    const { depthTicks, direction, count } = cut;
    const lengthTicks = cut.lengthTicks ?? widths.get(of.clothId) ?? 0;
    if (lengthTicks === 0) return [];
    const strips = { depthTicks, lengthTicks, direction, count: count * part.pieces };
    return [{ tierId: part.rowId, name: part.name, ...of, ...strips }];
  });
}

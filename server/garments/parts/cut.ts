import { type ClothWays, layOnCloth } from '../../../src/garment/cloth-way.ts';
import { type ClothShade, needKey, type PartToCut } from '../../../src/garment/need.ts';
import { type NestedRings, nestRings, type Rings } from '../../../src/garment/parts/nesting.ts';
import { grouped } from '../../kit/grouped.ts';
import { onceFor } from '../../kit/once.ts';
import { orProblems } from '../../refusal.ts';
import type { Garment } from '../garment/records.ts';
import { partOfKind } from './all.ts';
import {
  type CutOfPart,
  clothFieldOf,
  type PartWords,
  type ShapeOfPart,
  shadeFieldOf,
} from './describing.ts';
import type { KeptPart } from './record.ts';

/** What is cut is told in ticks: no word of the answer is read. */
const NO_WORDS: PartWords = { size: () => '', cloth: () => '', usableWidthTicks: null };

/** What one of a part is cut as, size by size; none where it is not cut of cloth, or cannot be worked out. */
function cutsOfPart(part: KeptPart, usableWidthTicks: number | null): readonly CutOfPart[] {
  const known = cutsByWidth(part);
  const { kind, unit, asked } = part;
  const words = { ...NO_WORDS, usableWidthTicks };
  const cuts =
    known.get(usableWidthTicks) ??
    orProblems(() => partOfKind(kind).workOut(unit, asked, words)).value?.cuts ??
    [];
  known.set(usableWidthTicks, cuts);
  return cuts;
}

/** A page asks what its parts are cut as for several of its figures. */
const cutsByWidth = onceFor((_part: KeptPart) => new Map<number | null, readonly CutOfPart[]>());

/** The cloth and shade that parts without their own are cut of: those of the first tier; null where there is none. */
export function garmentClothOf({ tiers }: Pick<Garment, 'tiers'>): ClothShade | null {
  const first = tiers.find(({ takenOutAt, blocks }) => takenOutAt === null && blocks.length > 0);
  const block = first?.blocks[0];
  return first && block ? { clothId: block.clothId ?? first.clothId, shadeId: block.shadeId } : null;
}

/** What a size of a part is cut of; null where neither it, its part nor the garment names a cloth and a shade. */
export function clothOfPart(garment: Pick<Garment, 'tiers'>, part: KeptPart, size = ''): ClothShade | null {
  const own = garmentClothOf(garment);
  const ofSize = clothOfSize(part, size);
  const clothId = ofSize.clothId ?? part.clothId ?? own?.clothId;
  const shadeId = ofSize.shadeId ?? part.shadeId ?? own?.shadeId;
  return clothId === undefined || shadeId === undefined ? null : { clothId, shadeId };
}

/** The cloth and shade that a size of a part was given of its own; null where it takes that of the part. */
export function clothOfSize({ kind, asked }: Pick<KeptPart, 'kind' | 'asked'>, size: string) {
  const { hasCloth } = partOfKind(kind).sizes.find(({ key }) => key === size) ?? { hasCloth: false };
  const idIn = (name: string) => (hasCloth && asked[name] ? Number(asked[name]) : null);
  return { clothId: idIn(clothFieldOf(size)), shadeId: idIn(shadeFieldOf(size)) };
}

/** What a part may be cut of: its own cloth and those of its further sizes. */
export function clothsOfPart(garment: Pick<Garment, 'tiers'>, part: KeptPart): ClothShade[] {
  const sizes = partOfKind(part.kind).sizes.filter(({ hasCloth }) => hasCloth);
  return ['', ...sizes.map(({ key }) => key)].flatMap((size) => clothOfPart(garment, part, size) ?? []);
}

/** The cloths that the parts of a garment name, or take from it. */
export function clothsOfParts(garment: Pick<Garment, 'tiers' | 'parts'>): number[] {
  return garment.parts.flatMap((part) => clothsOfPart(garment, part).map(({ clothId }) => clothId));
}

/** The sizes that a part is cut in and the cloth of each, whether they have rows yet or not. */
export function sizesOfPart(
  garment: Pick<Garment, 'tiers'>,
  part: KeptPart,
  widths: ReadonlyMap<number, number>,
): { readonly cut: CutOfPart; readonly of: ClothShade }[] {
  const main = clothOfPart(garment, part);
  const widthTicks = main === null ? null : (widths.get(main.clothId) ?? null);
  return cutsOfPart(part, widthTicks).flatMap((cut) => {
    const of = clothOfPart(garment, part, cut.size);
    return of ? [{ cut, of }] : [];
  });
}

/** "facing"; '' for the main size. */
export function saySize({ kind }: Pick<KeptPart, 'kind'>, size: string): string {
  return partOfKind(kind).sizes.find(({ key }) => key === size)?.name ?? '';
}

/** "Waistband", "Waistband, facing": what is held and cut for a size goes by it. */
export function nameOfSize(part: Pick<KeptPart, 'kind' | 'name'>, size: string): string {
  const named = saySize(part, size);
  return named === '' ? part.name : `${part.name}, ${named}`;
}

/** A size of a part that is cut of cloth, with what one of it is cut as. */
interface CutPart {
  readonly part: KeptPart;
  readonly name: string;
  readonly rowId: number;
  readonly of: ClothShade;
  readonly cut: CutOfPart;
}

function cutParts(garment: Pick<Garment, 'tiers' | 'parts'>, widths: ReadonlyMap<number, number>): CutPart[] {
  return garment.parts.flatMap((part): CutPart[] => {
    if (part.takenOutAt !== null || part.rows.length === 0) return [];
    return sizesOfPart(garment, part, widths).flatMap(({ cut, of }) => {
      const row = part.rows.find(({ size }) => size === (cut.size ?? ''));
      return row ? [{ part, name: nameOfSize(part, row.size), rowId: row.id, of, cut }] : [];
    });
  });
}

/** Which whole rings of a garment are cut from the holes of larger ones, of the same cloth and shade, by their rows. */
function nestedOf(parts: readonly CutPart[]): NestedRings[] {
  const byCloth = grouped(parts, ({ of }) => needKey(of));
  return [...byCloth.values()].flatMap((alike) =>
    nestRings(
      alike.flatMap(({ rowId, part, cut: { shape, count } }): Rings[] =>
        shape?.isWhole ? [{ ...shape, id: rowId, count: count * part.pieces }] : [],
      ),
    ),
  );
}

/**
 * What the parts of a garment are cut as; those that were taken out, those of no cloth, and rings that come out of the holes
 * of others are left out.
 */
export function partsToCut(
  garment: Pick<Garment, 'tiers' | 'parts'>,
  widths: ReadonlyMap<number, number>,
  ways: ClothWays,
): PartToCut[] {
  const parts = cutParts(garment, widths);
  const nested = nestedOf(parts);
  return parts.flatMap(({ part, name, rowId, of, cut }): PartToCut[] => {
    const { depthTicks, direction } = cut;
    const lengthTicks = cut.lengthTicks ?? widths.get(of.clothId) ?? 0;
    const inHoles = nested.filter(({ guestId }) => guestId === rowId);
    const count = cut.count * part.pieces - inHoles.reduce((sum, one) => sum + one.count, 0);
    if (lengthTicks === 0 || count === 0) return [];
    const strip = { depthTicks, lengthTicks, direction };
    // A pattern's own part has counted its repeats.
    const way = part.kind === 'repeat' ? undefined : ways.get(of.clothId);
    const laid = layOnCloth(strip, way, widths.get(of.clothId) ?? 0);
    return [{ tierId: rowId, name, ...of, ...laid, count }];
  });
}

/** What is cut out of each rectangle of a part's row, with the rings that come out of its holes. */
export interface ShapedRow {
  readonly shape: ShapeOfPart;
  readonly acrossTicks: number;
  readonly alongTicks: number;
  /** rings of other parts that are cut from its holes, and the parts whose holes its own rings come out of */
  readonly inHoles: readonly { readonly name: string; readonly count: number; readonly shape: ShapeOfPart }[];
  readonly fromHoles: readonly { readonly name: string; readonly count: number }[];
}

/** The shapes that are cut out of the rectangles of a garment's parts, by the row that they are cut for. */
export function shapedRows(
  garment: Pick<Garment, 'tiers' | 'parts'>,
  widths: ReadonlyMap<number, number>,
): Map<number, ShapedRow> {
  const parts = cutParts(garment, widths);
  const nested = nestedOf(parts);
  const partOf = (rowId: number) => parts.find((one) => one.rowId === rowId);
  return new Map(
    parts.flatMap(({ rowId, cut }): [number, ShapedRow][] => {
      const { shape, lengthTicks, depthTicks } = cut;
      if (!shape || lengthTicks === null) return [];
      const inHoles = nested.flatMap(({ guestId, hostId, count }) => {
        const guest = hostId === rowId ? partOf(guestId) : undefined;
        return guest?.cut.shape ? [{ name: guest.name, count, shape: guest.cut.shape }] : [];
      });
      const fromHoles = nested.flatMap(({ guestId, hostId, count }) =>
        guestId === rowId ? [{ name: partOf(hostId)?.name ?? '', count }] : [],
      );
      return [[rowId, { shape, acrossTicks: lengthTicks, alongTicks: depthTicks, inHoles, fromHoles }]];
    }),
  );
}

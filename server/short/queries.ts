import type { Reader } from '../database/book.ts';
import { type CutFor, type HeldFor, readCutStrips, readHeldStretches } from '../garments/done.ts';
import { grouped } from '../garments/grouped.ts';
import { type Garment, readOpenGarments } from '../garments/records.ts';
import { type WorkedGarment, workGarments } from '../garments/worked.ts';
import { type Claim, type Share, type ShortFigures, shareOut } from './sharing.ts';
import {
  type ClothName,
  readClothNames,
  readFreeStretches,
  readLotCodes,
  readOnOrder,
  readShadeNames,
  type ShadeName,
} from './supply.ts';

/** One cloth and shade that open garments need: wanted, cut, held, free, on order, short. Lengths in ticks. */
export interface ShortLine extends ShortFigures {
  readonly cloth: ClothName;
  readonly shade: ShadeName;
  /** Each garment that needs it, those due first first: the free cloth is shared out in that order. */
  readonly shares: readonly Share<Garment>[];
  /** Free length of the same cloth in undyed grounds, from which this shade could be dyed; 0 for a ground. */
  readonly groundTicks: number;
  /** Each lot that is free, held or cut for these garments, and its free length. */
  readonly lots: readonly { readonly id: number; readonly code: string; readonly freeTicks: number }[];
}

/** A tier whose strips cannot be counted, so that its need is not known. */
export interface Trouble {
  readonly garmentCode: string;
  readonly tierId: number;
  readonly tierName: string;
  readonly message: string;
}

export interface Needs {
  readonly lines: readonly ShortLine[];
  readonly troubles: readonly Trouble[];
}

/** What is short over all open garments, the most pressing first: what Orders and Today need to know. */
export function readShort(reader: Reader): ShortLine[] {
  return readNeeds(reader).lines.filter(({ shortStrips }) => shortStrips > 0);
}

/**
 * Every need of the open garments, in the order of the garments' days and their tiers.
 *
 * With `garmentCode` only what that garment needs; what garments that are due before it take is still taken.
 */
export function readNeeds(reader: Reader, only: { readonly garmentCode?: string } = {}): Needs {
  const worked = workGarments(reader, readOpenGarments(reader));
  const { garmentCode } = only;
  const looked = worked.filter(({ garment }) => garmentCode === undefined || garment.code === garmentCode);
  const keys = new Set(looked.flatMap(({ needs }) => needs.map(keyOf)));
  return { lines: readLines(reader, worked, keys), troubles: looked.flatMap(troublesOf) };
}

function troublesOf({ garment, problems }: WorkedGarment): Trouble[] {
  return problems.map(({ tierId, message }) => ({
    garmentCode: garment.code,
    tierId,
    tierName: garment.tiers.find(({ id }) => id === tierId)?.name ?? garment.name,
    message,
  }));
}

interface ClothShade {
  readonly clothId: number;
  readonly shadeId: number;
}

function keyOf({ clothId, shadeId }: ClothShade): string {
  return `${clothId} ${shadeId}`;
}

function readLines(reader: Reader, worked: readonly WorkedGarment[], keys: ReadonlySet<string>): ShortLine[] {
  const claims = grouped(
    readClaims(reader, worked).filter(({ need }) => keys.has(keyOf(need))),
    ({ need }) => keyOf(need),
  );
  const clothIds = [
    ...new Set([...claims.values()].flatMap((group) => group.map(({ need }) => need.clothId))),
  ];
  const free = readFreeStretches(reader, clothIds);
  const onOrder = readOnOrder(reader, clothIds);
  const cloths = readClothNames(reader, clothIds);
  const shades = readShadeNames(reader);
  const named = [...claims.values()].flat().flatMap(({ cut, held }) => [...cut, ...held]);
  const lotCodes = readLotCodes(reader, [...new Set([...free, ...named].map(({ lotId }) => lotId))]);
  return [...claims.values()].flatMap((group) => {
    const need = group[0]?.need;
    const cloth = cloths.get(need?.clothId ?? 0);
    const shade = shades.get(need?.shadeId ?? 0);
    if (!need || !cloth || !shade) return [];
    const ofCloth = free.filter(({ clothId }) => clothId === cloth.id);
    const ofShade = ofCloth.filter(({ shadeId }) => shadeId === shade.id);
    const grounds = ofCloth.filter(({ shadeId }) => shades.get(shadeId)?.ground);
    const ordered = onOrder.filter((line) => keyOf(line) === keyOf(need));
    const { shares, figures } = shareOut(group, {
      free: ofShade,
      usableWidthTicks: cloth.usableWidthTicks,
      onOrderTicks: lengthOf(ordered),
    });
    const groundTicks = shade.ground ? 0 : lengthOf(grounds);
    const lotIds = [...ofShade, ...group.flatMap(({ cut, held }) => [...cut, ...held])].map(
      ({ lotId }) => lotId,
    );
    const lots = [...new Set(lotIds)].map((id) => ({
      id,
      code: lotCodes.get(id) ?? '',
      freeTicks: lengthOf(ofShade.filter(({ lotId }) => lotId === id)),
    }));
    return [{ cloth, shade, ...figures, shares, groundTicks, lots }];
  });
}

function readClaims(reader: Reader, worked: readonly WorkedGarment[]): Claim<Garment>[] {
  const tierIds = worked.flatMap(({ tiers }) => tiers.map(({ tierId }) => tierId));
  const cut = grouped(readCutStrips(reader, tierIds), ({ tierId }) => tierId);
  const held = grouped(readHeldStretches(reader, tierIds), ({ tierId }) => tierId);
  return worked.flatMap(({ garment, needs }) =>
    needs.map((need) => {
      const of = <T extends CutFor | HeldFor>(rows: ReadonlyMap<number, readonly T[]>) =>
        need.demands
          .flatMap(({ tierId }) => rows.get(tierId) ?? [])
          .filter((row) => keyOf(row) === keyOf(need));
      return { garment, need, cut: of(cut), held: of(held) };
    }),
  );
}

function lengthOf(lengths: readonly { readonly lengthTicks: number }[]): number {
  return lengths.reduce((sum, { lengthTicks }) => sum + lengthTicks, 0);
}

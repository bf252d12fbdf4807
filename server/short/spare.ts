import type { TakePiece } from '../../src/fit/take.ts';
import { type ClothShade, needKey } from '../../src/garment/need.ts';
import type { Reader } from '../database/book.ts';
import type { Needed } from '../shelf/lengths.ts';
import { type Needs, readNeeds } from './queries.ts';
import { type FreeOf, readFreeStretches } from './supply.ts';

/** What open garments need of the pieces on the shelf: of some shades of some cloths, or of all. */
export function readNeeded(
  reader: Reader,
  { whole = false, of }: { readonly whole?: boolean; readonly of?: Required<FreeOf> } = {},
): Needed {
  const { lines, waiting } = readNeeds(reader, of ? { of: keysOf(of) } : { whole });
  const needed = NEEDED.get(lines) ?? {
    ofPieces: new Map(lines.flatMap(({ needed }) => [...needed])),
    waiting,
  };
  NEEDED.set(lines, needed);
  return needed;
}

/** Needs that are kept are the same as long as nothing changes; what they come to by piece is put together once. */
const NEEDED = new WeakMap<Needs['lines'], Needed>();

/** Every free piece of some shades of some cloths, with what is needed of it. */
export function readTakePieces(reader: Reader, of: Required<FreeOf>): (TakePiece & ClothShade)[] {
  const { lines } = readNeeds(reader, { of: keysOf(of) });
  const neededOf = new Map(lines.map(({ cloth, shade, needed }) => [keyOf(cloth.id, shade.id), needed]));
  return readFreeStretches(reader, of).map((stretch) => ({
    ...stretch,
    neededTicks: neededOf.get(needKey(stretch))?.get(stretch.pieceId)?.neededTicks ?? 0,
  }));
}

function keysOf({ clothIds, shadeIds }: Required<FreeOf>): Set<string> {
  return new Set(clothIds.flatMap((clothId) => shadeIds.map((shadeId) => keyOf(clothId, shadeId))));
}

function keyOf(clothId: number, shadeId: number): string {
  return needKey({ clothId, shadeId });
}

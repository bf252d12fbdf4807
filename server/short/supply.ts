import { sql } from 'kysely';
import type { Flaw } from '../../src/cut-plan/job.ts';
import { flawsBehind } from '../../src/cut-plan/stock.ts';
import type { Stretch } from '../../src/fit/strips.ts';
import { type ClothShade, needKey } from '../../src/garment/need.ts';
import { readPlansOnPieces, type StoredPlan } from '../cut-plans/store.ts';
import type { Reader } from '../database/book.ts';
import { inList, type Param, prepared } from '../database/statements.ts';
import type { LengthInDye } from '../dye-bench/batch/dyeing.ts';
import { countsAs } from '../ledger/joined-lots.ts';
import { readAwaited } from '../orders/order/queries.ts';
import { readFlaws } from '../shelf/piece/flaws.ts';

/** A free length on the shelf with what it is of. */
export interface FreeStretch extends Stretch {
  readonly clothId: number;
  readonly shadeId: number;
}

/** Of which cloths, and of which shades of them where that is said. */
export interface FreeOf {
  readonly clothIds: readonly number[];
  readonly shadeIds?: readonly number[];
}

/**
 * Every free length of these cloths. Of one piece, all that nobody holds is one stretch; it begins behind the lays of
 * plans that are held.
 */
export function readFreeStretches(
  reader: Reader,
  asked: FreeOf,
  exceptGarmentId: number | null = null,
): FreeStretch[] {
  const stretches = readUnheld(reader, asked);
  const places = readPlaces(
    reader,
    stretches.map(({ pieceId }) => pieceId),
    exceptGarmentId,
  );
  return stretches.map((stretch) => {
    const flaws = places.get(stretch.pieceId)?.flaws ?? [];
    return flaws.length > 0 ? { ...stretch, flaws } : stretch;
  });
}

/** Where a piece may still be planned: how far behind its free end, and its flaws from there on. In ticks. */
export interface FreePlace {
  readonly fromTicks: number;
  readonly flaws: readonly Flaw[];
}

/**
 * Where cloth of pieces may still be planned: behind the lays of held plans, that of one garment left out where it is
 * planned anew. Lays of a flawed piece keep their places, so that a flaw is never met by surprise.
 */
export function readPlaces(
  reader: Reader,
  pieceIds: readonly number[],
  exceptGarmentId: number | null = null,
): Map<number, FreePlace> {
  const plans = readPlansOnPieces(reader, pieceIds).filter(({ garmentId }) => garmentId !== exceptGarmentId);
  const flaws = readFlaws(reader, pieceIds);
  const ids = new Set([...flaws.keys(), ...plans.flatMap(({ lays }) => lays.map(({ pieceId }) => pieceId))]);
  return new Map(
    [...ids].map((pieceId) => {
      const fromTicks = plannedOn(plans, pieceId);
      return [pieceId, { fromTicks, flaws: flawsBehind(flaws.get(pieceId) ?? [], fromTicks) }];
    }),
  );
}

function plannedOn(plans: readonly StoredPlan[], pieceId: number): number {
  const lays = plans.flatMap((plan) => plan.lays);
  return lays.reduce(
    (sum, lay) => sum + (lay.pieceId === pieceId && lay.state === 'held' ? lay.lengthTicks : 0),
    0,
  );
}

function unheld(db: Reader['db'], clothIds: Param<readonly number[]>) {
  return db
    .selectFrom('piece')
    .innerJoin('lot', 'lot.id', 'piece.lot_id')
    .select([
      'piece.id as pieceId',
      countsAs().as('lotId'),
      'piece.usable_width_ticks as usableWidthTicks',
      'piece.on_hand_ticks',
      'piece.held_ticks',
      'lot.cloth_id as clothId',
      'lot.shade_id as shadeId',
    ])
    .where('lot.cloth_id', 'in', inList(clothIds))
    .where('piece.on_hand_ticks', '>', 0)
    .whereRef('piece.on_hand_ticks', '>', 'piece.held_ticks')
    .orderBy('piece.id');
}

const unheldOfCloths = prepared((db, clothIds: Param<readonly number[]>) => unheld(db, clothIds));
const unheldOf = prepared((db, clothIds: Param<readonly number[]>, shadeIds: Param<readonly number[]>) =>
  unheld(db, clothIds).where('lot.shade_id', 'in', inList(shadeIds)),
);

function readUnheld(reader: Reader, { clothIds, shadeIds }: FreeOf): FreeStretch[] {
  if (clothIds.length === 0) return [];
  const rows = reader.all(shadeIds ? unheldOf(clothIds, shadeIds) : unheldOfCloths(clothIds));
  return rows.map(({ on_hand_ticks: onHand, held_ticks: held, ...row }) => ({
    ...row,
    lengthTicks: onHand - held,
  }));
}

const freePieces = prepared((db, clothIds: Param<readonly number[]>, shadeIds: Param<readonly number[]>) =>
  db
    .selectFrom('piece')
    .innerJoin('lot', 'lot.id', 'piece.lot_id')
    .select((pieces) => [
      'lot.cloth_id as clothId',
      'lot.shade_id as shadeId',
      pieces.fn.countAll<number>().as('count'),
    ])
    .where('lot.cloth_id', 'in', inList(clothIds))
    .where('lot.shade_id', 'in', inList(shadeIds))
    .where('piece.on_hand_ticks', '>', 0)
    .groupBy(['lot.cloth_id', 'lot.shade_id']),
);

/** How many free pieces there are of each of some cloths and shades, by `needKey`. */
export function countFreePieces(reader: Reader, of: readonly ClothShade[]): Map<string, number> {
  if (of.length === 0) return new Map();
  const rows = reader.all(
    freePieces(
      [...new Set(of.map(({ clothId }) => clothId))],
      [...new Set(of.map(({ shadeId }) => shadeId))],
    ),
  );
  return new Map(rows.map(({ count, ...key }) => [needKey(key), count]));
}

const freeGrounds = prepared((db, clothIds: Param<readonly number[]>) =>
  db
    .selectFrom('piece')
    .innerJoin('lot', 'lot.id', 'piece.lot_id')
    .innerJoin('shade', 'shade.id', 'lot.shade_id')
    .select((of) => [
      'lot.cloth_id as clothId',
      of.fn.sum<number>(sql<number>`piece.on_hand_ticks - piece.held_ticks`).as('ticks'),
    ])
    .where('lot.cloth_id', 'in', inList(clothIds))
    .where('shade.ground', '=', 1)
    .where('piece.on_hand_ticks', '>', 0)
    .groupBy('lot.cloth_id'),
);

/** What is free of each cloth in its undyed grounds, in ticks; a cloth of which nothing is has no entry. */
export function readFreeGrounds(reader: Reader, clothIds: readonly number[]): Map<number, number> {
  if (clothIds.length === 0) return new Map();
  const rows = reader.all(freeGrounds(clothIds));
  return new Map(rows.map(({ clothId, ticks }) => [clothId, ticks]));
}

/** What comes back from dyeing as lengths that strips fit into; none of them is on the shelf yet. */
export function stretchesInDye(dyeing: readonly LengthInDye[]): Stretch[] {
  const lengths = dyeing.flatMap((batch) => batch.lengths);
  return lengths.map((length, at) => ({ pieceId: -1 - at, lotId: 0, ...length }));
}

export interface OnOrder {
  readonly clothId: number;
  readonly shadeId: number;
  readonly lengthTicks: number;
  readonly orderCode: string;
  readonly expectedOn: string | null;
}

/** What orders that were sent still owe, by order line. */
export function readOnOrder(reader: Reader): OnOrder[] {
  return readAwaited(reader).map(({ awaitedTicks, ...line }) => ({ ...line, lengthTicks: awaitedTicks }));
}

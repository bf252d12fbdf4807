import type { Flaw } from '../../src/cut-plan/job.ts';
import { flawsBehind } from '../../src/cut-plan/stock.ts';
import type { Stretch } from '../../src/fit/fit.ts';
import { type LotColour, lotsThatMeet } from '../../src/fit/lots.ts';
import { readPlansOnPieces, type StoredPlan } from '../cut-plans/store.ts';
import type { Reader } from '../database/book.ts';
import { shadeColour } from '../kit/chip.ts';
import { readAwaited } from '../orders/order/queries.ts';
import { readFlaws } from '../shelf/piece/flaws.ts';

/** A free length on the shelf with what it is of. */
export interface FreeStretch extends Stretch {
  readonly clothId: number;
  readonly shadeId: number;
}

/**
 * Every free length of these cloths, in whatever shade. Of one piece, all that nobody holds is one stretch; it begins
 * behind the lays of plans that are held.
 */
export function readFreeStretches(
  reader: Reader,
  clothIds: readonly number[],
  exceptGarmentId: number | null = null,
): FreeStretch[] {
  const stretches = readUnheld(reader, clothIds);
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

/** Colours of lots of these cloths, as they were recorded of the lots themselves. */
export function readLotColours(reader: Reader, lotIds: readonly number[]): LotColour[] {
  if (lotIds.length === 0) return [];
  const rows = reader.all(
    reader.db
      .selectFrom('lot_colour')
      .selectAll()
      .where('lot_id', 'in', [...lotIds]),
  );
  return rows.map((row) => ({ lotId: row.lot_id, lab: { l: row.lab_l, a: row.lab_a, b: row.lab_b } }));
}

/** Which of some lots may meet in a garment. */
export function readMeets(reader: Reader, lotIds: readonly number[], mostCentiDeltaE: number) {
  return lotsThatMeet(readLotColours(reader, lotIds), mostCentiDeltaE);
}

function readUnheld(reader: Reader, clothIds: readonly number[]): FreeStretch[] {
  if (clothIds.length === 0) return [];
  const rows = reader.all(
    reader.db
      .selectFrom('piece')
      .innerJoin('lot', 'lot.id', 'piece.lot_id')
      .select([
        'piece.id as pieceId',
        'piece.lot_id as lotId',
        'piece.usable_width_ticks as usableWidthTicks',
        'piece.on_hand_ticks',
        'piece.held_ticks',
        'lot.cloth_id as clothId',
        'lot.shade_id as shadeId',
      ])
      .where('lot.cloth_id', 'in', clothIds)
      .where('piece.on_hand_ticks', '>', 0)
      .whereRef('piece.on_hand_ticks', '>', 'piece.held_ticks')
      .orderBy('piece.id'),
  );
  return rows.map(({ on_hand_ticks: onHand, held_ticks: held, ...row }) => ({
    ...row,
    lengthTicks: onHand - held,
  }));
}

export interface OnOrder {
  readonly clothId: number;
  readonly shadeId: number;
  readonly lengthTicks: number;
  readonly orderCode: string;
  readonly expectedOn: string | null;
}

/** What orders that were sent still owe, by order line. */
export function readOnOrder(reader: Reader, clothIds: readonly number[]): OnOrder[] {
  const wanted = new Set(clothIds);
  return readAwaited(reader)
    .filter(({ clothId }) => wanted.has(clothId))
    .map(({ awaitedTicks, ...line }) => ({ ...line, lengthTicks: awaitedTicks }));
}

export interface ClothName {
  readonly id: number;
  readonly name: string;
  readonly usableWidthTicks: number;
}

export function readClothNames(reader: Reader, clothIds: readonly number[]): Map<number, ClothName> {
  if (clothIds.length === 0) return new Map();
  const rows = reader.all(
    reader.db
      .selectFrom('cloth')
      .select(['id', 'name', 'usable_width_ticks as usableWidthTicks'])
      .where('id', 'in', clothIds),
  );
  return new Map(rows.map((row) => [row.id, row]));
}

export interface ShadeName {
  readonly id: number;
  readonly name: string;
  /** '#rrggbb', or null where no colour was recorded */
  readonly colour: string | null;
  /** undyed, and so what other shades are dyed from */
  readonly ground: boolean;
}

/** All shades by id: there are few, and every page that names one may name another. */
export function readShadeNames(reader: Reader): Map<number, ShadeName> {
  const rows = reader.all(
    reader.db.selectFrom('shade').select(['id', 'name', 'ground', 'lab_l', 'lab_a', 'lab_b']),
  );
  return new Map(
    rows.map((row) => [
      row.id,
      { id: row.id, name: row.name, colour: shadeColour(row), ground: row.ground === 1 },
    ]),
  );
}

export function readLotCodes(reader: Reader, lotIds: readonly number[]): Map<number, string> {
  if (lotIds.length === 0) return new Map();
  const rows = reader.all(reader.db.selectFrom('lot').select(['id', 'code']).where('id', 'in', lotIds));
  return new Map(rows.map((row) => [row.id, row.code]));
}

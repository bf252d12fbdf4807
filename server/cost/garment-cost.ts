import { sql } from 'kysely';
import { clothLength } from '../../src/garment/cloth-length.ts';
import { needKey } from '../../src/garment/need.ts';
import { divideRounded, exactly, stored } from '../../src/quantity/figure-show.ts';
import { costOf } from '../../src/quantity/money.ts';
import type { Reader } from '../database/book.ts';
import type { Garment } from '../garments/garment/records.ts';
import { readUsableWidths, workGarments } from '../garments/garment/worked.ts';
import { inForce } from '../ledger/standing.ts';
import { type KnownPrice, readPrices } from './prices.ts';

/** What one cloth and shade of a garment costs. Lengths in ticks, money in minor units. */
export interface ClothCost {
  readonly clothId: number;
  readonly shadeId: number;
  /** fresh cloth for all its strips by the careful hand rule; null where a strip is too large for it */
  readonly plannedTicks: number | null;
  readonly price: KnownPrice | null;
  /** null where no price is known, or no length */
  readonly plannedMinor: number | null;
  readonly heldTicks: number;
  readonly heldMinor: number;
  readonly cutTicks: number;
  /** what was cut less what was kept of it */
  readonly spentMinor: number;
  /** kept beside its strips, and still on the shelf */
  readonly leftMinor: number;
}

export function readClothCosts(reader: Reader, garment: Garment): ClothCost[] {
  const [worked] = workGarments(reader, [garment]);
  const held = readHeld(reader, garment.id);
  const cut = readCut(reader, garment.id);
  const left = readLeft(reader, garment.id);
  const needs = new Map((worked?.needs ?? []).map((need) => [needKey(need), need]));
  const keys = new Map([...(worked?.needs ?? []), ...held, ...cut].map((each) => [needKey(each), each]));
  const prices = readPrices(reader, [...keys.values()]);
  const clothIds = [...keys.values()].map(({ clothId }) => clothId);
  const widths = readUsableWidths(reader, [...new Set(clothIds)]);
  return [...keys].map(([key, { clothId, shadeId }]) => {
    const need = needs.get(key);
    const length = need
      ? clothLength(need.demands, widths.get(clothId) ?? 0)
      : { ok: true as const, totalTicks: 0 };
    const plannedTicks = length.ok ? length.totalTicks : null;
    const price = prices.get(key) ?? null;
    const mine = <R extends { clothId: number; shadeId: number }>(rows: readonly R[]) =>
      rows.find((row) => needKey(row) === key);
    const cuts = mine(cut);
    return {
      clothId,
      shadeId,
      plannedTicks,
      price,
      plannedMinor: plannedTicks === null || price === null ? null : costOf(plannedTicks, price),
      heldTicks: mine(held)?.ticks ?? 0,
      heldMinor: mine(held)?.minor ?? 0,
      cutTicks: cuts?.ticks ?? 0,
      spentMinor: (cuts?.minor ?? 0) - (cuts?.keptMinor ?? 0),
      leftMinor: mine(left)?.minor ?? 0,
    };
  });
}

/** What is held for the garment carries the share of its piece's cost that its length is of the piece. */
function readHeld(reader: Reader, garmentId: number) {
  const rows = reader.all(
    reader.db
      .selectFrom('hold')
      .innerJoin('tier', 'tier.id', 'hold.tier_id')
      .innerJoin('piece', 'piece.id', 'hold.piece_id')
      .innerJoin('lot', 'lot.id', 'piece.lot_id')
      .select(['lot.cloth_id as clothId', 'lot.shade_id as shadeId', 'hold.held_ticks as heldTicks'])
      .select(['piece.cost_minor as costMinor', 'piece.on_hand_ticks as onHandTicks'])
      .where('tier.garment_id', '=', garmentId),
  );
  const sums = new Map<string, { clothId: number; shadeId: number; ticks: number; minor: number }>();
  for (const { clothId, shadeId, heldTicks, costMinor, onHandTicks } of rows) {
    const before = sums.get(needKey({ clothId, shadeId })) ?? { clothId, shadeId, ticks: 0, minor: 0 };
    const share = stored(
      divideRounded(exactly(costMinor) * exactly(heldTicks), exactly(onHandTicks), 'near'),
    );
    sums.set(needKey(before), { ...before, ticks: before.ticks + heldTicks, minor: before.minor + share });
  }
  return [...sums.values()];
}

function readCut(reader: Reader, garmentId: number) {
  return reader.all(
    reader.db
      .selectFrom('entry')
      .innerJoin('tier', 'tier.id', 'entry.tier_id')
      .innerJoin('piece', 'piece.id', 'entry.piece_id')
      .innerJoin('lot', 'lot.id', 'piece.lot_id')
      .select(['lot.cloth_id as clothId', 'lot.shade_id as shadeId'])
      .select([
        sql<number>`sum(-entry.length_ticks)`.as('ticks'),
        sql<number>`sum(-entry.cost_minor)`.as('minor'),
        sql<number>`coalesce(sum((SELECT sum(kept.cost_minor) FROM entry AS kept
          WHERE kept.pair_id = entry.id AND kept.kind = 'joined'
            AND ${inForce('kept')})), 0)`.as('keptMinor'),
      ])
      .where('tier.garment_id', '=', garmentId)
      .where('entry.kind', '=', 'cut')
      .where(inForce('entry'))
      .groupBy(['lot.cloth_id', 'lot.shade_id']),
  );
}

/** The remnants that were kept beside the garment's strips carry their cost on, as far as they still lie there. */
function readLeft(reader: Reader, garmentId: number) {
  return reader.all(
    reader.db
      .selectFrom('entry')
      .innerJoin('entry as off', 'off.id', 'entry.pair_id')
      .innerJoin('tier', 'tier.id', 'off.tier_id')
      .innerJoin('piece', 'piece.id', 'entry.piece_id')
      .innerJoin('lot', 'lot.id', 'piece.lot_id')
      .select([
        'lot.cloth_id as clothId',
        'lot.shade_id as shadeId',
        sql<number>`sum(piece.cost_minor)`.as('minor'),
      ])
      .where('tier.garment_id', '=', garmentId)
      .where('entry.kind', '=', 'joined')
      .where('off.kind', '=', 'cut')
      .where(inForce('entry'))
      .groupBy(['lot.cloth_id', 'lot.shade_id']),
  );
}

import { type SqlBool, sql } from 'kysely';
import { clothLength } from '../../src/garment/cloth-length.ts';
import { needKey } from '../../src/garment/need.ts';
import { divideRounded, exactly, stored } from '../../src/quantity/figure-show.ts';
import { costOf } from '../../src/quantity/money.ts';
import type { Reader } from '../database/book.ts';
import type { Garment } from '../garments/garment/records.ts';
import { readUsableWidths, workGarment } from '../garments/garment/worked.ts';
import { OTHER_USE_FACTS, sayOtherUse } from '../ledger/other-use.ts';
import { inForce } from '../ledger/standing.ts';
import { type KnownPrice, readPrices } from './prices.ts';

/**
 * What one cloth and shade of a garment costs, for its tiers or for one other use of it, such as a repair. Lengths in
 * ticks, money in minor units.
 */
export interface ClothCost {
  /** "repair: torn ruffle"; '' for its tiers */
  readonly otherUse: string;
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
  const { needs: wanted } = workGarment(reader, garment.code);
  const held = readHeld(reader, garment.id);
  const cut = readCut(reader, garment.id);
  const left = readLeft(reader, garment.id);
  const needed = wanted.map((need) => ({ ...need, otherUseId: null }));
  const needs = new Map(needed.map((need) => [lineKey(need), need]));
  const lines = new Map([...needed, ...held, ...cut].map((each): [string, Line] => [lineKey(each), each]));
  const prices = readPrices(reader, [...lines.values()]);
  const clothIds = [...lines.values()].map(({ clothId }) => clothId);
  const widths = readUsableWidths(reader, [...new Set(clothIds)]);
  const uses = readUsesOf(reader, garment.id);
  return [...lines].map(([key, line]) => {
    const { clothId, shadeId, otherUseId } = line;
    const need = needs.get(key);
    const length = need
      ? clothLength(need.demands, widths.get(clothId) ?? 0)
      : { ok: true as const, totalTicks: 0 };
    const plannedTicks = length.ok ? length.totalTicks : null;
    const price = prices.get(needKey(line)) ?? null;
    const mine = <R extends Line>(rows: readonly R[]) => rows.find((row) => lineKey(row) === key);
    const cuts = mine(cut);
    return {
      otherUse: otherUseId === null ? '' : (uses.get(otherUseId) ?? ''),
      clothId,
      shadeId,
      plannedTicks,
      price,
      plannedMinor: plannedCost(line, plannedTicks, price),
      heldTicks: mine(held)?.ticks ?? 0,
      heldMinor: mine(held)?.minor ?? 0,
      cutTicks: cuts?.ticks ?? 0,
      spentMinor: (cuts?.minor ?? 0) - (cuts?.keptMinor ?? 0),
      leftMinor: mine(left)?.minor ?? 0,
    };
  });
}

/** A line of the costs: a cloth and shade, for the garment's tiers or for one other use of it. */
interface Line {
  readonly clothId: number;
  readonly shadeId: number;
  readonly otherUseId: number | null;
}

function lineKey(line: Line): string {
  return `${needKey(line)} ${line.otherUseId ?? ''}`;
}

/** Only tiers are planned. */
function plannedCost({ otherUseId }: Line, plannedTicks: number | null, price: KnownPrice | null) {
  if (otherUseId !== null) return 0;
  return plannedTicks === null || price === null ? null : costOf(plannedTicks, price);
}

/** The other uses of a garment in words, which need not name it. */
function readUsesOf(reader: Reader, garmentId: number): Map<number, string> {
  const rows = reader.all(
    reader.db
      .selectFrom('other_use')
      .leftJoin('garment as use_garment', 'use_garment.id', 'other_use.garment_id')
      .select(['other_use.id', ...OTHER_USE_FACTS])
      .where('other_use.garment_id', '=', garmentId),
  );
  return new Map(rows.map(({ id, ...use }) => [id, sayOtherUse({ ...use, useGarmentCode: null })]));
}

/** Of holds and entries: those for a tier or another use of the garment. Both sides are read off an index. */
export function isOfGarment(garmentId: number, name: 'hold' | 'entry' | 'off') {
  const [tierId, otherUseId] = [sql.ref(`${name}.tier_id`), sql.ref(`${name}.other_use_id`)];
  return sql<SqlBool>`(${tierId} IN (SELECT id FROM tier WHERE garment_id = ${garmentId})
    OR ${otherUseId} IN (SELECT id FROM other_use WHERE garment_id = ${garmentId}))`;
}

/** What is held for the garment carries the share of its piece's cost that its length is of the piece. */
function readHeld(reader: Reader, garmentId: number) {
  const rows = reader.all(
    reader.db
      .selectFrom('hold')
      .innerJoin('piece', 'piece.id', 'hold.piece_id')
      .innerJoin('lot', 'lot.id', 'piece.lot_id')
      .select(['lot.cloth_id as clothId', 'lot.shade_id as shadeId', 'hold.held_ticks as heldTicks'])
      .select('hold.other_use_id as otherUseId')
      .select(['piece.cost_minor as costMinor', 'piece.on_hand_ticks as onHandTicks'])
      .where(isOfGarment(garmentId, 'hold')),
  );
  const sums = new Map<string, Line & { ticks: number; minor: number }>();
  for (const { heldTicks, costMinor, onHandTicks, ...line } of rows) {
    const before = sums.get(lineKey(line)) ?? { ...line, ticks: 0, minor: 0 };
    const share = stored(
      divideRounded(exactly(costMinor) * exactly(heldTicks), exactly(onHandTicks), 'near'),
    );
    sums.set(lineKey(before), { ...before, ticks: before.ticks + heldTicks, minor: before.minor + share });
  }
  return [...sums.values()];
}

function readCut(reader: Reader, garmentId: number) {
  return reader.all(
    reader.db
      .selectFrom('entry')
      .innerJoin('piece', 'piece.id', 'entry.piece_id')
      .innerJoin('lot', 'lot.id', 'piece.lot_id')
      .select(['lot.cloth_id as clothId', 'lot.shade_id as shadeId', 'entry.other_use_id as otherUseId'])
      .select([
        sql<number>`sum(-entry.length_ticks)`.as('ticks'),
        sql<number>`sum(-entry.cost_minor)`.as('minor'),
        sql<number>`coalesce(sum((SELECT sum(kept.cost_minor) FROM entry AS kept
          WHERE kept.pair_id = entry.id AND kept.kind = 'joined'
            AND ${inForce('kept')})), 0)`.as('keptMinor'),
      ])
      .where(isOfGarment(garmentId, 'entry'))
      .where('entry.kind', '=', 'cut')
      .where(inForce('entry'))
      .groupBy(['lot.cloth_id', 'lot.shade_id', 'entry.other_use_id']),
  );
}

/** The remnants that were kept beside what was cut for the garment carry their cost on, as far as they still lie there. */
function readLeft(reader: Reader, garmentId: number) {
  return reader.all(
    reader.db
      .selectFrom('entry')
      .innerJoin('entry as off', 'off.id', 'entry.pair_id')
      .innerJoin('piece', 'piece.id', 'entry.piece_id')
      .innerJoin('lot', 'lot.id', 'piece.lot_id')
      .select([
        'lot.cloth_id as clothId',
        'lot.shade_id as shadeId',
        'off.other_use_id as otherUseId',
        sql<number>`sum(piece.cost_minor)`.as('minor'),
      ])
      .where(isOfGarment(garmentId, 'off'))
      .where('entry.kind', '=', 'joined')
      .where('off.kind', '=', 'cut')
      .where(inForce('entry'))
      .groupBy(['lot.cloth_id', 'lot.shade_id', 'off.other_use_id']),
  );
}

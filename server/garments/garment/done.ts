import { type NotNull, type RawBuilder, sql } from 'kysely';
import type { HeldStretch } from '../../../src/fit/short.ts';
import type { Reader } from '../../database/book.ts';
import { keptUntilWritten } from '../../database/kept.ts';
import { inList, type Param, prepared } from '../../database/statements.ts';
import { grouped } from '../../kit/grouped.ts';
import { countsAs } from '../../ledger/joined-lots.ts';

/** Strips that were cut for a tier from a lot, and the size that the tier asked for then. */
export interface CutFor {
  readonly tierId: number;
  readonly clothId: number;
  readonly shadeId: number;
  readonly lotId: number;
  readonly count: number;
  /** null where the tier's sizes were not kept */
  readonly size: { readonly depthTicks: number; readonly lengthTicks: number } | null;
}

/** A length held for a tier, of one piece. */
export interface HeldFor extends HeldStretch {
  readonly pieceCode: string;
  readonly clothId: number;
  readonly shadeId: number;
}

const tierSizes = prepared((db, tierIds: Param<readonly number[]>) =>
  db.selectFrom('tier_size').selectAll().where('tier_id', 'in', inList(tierIds)).orderBy('after_entry_id'),
);

/** All strips cut for tiers, from the ledger, in order of the first cut of each sum: cuts that were undone do not count. */
export function readCutStrips(reader: Reader, tierIds: readonly number[]): readonly CutFor[] {
  return cutStripsOf(reader, ...tierIds);
}

/** A page asks it for several of its parts. */
const cutStripsOf = keptUntilWritten((reader, ...tierIds: number[]): readonly CutFor[] => {
  if (tierIds.length === 0) return [];
  const sizes = reader.all(tierSizes(tierIds));
  const sizesOf = grouped(sizes, sizeKey);
  const sums = reader.all(cutSums(tierIds));
  const resized = new Set(
    sums.flatMap((sum) => {
      const changes = sizesOf.get(sizeKey({ tier_id: sum.tierId, cloth_id: sum.clothId })) ?? [];
      return changes.some(({ after_entry_id: after }) => after >= sum.first && after < sum.last)
        ? [sum.tierId]
        : [];
    }),
  );
  const apart = resized.size === 0 ? [] : reader.all(cutSumsBySize([...resized]));
  return [...sums.filter(({ tierId }) => !resized.has(tierId)), ...apart]
    .sort((a, b) => a.first - b.first)
    .map(({ first, last: _, ...cut }) => {
      const changes = sizesOf.get(sizeKey({ tier_id: cut.tierId, cloth_id: cut.clothId })) ?? [];
      const size = changes.findLast(({ after_entry_id: after }) => after < first);
      return {
        ...cut,
        size: size ? { depthTicks: size.cut_depth_ticks, lengthTicks: size.strip_length_ticks } : null,
      };
    });
});

const tiersOfGarments = prepared((db, garmentIds: Param<readonly number[]>) =>
  db.selectFrom('tier').select(['id', 'garment_id']).where('garment_id', 'in', inList(garmentIds)),
);

/** How many strips were cut for each garment; one for which none were cut has no entry. */
export function countCutStrips(reader: Reader, garmentIds: readonly number[]): Map<number, number> {
  if (garmentIds.length === 0) return new Map();
  const tiers = reader.all(tiersOfGarments(garmentIds));
  const sums = reader.all(cutCounts(tiers.map(({ id }) => id)));
  const garmentOf = new Map(tiers.map(({ id, garment_id }) => [id, garment_id]));
  const counts = new Map<number, number>();
  for (const { tierId, count } of sums) {
    const id = garmentOf.get(tierId ?? 0) ?? 0;
    counts.set(id, (counts.get(id) ?? 0) + count);
  }
  return counts;
}

/** The last entry before a cut after which its tier asked for another size of strip, of any of its cloths. */
const SIZED_AFTER = sql<number>`(SELECT max(after_entry_id) FROM tier_size
  WHERE tier_size.tier_id = entry.tier_id AND after_entry_id < entry.id)`;

/**
 * Strips by tier and lot, and by `apart`. By piece first, as the index has them in that order: many thousand cuts are
 * summed without reading one of their entries.
 */
function sumCuts(
  db: Reader['db'],
  tierIds: Param<readonly number[]>,
  apart: RawBuilder<number> | null = null,
) {
  const ofPieces = standingCuts(db, tierIds)
    .select((of) => [
      'entry.tier_id as tierId',
      'entry.piece_id as pieceId',
      of.fn.sum<number>('entry.strips').as('count'),
      of.fn.min('entry.id').as('first'),
      of.fn.max('entry.id').as('last'),
      (apart ?? sql<number>`0`).as('part'),
    ])
    .groupBy(['entry.tier_id', 'entry.piece_id'])
    .$if(apart !== null, (of) => of.groupBy('part'))
    .$narrowType<{ tierId: NotNull }>();
  return db
    .selectFrom(ofPieces.as('cut'))
    .innerJoin('piece', 'piece.id', 'cut.pieceId')
    .innerJoin('lot', 'lot.id', 'piece.lot_id')
    .select((of) => [
      'cut.tierId',
      countsAs().as('lotId'),
      'lot.cloth_id as clothId',
      'lot.shade_id as shadeId',
      of.fn.sum<number>('cut.count').as('count'),
      of.fn.min('cut.first').as('first'),
      of.fn.max('cut.last').as('last'),
    ])
    .groupBy(['cut.tierId', countsAs(), 'lot.cloth_id', 'lot.shade_id', 'cut.part']);
}

function standingCuts(db: Reader['db'], tierIds: Param<readonly number[]>) {
  const undone = db
    .selectFrom('entry as undoing')
    .select('undoing.reverses_id')
    .where('undoing.tier_id', 'in', inList(tierIds))
    .where('undoing.kind', '=', 'reversed')
    .where('undoing.reverses_id', 'is not', null);
  return db
    .selectFrom('entry')
    .where('entry.kind', '=', 'cut')
    .where('entry.tier_id', 'in', inList(tierIds))
    .where('entry.id', 'not in', undone);
}

const cutSums = prepared((db, tierIds: Param<readonly number[]>) => sumCuts(db, tierIds));
const cutSumsBySize = prepared((db, tierIds: Param<readonly number[]>) => sumCuts(db, tierIds, SIZED_AFTER));
const cutCounts = prepared((db, tierIds: Param<readonly number[]>) =>
  standingCuts(db, tierIds)
    .select((of) => ['entry.tier_id as tierId', of.fn.sum<number>('entry.strips').as('count')])
    .groupBy('entry.tier_id'),
);

function sizeKey(of: { readonly tier_id: number; readonly cloth_id: number }): string {
  return `${of.tier_id} ${of.cloth_id}`;
}

const heldStretches = prepared((db, tierIds: Param<readonly number[]>) =>
  db
    .selectFrom('hold')
    .innerJoin('piece', 'piece.id', 'hold.piece_id')
    .innerJoin('lot', 'lot.id', 'piece.lot_id')
    .select([
      'hold.tier_id as tierId',
      'hold.piece_id as pieceId',
      'hold.held_ticks as lengthTicks',
      'piece.code as pieceCode',
      countsAs().as('lotId'),
      'piece.usable_width_ticks as usableWidthTicks',
      'lot.cloth_id as clothId',
      'lot.shade_id as shadeId',
    ])
    .where('hold.tier_id', 'in', inList(tierIds))
    .where('hold.held_ticks', '>', 0)
    .$narrowType<{ tierId: NotNull }>()
    .orderBy('piece.id'),
);

/** All lengths held for tiers. */
export function readHeldStretches(reader: Reader, tierIds: readonly number[]): HeldFor[] {
  if (tierIds.length === 0) return [];
  return reader.all(heldStretches(tierIds));
}

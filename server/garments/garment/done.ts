import type { NotNull } from 'kysely';
import type { HeldStretch } from '../../../src/fit/short.ts';
import type { Reader } from '../../database/book.ts';
import { inForce } from '../../ledger/standing.ts';

/** Strips that were cut for a tier in one go, from a lot, and the size that the tier asked for then. */
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

/** All strips cut for tiers, from the ledger: cuts that were undone do not count. In order of cutting. */
export function readCutStrips(reader: Reader, tierIds: readonly number[]): CutFor[] {
  if (tierIds.length === 0) return [];
  const cuts = reader.all(
    reader.db
      .selectFrom('entry')
      .innerJoin('piece', 'piece.id', 'entry.piece_id')
      .innerJoin('lot', 'lot.id', 'piece.lot_id')
      .select([
        'entry.id as entryId',
        'entry.tier_id as tierId',
        'entry.strips',
        'piece.lot_id as lotId',
        'lot.cloth_id as clothId',
        'lot.shade_id as shadeId',
      ])
      .where('entry.kind', '=', 'cut')
      .where('entry.tier_id', 'in', tierIds)
      .where(inForce('entry'))
      .orderBy('entry.id'),
  );
  const sizes = reader.all(
    reader.db.selectFrom('tier_size').selectAll().where('tier_id', 'in', tierIds).orderBy('after_entry_id'),
  );
  return cuts.map(({ entryId, tierId, strips, ...lot }) => {
    const size = sizes.findLast(
      (of) => of.tier_id === tierId && of.cloth_id === lot.clothId && of.after_entry_id < entryId,
    );
    return {
      ...lot,
      tierId: tierId ?? 0,
      count: strips ?? 0,
      size: size ? { depthTicks: size.cut_depth_ticks, lengthTicks: size.strip_length_ticks } : null,
    };
  });
}

/** All lengths held for tiers. */
export function readHeldStretches(reader: Reader, tierIds: readonly number[]): HeldFor[] {
  if (tierIds.length === 0) return [];
  return reader.all(
    reader.db
      .selectFrom('hold')
      .innerJoin('piece', 'piece.id', 'hold.piece_id')
      .innerJoin('lot', 'lot.id', 'piece.lot_id')
      .select([
        'hold.tier_id as tierId',
        'hold.piece_id as pieceId',
        'hold.held_ticks as lengthTicks',
        'piece.code as pieceCode',
        'piece.lot_id as lotId',
        'piece.usable_width_ticks as usableWidthTicks',
        'lot.cloth_id as clothId',
        'lot.shade_id as shadeId',
      ])
      .where('hold.tier_id', 'in', tierIds)
      .where('hold.held_ticks', '>', 0)
      .$narrowType<{ tierId: NotNull }>()
      .orderBy('piece.id'),
  );
}

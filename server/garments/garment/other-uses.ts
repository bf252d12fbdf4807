import { sql } from 'kysely';
import { showLength, type Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { type Param, prepared } from '../../database/statements.ts';
import { piecePath } from '../../kit/paths.ts';
import { OTHER_USE_FACTS, sayOtherUse } from '../../ledger/other-use.ts';
import { inForce } from '../../ledger/standing.ts';

/**
 * What is held of pieces, or was cut of them, for a repair or another use of a garment besides its tiers. The oldest
 * first; what was undone or released is left out.
 */
export function readOtherUses(reader: Reader, garmentId: number, units: Units) {
  const show = (ticks: number) => (ticks === 0 ? '' : showLength(ticks, units, 'down'));
  return readUses(reader, garmentId)
    .filter(({ heldTicks, cutTicks }) => heldTicks > 0 || cutTicks > 0)
    .map(({ code, heldTicks, cutTicks, ...use }) => ({
      /** "repair: torn ruffle" */
      use: sayOtherUse({ ...use, useGarmentCode: null }),
      piece: { code, href: piecePath(code) },
      /** '' for nothing, as what is cut */
      held: show(heldTicks),
      cut: show(cutTicks),
    }));
}

const usesOf = prepared((db, garmentId: Param<number>) =>
  db
    .selectFrom('other_use')
    .innerJoin('garment as use_garment', 'use_garment.id', 'other_use.garment_id')
    .innerJoin('entry', 'entry.other_use_id', 'other_use.id')
    .innerJoin('piece', 'piece.id', 'entry.piece_id')
    .select(['piece.code', ...OTHER_USE_FACTS])
    .select([
      sql<number>`sum(entry.held_ticks)`.as('heldTicks'),
      sql<number>`-sum(iif(entry.kind = 'cut' AND ${inForce('entry')}, entry.length_ticks, 0))`.as(
        'cutTicks',
      ),
    ])
    .where('other_use.garment_id', '=', garmentId)
    .groupBy(['other_use.id', 'piece.id'])
    .orderBy('other_use.id'),
);

function readUses(reader: Reader, garmentId: number) {
  return reader.all(usesOf(garmentId));
}

/** The codes of the pieces of which something is held for another use of a garment. */
export function readHeldForOtherUses(reader: Reader, garmentId: number): string[] {
  const held = readUses(reader, garmentId).filter(({ heldTicks }) => heldTicks > 0);
  return [...new Set(held.map(({ code }) => code))];
}

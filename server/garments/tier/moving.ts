import { type Overlap, overlapsOf } from '../../../src/garment/tier-drops.ts';
import { showSize, type Units } from '../../../src/quantity/length-show.ts';
import type { Tx } from '../../database/book.ts';
import { readUnits } from '../../kit/workroom.ts';
import { invalid } from '../../refusal.ts';
import { type Garment, readGarment, type TierRecord } from '../garment/records.ts';
import { asTier, tiersIn } from '../garment/worked.ts';
import { planTier } from './planned.ts';
import { keepSize } from './store.ts';

/** A tier that hangs from the form below one whose lower edge was moved, and by how much the cover differs. */
interface Moved {
  readonly before: Overlap;
  readonly after: Overlap;
}

/** The next tier that is covered by more or less than before, because of what was changed above it; null where none is. */
function coverChanged(before: Garment, after: Garment): Moved | null {
  const coversBefore = overlapsOf(tiersIn(before).map(asTier));
  for (const now of overlapsOf(tiersIn(after).map(asTier))) {
    const then = coversBefore.find(
      ({ belowId, aboveId }) => belowId === now.belowId && aboveId === now.aboveId,
    );
    if (then && then.dropTicks === now.dropTicks && then.overTicks !== now.overTicks)
      return { before: then, after: now };
  }
  return null;
}

/**
 * After a tier was changed: moves all that hang below it from the form by as much as its lower edge was moved, or tells
 * that they stay where they were. Gives a sentence for the answer, '' where nothing below is covered otherwise.
 *
 * @throws {Refusal} invalid where a tier cannot hang so much further down or up
 */
export function followBelow(tx: Tx, before: Garment, move: boolean): string {
  const after = readGarment(tx, before.code);
  const moved = coverChanged(before, after);
  if (!moved) return '';
  const units = readUnits(tx, tx.personId);
  if (!move) return ` ${sayCover(moved, after, units)}`;
  const byTicks = moved.after.overTicks - moved.before.overTicks;
  const names = moveDown(tx, after, moved.after.dropTicks, byTicks);
  const size = showSize(Math.abs(byTicks), units, 'near');
  return ` ${names.join(', ')} moved ${byTicks > 0 ? 'down' : 'up'} by ${size} with it.`;
}

/** What a change would do to the cover of the next tier below, in a sentence; '' where it does nothing. */
export function sayCoverChange(before: Garment, after: Garment, units: Units): string {
  const moved = coverChanged(before, after);
  return moved ? `${sayCover(moved, after, units)} Tick “Move the tiers below” to move them with it.` : '';
}

function sayCover({ before, after }: Moved, { tiers }: Garment, units: Units): string {
  const nameOf = (id: number) => tiers.find((tier) => tier.id === id)?.name ?? '';
  const size = (ticks: number) => showSize(Math.abs(ticks), units, 'near');
  const cover = (ticks: number) =>
    ticks < 0 ? `leaves ${size(ticks)} bare above it` : `covers it by ${size(ticks)}`;
  const was = before.overTicks < 0 ? `${size(before.overTicks)} bare` : size(before.overTicks);
  return `${nameOf(after.belowId)} stays at a drop of ${size(after.dropTicks)}: ${nameOf(after.reachingId)} now ${cover(after.overTicks)}, before it was ${was}.`;
}

/** Moves every tier that hangs from the form at a drop or lower. Gives their names. */
function moveDown(tx: Tx, garment: Garment, fromTicks: number, byTicks: number): string[] {
  // What is placed by its lower edge stays where it is pinned.
  const below = tiersIn(garment).filter(
    ({ dropTicks, placedBy }) => dropTicks !== null && dropTicks >= fromTicks && placedBy === 'upper',
  );
  return moveTiers(tx, garment, below, byTicks);
}

/**
 * Moves tiers that hang from the form down by so much, up where it is below 0. Gives their names.
 *
 * @throws {Refusal} invalid where one of them cannot hang there
 */
export function moveTiers(tx: Tx, garment: Garment, tiers: readonly TierRecord[], byTicks: number): string[] {
  const units = readUnits(tx, tx.personId);
  for (const tier of tiers) {
    const figures = { ...tier, dropTicks: (tier.dropTicks ?? 0) + byTicks };
    const planned = figures.dropTicks < 0 ? null : planTier(tx, garment, figures, units);
    const [problem] = planned?.problems ?? [{ message: 'it would hang above the waist: enter less.' }];
    if (problem) throw invalid('move_below', `${tier.name} cannot be moved: ${problem.message}`);
    const state = { drop_ticks: figures.dropTicks, version: tier.version + 1 };
    tx.run(
      tx.db
        .updateTable('tier')
        .set({ ...state, changed_at: tx.at, changed_by_id: tx.personId })
        .where('id', '=', tier.id),
    );
    if (planned?.tier) keepSize(tx, tier.id, planned.tier);
  }
  return tiers.map(({ name }) => name);
}

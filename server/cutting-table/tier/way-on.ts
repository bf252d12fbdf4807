import { cuttingPath } from '../../kit/paths.ts';
import { conflict, Refusal } from '../../refusal.ts';
import type { TierAtTable } from './table.ts';

/** Does what the ledger may refuse; a conflict then leads back to the cut list, where other pieces are. */
export function withWayOn<T>({ garment, tier }: Pick<TierAtTable, 'garment' | 'tier'>, work: () => T): T {
  try {
    return work();
  } catch (error) {
    if (!(error instanceof Refusal) || error.kind !== 'conflict' || error.wayOn !== null) throw error;
    throw conflict(error.message, {
      text: `What else fits ${tier.name} of ${garment.code}`,
      href: cuttingPath(garment.code, tier.id),
    });
  }
}

import { cuttingPath } from '../../kit/paths.ts';
import { withWayOn } from '../../refusal.ts';
import type { TierAtTable } from './table.ts';

/** Does what the ledger may refuse; a conflict then leads back to the cut list, where other pieces are. */
export function withCutListWayOn<T>(
  { garment, tier }: Pick<TierAtTable, 'garment' | 'tier'>,
  work: () => T,
): T {
  return withWayOn(work, () => ({
    text: `What else fits ${tier.name} of ${garment.code}`,
    href: cuttingPath(garment.code, tier.id),
  }));
}

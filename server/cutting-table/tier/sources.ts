import type { Share } from '../../../src/fit/sharing.ts';
import {
  besideHeldPlan,
  type FreeForTier,
  type PartToCome,
  planTierCuts,
  rankFree,
  stripsNotHeld,
  type TierCuts,
} from '../../../src/fit/tier-cuts.ts';
import type { StoredPlan } from '../../cut-plans/store.ts';
import type { Reader } from '../../database/book.ts';
import type { Garment } from '../../garments/garment/records.ts';
import { readNeeds } from '../../short/queries.ts';
import { type FreeStretch, readFreeStretches } from '../../short/supply.ts';
import type { ShadeAtTable, TierAtTable } from './table.ts';

/** From where the strips of one shade can come. */
export interface Sources {
  readonly shade: ShadeAtTable;
  /** what this garment gets of the shade when what is free is shared out among all garments by their days */
  readonly share: Share<Garment> | null;
  /** free pieces that give a strip, the best first */
  readonly free: readonly FreeForTier<FreeStretch>[];
  /** free pieces of the same cloth and shade that give none */
  readonly tooSmall: readonly FreeStretch[];
  readonly plan: TierCuts;
  /** strips that the lays of a held plan have still to give */
  readonly plannedStrips: number;
  /** strips that are neither cut, nor in a held plan, nor covered by what is held beside it */
  readonly missingStrips: number;
}

/** The sources of every shade of a tier, in the tier's order. */
export function readSources(reader: Reader, table: TierAtTable): Sources[] {
  if (table.shades.length === 0) return [];
  const { garment } = table;
  const { lines, plans } = readNeeds(reader, { garmentCode: garment.code });
  const free = readFreeStretches(reader, {
    clothIds: [...new Set(table.shades.map(({ clothId }) => clothId))],
  });
  const ofGarment = plans.filter(({ garmentId }) => garmentId === garment.id);
  return table.shades.map((shade) => {
    const left = besideHeldPlan(shade, partsToCome(shade, ofGarment));
    const line = lines.find(({ cloth, shade: { id } }) => cloth.id === shade.clothId && id === shade.shadeId);
    const share = line?.shares.find((one) => one.garment.id === garment.id) ?? null;
    const mine = free.filter(
      (stretch) => stretch.clothId === shade.clothId && stretch.shadeId === shade.shadeId,
    );
    const fitting = rankFree(left, mine, share);
    const ids = new Set(fitting.map(({ pieceId }) => pieceId));
    return {
      shade,
      share,
      free: fitting,
      tooSmall: mine.filter(({ pieceId }) => !ids.has(pieceId)),
      plan: planTierCuts(left, share),
      plannedStrips: shade.leftStrips - left.leftStrips,
      missingStrips: stripsNotHeld(left),
    };
  });
}

/** What lays of held plans have still to give a tier in a shade. */
function partsToCome(shade: ShadeAtTable, plans: readonly StoredPlan[]): PartToCome[] {
  return plans
    .filter(({ clothId, shadeId }) => clothId === shade.clothId && shadeId === shade.shadeId)
    .flatMap(({ lays }) => lays.filter(({ state }) => state === 'held'))
    .flatMap(({ pieceId, parts }) =>
      parts.filter(({ tierId }) => tierId === shade.tierId).map((part) => ({ pieceId, ...part })),
    );
}

import { cutInDrops, stripsInStretch } from '../../../src/fit/drop.ts';
import type { StoredPlan } from '../../cut-plans/store.ts';
import type { Reader } from '../../database/book.ts';
import { readNeeds } from '../../short/queries.ts';
import { type FreeStretch, readFreeStretches } from '../../short/supply.ts';
import {
  type Candidate,
  missingStrips,
  type PlannedCuts,
  planTierCuts,
  rankFree,
  type ShareOfShade,
  shareOfShade,
} from './plan.ts';
import type { ShadeAtTable } from './shade-at-table.ts';
import type { TierAtTable } from './table.ts';

/** From where the strips of one shade can come. */
export interface Sources {
  readonly shade: ShadeAtTable;
  readonly share: ShareOfShade | null;
  /** free pieces that give a strip, the best first */
  readonly free: readonly Candidate[];
  /** free pieces of the same cloth and shade that give none */
  readonly tooSmall: readonly FreeStretch[];
  readonly plan: PlannedCuts;
  /** strips that the lays of a held plan have still to give */
  readonly plannedStrips: number;
  /** strips that are neither cut, nor in a held plan, nor covered by what is held beside it */
  readonly missingStrips: number;
}

/** The sources of every shade of a tier, in the tier's order. */
export function readSources(reader: Reader, table: TierAtTable): Sources[] {
  if (table.shades.length === 0) return [];
  const { lines, plans } = readNeeds(reader, { garmentCode: table.garment.code });
  const free = readFreeStretches(reader, [...new Set(table.shades.map(({ clothId }) => clothId))]);
  const ofGarment = plans.filter(({ garmentId }) => garmentId === table.garment.id);
  return table.shades.map((shade) => {
    const parts = partsToCome(shade, ofGarment);
    const plannedStrips = Math.min(
      shade.leftStrips,
      parts.reduce((sum, { strips }) => sum + strips, 0),
    );
    const rest = besidePlan(shade, parts, plannedStrips);
    const share = shareOfShade(lines, table.garment, shade);
    const mine = free.filter(
      (stretch) => stretch.clothId === shade.clothId && stretch.shadeId === shade.shadeId,
    );
    const fitting = rankFree(rest, mine, share);
    const ids = new Set(fitting.map(({ pieceId }) => pieceId));
    return {
      shade,
      share,
      free: fitting,
      tooSmall: mine.filter(({ pieceId }) => !ids.has(pieceId)),
      plan: planTierCuts(rest, share),
      plannedStrips,
      missingStrips: missingStrips(rest),
    };
  });
}

interface PartToCome {
  readonly pieceId: number;
  readonly strips: number;
  readonly lengthTicks: number;
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

/** A shade as it stands beside a held plan: what is held for the plan's lays is not there for other strips. */
function besidePlan(shade: ShadeAtTable, parts: readonly PartToCome[], plannedStrips: number): ShadeAtTable {
  const held = shade.held.flatMap((row) => {
    const planned = parts.reduce(
      (sum, part) => sum + (part.pieceId === row.pieceId ? part.lengthTicks : 0),
      0,
    );
    return row.lengthTicks > planned ? [{ ...row, lengthTicks: row.lengthTicks - planned }] : [];
  });
  return { ...shade, held, leftStrips: shade.leftStrips - plannedStrips };
}

/** The length of whole drops that gives `strips`, or as many of them as a stretch has room for; 0 where it has none. */
export function lengthToTake(
  shade: ShadeAtTable,
  stretch: { readonly usableWidthTicks: number; readonly lengthTicks: number },
  strips: number,
): number {
  const { usableWidthTicks: widthTicks, lengthTicks } = stretch;
  const wanted = Math.min(strips, stripsInStretch(shade, { widthTicks, lengthTicks }));
  return wanted === 0 ? 0 : (cutInDrops(shade, widthTicks, wanted)?.lengthTicks ?? 0);
}

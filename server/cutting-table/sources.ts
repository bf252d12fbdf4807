import { cutInDrops, stripsIn } from '../../src/drop.ts';
import type { Reader } from '../database/book.ts';
import { readNeeds } from '../short/queries.ts';
import { type FreeStretch, readFreeStretches } from '../short/supply.ts';
import {
  type Candidate,
  missingStrips,
  type PlannedCuts,
  planCuts,
  rankFree,
  type ShareOfShade,
  shareOfShade,
} from './plan.ts';
import type { ShadeAtTable, TierAtTable } from './table.ts';

/** From where the strips of one shade can come. */
export interface Sources {
  readonly shade: ShadeAtTable;
  readonly share: ShareOfShade | null;
  /** free pieces that give a strip, the best first */
  readonly free: readonly Candidate[];
  /** free pieces of the same cloth and shade that give none */
  readonly tooSmall: readonly FreeStretch[];
  readonly plan: PlannedCuts;
  /** strips that are neither cut nor covered by what is held */
  readonly missingStrips: number;
}

/** The sources of every shade of a tier, in the tier's order. */
export function readSources(reader: Reader, table: TierAtTable): Sources[] {
  if (table.shades.length === 0) return [];
  const { lines } = readNeeds(reader, { garmentCode: table.garment.code });
  const free = readFreeStretches(reader, [...new Set(table.shades.map(({ clothId }) => clothId))]);
  return table.shades.map((shade) => {
    const share = shareOfShade(lines, table.garment, shade);
    const mine = free.filter(
      (stretch) => stretch.clothId === shade.clothId && stretch.shadeId === shade.shadeId,
    );
    const fitting = rankFree(shade, mine, share);
    const ids = new Set(fitting.map(({ pieceId }) => pieceId));
    return {
      shade,
      share,
      free: fitting,
      tooSmall: mine.filter(({ pieceId }) => !ids.has(pieceId)),
      plan: planCuts(shade, share),
      missingStrips: missingStrips(shade),
    };
  });
}

/** The length of whole drops that gives `strips`, or as many of them as a stretch has room for; 0 where it has none. */
export function lengthToTake(
  shade: ShadeAtTable,
  stretch: { readonly usableWidthTicks: number; readonly lengthTicks: number },
  strips: number,
): number {
  const { usableWidthTicks: widthTicks, lengthTicks } = stretch;
  const wanted = Math.min(strips, stripsIn(shade, { widthTicks, lengthTicks }));
  return wanted === 0 ? 0 : (cutInDrops(shade, widthTicks, wanted)?.lengthTicks ?? 0);
}

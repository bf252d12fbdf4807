import { stripsInStretch } from '../../../src/fit/drop.ts';
import type { Share } from '../../../src/fit/sharing.ts';
import { type FitLay, fitStrips } from '../../../src/fit/strips.ts';
import type { Garment } from '../../garments/garment/records.ts';
import type { ShortLine } from '../../short/queries.ts';
import type { FreeStretch } from '../../short/supply.ts';
import { mayUseLot } from './lots.ts';
import type { ShadeAtTable } from './shade-at-table.ts';

/** What this garment gets of a shade when what is free is shared out among all garments by their days. */
export type ShareOfShade = Share<Garment>;

export function shareOfShade(
  lines: readonly ShortLine[],
  garment: Garment,
  shade: Pick<ShadeAtTable, 'clothId' | 'shadeId'>,
): ShareOfShade | null {
  const line = lines.find(
    ({ cloth, shade: named }) => cloth.id === shade.clothId && named.id === shade.shadeId,
  );
  return line?.shares.find((share) => share.garment.id === garment.id) ?? null;
}

/** Strips to cut off one piece for a tier, in whole drops. */
export interface PlannedCut {
  readonly pieceId: number;
  readonly from: 'held' | 'free';
  readonly columns: number;
  readonly drops: number;
  readonly strips: number;
  readonly lengthTicks: number;
}

export interface PlannedCuts {
  readonly cuts: readonly PlannedCut[];
  /** strips for which there is no cloth */
  readonly missingStrips: number;
}

/**
 * From which pieces the strips that are left come: first from what the tier holds, then from free pieces as Short
 * shares them out, so that no two tiers are told to cut the same cloth.
 */
export function planTierCuts(shade: ShadeAtTable, share: ShareOfShade | null): PlannedCuts {
  const demand = { ...shade, count: shade.leftStrips };
  const cuts: PlannedCut[] = [];
  let left = shade.leftStrips;
  const add = (pieceId: number, from: PlannedCut['from'], columns: number, wanted: number) => {
    const strips = Math.min(wanted, left);
    if (strips === 0) return;
    const drops = Math.floor((strips + columns - 1) / columns);
    cuts.push({ pieceId, from, columns, drops, strips, lengthTicks: drops * shade.depthTicks });
    left -= strips;
  };
  for (const lay of fitStrips([demand], shade.held, 'any').lays) {
    add(lay.pieceId, 'held', lay.columns, stripsFor(lay.strips, shade.tierId));
  }
  for (const lay of freeLays(shade, share, left)) {
    add(lay.pieceId, 'free', lay.columns, stripsFor(lay.strips, shade.tierId));
  }
  return { cuts, missingStrips: left };
}

/**
 * Short chooses the lot that gives most, whatever is held in others; where that is not the lot in use, the strips are
 * fitted into what is free of the lot in use, or the table would be told to mix lots.
 */
function freeLays(shade: ShadeAtTable, share: ShareOfShade | null, left: number): readonly FitLay[] {
  if (!share) return [];
  const { by, freeFit } = share.short;
  const { lays } = freeFit;
  // Lays of the planner hold strips of several tiers side by side; here one tier is cut drop by drop.
  if (by !== 'planner' && lays.every(({ lotId }) => mayUseLot(shade, lotId))) return lays;
  const allowed = share.free.filter(({ lotId }) => mayUseLot(shade, lotId));
  return fitStrips([{ ...shade, count: left }], allowed, 'any').lays;
}

/** A free piece that at least one strip can be cut from. */
export interface Candidate extends FreeStretch {
  /** strips that fit into what is free of it */
  readonly strips: number;
  readonly lotNote: '' | 'in use' | 'best lot' | 'another lot';
}

/**
 * The free pieces of a shade that give a strip, those of lots that may be used first, the best lot before others.
 * Within a lot the shortest that gives all strips still missing comes first, then those that give most.
 */
export function rankFree(
  shade: ShadeAtTable,
  free: readonly FreeStretch[],
  share: ShareOfShade | null,
): Candidate[] {
  const missing = missingStrips(shade);
  const best = share?.short.freeLotIds ?? [];
  const rank = { 'in use': 0, 'best lot': 1, '': 2, 'another lot': 3 } as const;
  const candidates = free.flatMap((stretch): Candidate[] => {
    const { usableWidthTicks: widthTicks, lengthTicks } = stretch;
    const strips = stripsInStretch(shade, { widthTicks, lengthTicks });
    return strips === 0 ? [] : [{ ...stretch, strips, lotNote: noteOf(shade, stretch.lotId, best) }];
  });
  const givesAll = ({ strips }: Candidate) => (strips >= missing ? 0 : 1);
  return candidates.sort(
    (a, b) =>
      rank[a.lotNote] - rank[b.lotNote] ||
      (shade.lots !== 'any' ? a.lotId - b.lotId : 0) ||
      givesAll(a) - givesAll(b) ||
      (a.strips >= missing ? a.lengthTicks - b.lengthTicks : b.strips - a.strips) ||
      a.pieceId - b.pieceId,
  );
}

/** Strips that are neither cut nor covered by what the tier holds. */
export function missingStrips(shade: ShadeAtTable): number {
  return fitStrips([{ ...shade, count: shade.leftStrips }], shade.held, 'any').missingStrips;
}

function noteOf(shade: ShadeAtTable, lotId: number, best: readonly number[]): Candidate['lotNote'] {
  if (shade.inUse.some((lot) => lot.lotId === lotId)) return 'in use';
  if (!mayUseLot(shade, lotId)) return 'another lot';
  return shade.lots !== 'any' && best.includes(lotId) ? 'best lot' : '';
}

function stripsFor(strips: readonly { readonly tierId: number; readonly count: number }[], tierId: number) {
  return strips.reduce((sum, row) => sum + (row.tierId === tierId ? row.count : 0), 0);
}

import { isLotAllowed } from '../cut-plan/stock.ts';
import type { LotRule } from '../garment/band.ts';
import type { StripDemand } from '../garment/need.ts';
import { type StripSize, stripsInStretch } from './cut-length.ts';
import type { Share } from './sharing.ts';
import type { HeldStretch } from './short.ts';
import { type FitLay, fitStrips, type Stretch } from './strips.ts';

/** The strips of one shade of a tier as they are cut at the table, one cut length after the other. */
export interface ShadeToCut extends StripDemand {
  /** of the garment's whole need of this shade: all its tiers must match each other */
  readonly lots: LotRule;
  /** pairs of lots that may meet, where that is the rule */
  readonly meets: readonly (readonly [number, number])[];
  /** strips still wanted, 0 where more were cut than are wanted */
  readonly leftStrips: number;
  /** what this tier holds of this cloth and shade */
  readonly held: readonly HeldStretch[];
  /** lots that the garment has cut or holds of this cloth and shade */
  readonly inUse: readonly { readonly lotId: number }[];
}

/** What the garment gets of the shade when what is free is shared out. */
type ShareOfFree = Pick<Share<unknown>, 'short' | 'free'>;

/** Whether cloth of a lot may be used for a shade as its lot rule stands; a lot that is in use always may. */
export function mayUseLot(shade: Pick<ShadeToCut, 'lots' | 'meets' | 'inUse'>, lotId: number): boolean {
  const fixedLotIds = shade.inUse.map((lot) => lot.lotId);
  return fixedLotIds.includes(lotId) || isLotAllowed({ ...shade, fixedLotIds }, lotId);
}

/** Strips that are neither cut nor covered by what the tier holds. */
export function stripsNotHeld(shade: ShadeToCut): number {
  return fitStrips([{ ...shade, count: shade.leftStrips }], shade.held, 'any').missingStrips;
}

/** What a lay of a held plan has still to give a tier, and how much of its piece is held for that, in ticks. */
export interface PartToCome {
  readonly pieceId: number;
  readonly strips: number;
  readonly lengthTicks: number;
}

/** A shade as it stands beside a held plan: what is held for the plan's lays is not there for other strips. */
export function besideHeldPlan<S extends ShadeToCut>(shade: S, parts: readonly PartToCome[]): S {
  const held = shade.held.flatMap((row) => {
    const plannedTicks = sumOf(parts.filter(({ pieceId }) => pieceId === row.pieceId).map(lengthOf));
    return row.lengthTicks > plannedTicks ? [{ ...row, lengthTicks: row.lengthTicks - plannedTicks }] : [];
  });
  const plannedStrips = sumOf(parts.map(({ strips }) => strips));
  return { ...shade, held, leftStrips: Math.max(0, shade.leftStrips - plannedStrips) };
}

function lengthOf({ lengthTicks }: PartToCome): number {
  return lengthTicks;
}

/** Strips to cut off one piece for a tier, in whole cut lengths. */
export interface TierCut {
  readonly pieceId: number;
  readonly from: 'held' | 'free';
  readonly columns: number;
  readonly cutLengths: number;
  readonly strips: number;
  readonly lengthTicks: number;
}

export interface TierCuts {
  readonly cuts: readonly TierCut[];
  /** strips for which there is no cloth */
  readonly missingStrips: number;
}

/**
 * From which pieces the strips that are left come: first from what the tier holds, then from free pieces as they are
 * shared out, so that no two tiers are told to cut the same cloth. null shares out nothing.
 */
export function planTierCuts(shade: ShadeToCut, share: ShareOfFree | null): TierCuts {
  const cuts: TierCut[] = [];
  let left = shade.leftStrips;
  const add = (from: TierCut['from'], { pieceId, columns, strips: of }: FitLay) => {
    const wanted = sumOf(of.filter(({ tierId }) => tierId === shade.tierId).map(({ count }) => count));
    const strips = Math.min(wanted, left);
    if (strips === 0) return;
    const cutLengths = Math.ceil(strips / columns);
    cuts.push({ pieceId, from, columns, cutLengths, strips, lengthTicks: cutLengths * shade.depthTicks });
    left -= strips;
  };
  const held = fitStrips([{ ...shade, count: left }], shade.held, 'any').lays;
  for (const lay of held) add('held', lay);
  for (const lay of freeLays(shade, share, left)) add('free', lay);
  return { cuts, missingStrips: left };
}

/**
 * Sharing chooses the lot that gives most, whatever is held in others; where that is not the lot in use, the strips are
 * fitted into what is free of the lot in use, or the table would be told to mix lots.
 */
function freeLays(shade: ShadeToCut, share: ShareOfFree | null, left: number): readonly FitLay[] {
  if (!share) return [];
  const { by, freeFit } = share.short;
  const { lays } = freeFit;
  // Lays of the planner hold strips of several tiers side by side; here one tier is cut one length after the other.
  if (by !== 'planner' && lays.every(({ lotId }) => mayUseLot(shade, lotId))) return lays;
  const allowed = share.free.filter(({ lotId }) => mayUseLot(shade, lotId));
  return fitStrips([{ ...shade, count: left }], allowed, 'any').lays;
}

/** A free piece that at least one strip can be cut from. */
export type FreeForTier<S extends Stretch = Stretch> = S & {
  /** strips that fit into what is free of it */
  readonly strips: number;
  readonly lotNote: '' | 'in use' | 'best lot' | 'another lot';
};

/**
 * The free pieces of a shade that give a strip, those of lots that may be used first, the best lot before others.
 * Within a lot the shortest that gives all strips still missing comes first, then those that give most.
 */
export function rankFree<S extends Stretch>(
  shade: ShadeToCut,
  free: readonly S[],
  share: ShareOfFree | null,
): FreeForTier<S>[] {
  const missing = stripsNotHeld(shade);
  const best = share?.short.freeLotIds ?? [];
  const rank = { 'in use': 0, 'best lot': 1, '': 2, 'another lot': 3 } as const;
  const candidates = free.flatMap((stretch): FreeForTier<S>[] => {
    const { usableWidthTicks: widthTicks, lengthTicks } = stretch;
    const strips = stripsInStretch(shade, { widthTicks, lengthTicks });
    return strips === 0 ? [] : [{ ...stretch, strips, lotNote: noteOf(shade, stretch.lotId, best) }];
  });
  const givesAll = ({ strips }: FreeForTier) => (strips >= missing ? 0 : 1);
  return candidates.sort(
    (a, b) =>
      rank[a.lotNote] - rank[b.lotNote] ||
      (shade.lots !== 'any' ? a.lotId - b.lotId : 0) ||
      givesAll(a) - givesAll(b) ||
      (a.strips >= missing ? a.lengthTicks - b.lengthTicks : b.strips - a.strips) ||
      a.pieceId - b.pieceId,
  );
}

function noteOf(shade: ShadeToCut, lotId: number, best: readonly number[]): FreeForTier['lotNote'] {
  if (shade.inUse.some((lot) => lot.lotId === lotId)) return 'in use';
  if (!mayUseLot(shade, lotId)) return 'another lot';
  return shade.lots !== 'any' && best.includes(lotId) ? 'best lot' : '';
}

/**
 * Of the strips that are left, those that fit into what is held of a piece; where that gives none, what is free of it
 * counts too. 1 at least. Lengths in ticks.
 */
export function stripsFromPiece(
  shade: StripSize & Pick<ShadeToCut, 'leftStrips'>,
  piece: { readonly widthTicks: number; readonly heldTicks: number; readonly freeTicks: number },
): number {
  const { widthTicks, heldTicks, freeTicks } = piece;
  const held = stripsInStretch(shade, { widthTicks, lengthTicks: heldTicks });
  const fitting =
    held > 0 ? held : stripsInStretch(shade, { widthTicks, lengthTicks: heldTicks + freeTicks });
  return Math.max(1, Math.min(shade.leftStrips, fitting));
}

function sumOf(numbers: readonly number[]): number {
  return numbers.reduce((sum, one) => sum + one, 0);
}

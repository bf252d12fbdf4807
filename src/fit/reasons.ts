import type { StripDemand } from '../garment/need.ts';
import type { Fit, Stretch } from './strips.ts';

/** Why strips are short although there may be length; `pieces` counts pieces, lengths are in ticks. */
export type Reason =
  /** No length of this cloth and shade is free in any lot. */
  | { readonly kind: 'nothing free' }
  /** Every free piece that counts is cut up to its end. */
  | { readonly kind: 'used up'; readonly pieces: number; readonly usedTicks: number }
  /** Free pieces with no room for the shallowest of the strips that are short. */
  | {
      readonly kind: 'too short';
      readonly pieces: number;
      readonly freeTicks: number;
      readonly depthTicks: number;
    }
  /** Free pieces narrower than the shortest of the strips that are short. */
  | {
      readonly kind: 'too narrow';
      readonly pieces: number;
      readonly freeTicks: number;
      readonly lengthTicks: number;
    }
  /** Free pieces that are long and wide enough, but whose flaws leave no room for a strip that is short. */
  | { readonly kind: 'flaws'; readonly pieces: number; readonly freeTicks: number }
  /** What would be left at the ends of the free pieces that are cut: no strip that is short fits into it. */
  | { readonly kind: 'ends'; readonly pieces: number; readonly freeTicks: number }
  /** Free in other lots, where one lot is wanted: so many of the strips that are short would fit there. */
  | {
      readonly kind: 'other lots';
      readonly lotIds: readonly number[];
      readonly freeTicks: number;
      readonly strips: number;
    }
  /** Held for this need, but in another lot than the rest. */
  | { readonly kind: 'held in other lots'; readonly pieces: number; readonly heldTicks: number }
  /** Held for a tier, but giving no further strip of it. */
  | { readonly kind: 'held unused'; readonly pieces: number; readonly heldTicks: number };

export interface FitFindings {
  /** What is short, by demand. */
  readonly missing: readonly StripDemand[];
  /** Free stretches of the lots that count, and what is cut from them. */
  readonly here: readonly Stretch[];
  readonly freeFit: Fit;
  /** Free stretches of all other lots, and what is short that would fit there. */
  readonly others: readonly Stretch[];
  readonly elsewhere: Fit;
  readonly held: readonly Stretch[];
  readonly heldFits: readonly Fit[];
  readonly lotIds: readonly number[];
}

/** The reasons for what is short, in the order in which a person would ask; none where nothing is short. */
export function reasonsOf(findings: FitFindings): readonly Reason[] {
  const { here, others, elsewhere, lotIds } = findings;
  const wanting = findings.missing.filter(({ count }) => count > 0);
  if (wanting.length === 0) {
    return [];
  }
  const reasons: Reason[] = [];
  if (lengthOf(here) + lengthOf(others) === 0) {
    reasons.push({ kind: 'nothing free' });
  }
  reasons.push(...reasonsHere(wanting, here, findings.freeFit));
  if (lengthOf(others) > 0) {
    const otherLotIds = [...new Set(others.map(({ lotId }) => lotId))].sort((a, b) => a - b);
    const strips = elsewhere.madeStrips;
    reasons.push({ kind: 'other lots', lotIds: otherLotIds, freeTicks: lengthOf(others), strips });
  }
  const apart = findings.held.filter(({ lotId }) => !lotIds.includes(lotId));
  if (lengthOf(apart) > 0) {
    reasons.push({ kind: 'held in other lots', pieces: piecesOf(apart), heldTicks: lengthOf(apart) });
  }
  const together = findings.held.filter(({ lotId }) => lotIds.includes(lotId));
  const unusedTicks = lengthOf(together) - findings.heldFits.reduce((sum, fit) => sum + fit.usedTicks, 0);
  if (unusedTicks > 0) {
    reasons.push({ kind: 'held unused', pieces: piecesOf(together), heldTicks: unusedTicks });
  }
  return reasons;
}

function reasonsHere(wanting: readonly StripDemand[], here: readonly Stretch[], freeFit: Fit): Reason[] {
  const lengthTicks = Math.min(...wanting.map((demand) => demand.lengthTicks));
  const depthTicks = Math.min(...wanting.map((demand) => demand.depthTicks));
  const cutIds = new Set(freeFit.lays.map(({ pieceId }) => pieceId));
  const some = here.filter((stretch) => stretch.lengthTicks > 0);
  const cut = some.filter(({ pieceId }) => cutIds.has(pieceId));
  const whole = some.filter(({ pieceId }) => !cutIds.has(pieceId));
  const narrow = whole.filter(({ usableWidthTicks }) => usableWidthTicks < lengthTicks);
  const wide = whole.filter(({ usableWidthTicks }) => usableWidthTicks >= lengthTicks);
  const isLong = (stretch: Stretch) => stretch.lengthTicks >= depthTicks && (stretch.flaws ?? []).length > 0;
  const flawed = wide.filter(isLong);
  const short = wide.filter((stretch) => !isLong(stretch));
  const endTicks = lengthOf(cut) - freeFit.usedTicks;
  const reasons: Reason[] = [];
  if (short.length > 0) {
    reasons.push({ kind: 'too short', pieces: piecesOf(short), freeTicks: lengthOf(short), depthTicks });
  }
  if (narrow.length > 0) {
    reasons.push({ kind: 'too narrow', pieces: piecesOf(narrow), freeTicks: lengthOf(narrow), lengthTicks });
  }
  if (flawed.length > 0) {
    reasons.push({ kind: 'flaws', pieces: piecesOf(flawed), freeTicks: lengthOf(flawed) });
  }
  if (endTicks > 0) {
    reasons.push({ kind: 'ends', pieces: piecesOf(cut), freeTicks: endTicks });
  }
  if (some.length > 0 && reasons.length === 0) {
    reasons.push({ kind: 'used up', pieces: piecesOf(cut), usedTicks: freeFit.usedTicks });
  }
  return reasons;
}

function piecesOf(stretches: readonly Stretch[]): number {
  return new Set(stretches.map(({ pieceId }) => pieceId)).size;
}

function lengthOf(stretches: readonly Stretch[]): number {
  return stretches.reduce((sum, { lengthTicks }) => sum + lengthTicks, 0);
}

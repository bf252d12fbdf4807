import type { LaidStrips } from './lay.ts';

/** Strips of one size side by side in a lay: `columns` columns of `stack` strips each, one behind the other. */
export interface Columns extends LaidStrips {
  readonly kindId: number;
  /** True where the strip's length lies along the piece. */
  readonly turned: boolean;
}

/** One straight cut length of the full width of a piece, and how it is slit. */
export interface Lay {
  readonly pieceId: number;
  /** Which of the pieces that are alike, from 0. */
  readonly copy: number;
  readonly fromTicks: number;
  readonly heightTicks: number;
  readonly columns: readonly Columns[];
}

/** What a plan takes from one piece. Charged is what is used, and the end too where it is too short to be useful. */
export interface PieceUse {
  readonly pieceId: number;
  readonly copy: number;
  readonly lotId: number;
  readonly widthTicks: number;
  readonly lengthTicks: number;
  readonly usedTicks: number;
  readonly chargedTicks: number;
  readonly leftTicks: number;
}

/** A cut plan: its lays in the order of cutting, piece by piece, and what it takes. */
export interface Cutting {
  readonly lays: readonly Lay[];
  readonly pieces: readonly PieceUse[];
  /** Strips made and missing, by kind in the job's order. */
  readonly made: readonly number[];
  readonly missing: readonly number[];
  readonly missingStrips: number;
  readonly lotIds: readonly number[];
  readonly usedTicks: number;
  readonly chargedTicks: number;
  /** Length × width, in square ticks: pieces of several widths are compared by area. */
  readonly chargedArea: number;
  readonly usedArea: number;
  readonly stripArea: number;
  readonly how: PlanMethod;
}

/** What found a plan. */
export type PlanMethod =
  | 'formula'
  | 'exact'
  | 'naive'
  | 'careful'
  | 'through flaws'
  | 'fill'
  | 'rounding'
  | 'regions'
  | 'polish';

/** Least short, then fewest lots, then least charged, then fewest pieces cut; below 0 where `a` is better. */
export function comparePlans(a: Cutting, b: Cutting): number {
  return (
    a.missingStrips - b.missingStrips ||
    a.lotIds.length - b.lotIds.length ||
    a.chargedArea - b.chargedArea ||
    a.usedArea - b.usedArea ||
    a.pieces.length - b.pieces.length
  );
}

/** Lays that are slit alike count once: how often a cutter must set out anew. */
export function differentLays(lays: readonly Lay[]): number {
  return new Set(lays.map(slitting)).size;
}

/** How a lay is slit, whatever piece it lies on. */
export function slitting(lay: Lay): string {
  const columns = lay.columns.map(
    (c) => `${c.kindId}${c.turned ? 't' : ''} ${c.leftTicks} ${c.columns}×${c.stack}`,
  );
  return `${lay.heightTicks}: ${columns.join(', ')}`;
}

/** Stretches of full width that are left useful at the end of pieces that are cut, longest first, in ticks. */
export function remnants(plan: Cutting): number[] {
  return plan.pieces
    .filter(({ chargedTicks, usedTicks }) => chargedTicks === usedTicks)
    .map(({ leftTicks }) => leftTicks)
    .filter((ticks) => ticks > 0)
    .sort((a, b) => b - a);
}

/** Cut lengths to pull where up to `plies` pieces or folds of cloth lie on each other: lays slit alike go together. */
export function actualCuts(lays: readonly Lay[], plies: number): number {
  const alike = new Map<string, number>();
  for (const lay of lays) alike.set(slitting(lay), (alike.get(slitting(lay)) ?? 0) + 1);
  return [...alike.values()].reduce(
    (sum, cutLengths) => sum + Math.floor((cutLengths + plies - 1) / plies),
    0,
  );
}

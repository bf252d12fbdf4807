/** Pleats by their kind: what they take, and strips that hold whole pleats so that no join shows. Lengths in ticks. */

export const PLEAT_KINDS = ['knife', 'box', 'inverted', 'double-box'] as const;
export type PleatKind = (typeof PLEAT_KINDS)[number];

export interface PleatedBand {
  readonly kind: PleatKind;
  readonly finishedTicks: number;
  readonly closing: 'ring' | 'open';
  /** visible width of a knife pleat, or the face of a box */
  readonly faceTicks: number;
  /** between two boxes; not used for knife pleats */
  readonly gapTicks: number;
  /** how deep each fold lies under */
  readonly underTicks: number;
  /** cut length of a strip, across the cloth its usable width */
  readonly stripTicks: number;
  /** taken off each end of a strip in a join */
  readonly seamTicks: number;
  /** whether joins may fall anywhere, not only under a fold */
  readonly joinsMayShow: boolean;
}

export interface CutPleats {
  /** cloth that one pleat takes, and what is seen of it */
  readonly perPleatTicks: number;
  readonly shownTicks: number;
  readonly pleats: number;
  /** whole pleats in a strip; 0 where joins may show */
  readonly perStrip: number;
  readonly strips: number;
  /** the pleated length that comes out, at least what was asked */
  readonly gotTicks: number;
  /** cloth by finished length */
  readonly fullness: number;
  /** what a strip has over and above its whole pleats, which goes into its seams */
  readonly overTicks: number;
}

export type PleatsWorkedOut =
  | { readonly ok: true; readonly cut: CutPleats }
  | { readonly ok: false; readonly field: 'under' | 'strip'; readonly message: string };

/** Folds under a pleat: one pair to a knife pleat, two to a box, four to a double box. */
const FOLDS: Readonly<Record<PleatKind, number>> = { knife: 2, box: 4, inverted: 4, 'double-box': 8 };

/** Cloth for one pleat: p + 2u, b + g + 4u, b + g + 8u (geometry); with folds that meet 3p, 3b and 5b. */
export function clothOfPleat(
  kind: PleatKind,
  { faceTicks, gapTicks, underTicks }: Pick<PleatedBand, 'faceTicks' | 'gapTicks' | 'underTicks'>,
): number {
  return shownOfPleat(kind, { faceTicks, gapTicks }) + FOLDS[kind] * underTicks;
}

function shownOfPleat(
  kind: PleatKind,
  { faceTicks, gapTicks }: Pick<PleatedBand, 'faceTicks' | 'gapTicks'>,
): number {
  return kind === 'knife' ? faceTicks : faceTicks + gapTicks;
}

/** The fold under a pleat whose folds meet behind it: as deep as a knife pleat is wide, half as deep as a box. */
export function fullUnder(kind: PleatKind, faceTicks: number): number {
  return kind === 'knife' ? faceTicks : Math.floor(faceTicks / 2);
}

/**
 * Counts pleats and strips. Breadths are joined at an inner fold (The New Dressmaker, 1921, p. 99), so a strip holds whole
 * pleats: k = ⌊(w − 2s) ÷ pleat⌋, strips = ⌈pleats ÷ k⌉; where joins may show, as many as a gathered band of that length.
 * Refused where the fold is wider than what hides it, or no whole pleat goes on a strip.
 */
export function cutPleats(band: PleatedBand): PleatsWorkedOut {
  const { kind, finishedTicks, faceTicks, gapTicks, underTicks, stripTicks, seamTicks } = band;
  const shown = shownOfPleat(kind, band);
  const per = clothOfPleat(kind, band);
  // Knife pleats may overlap each other; the folds of a box meet behind it at the most.
  if (kind !== 'knife' && underTicks * 2 > faceTicks + gapTicks) {
    return {
      ok: false,
      field: 'under',
      message: 'The folds of a box meet behind it: enter half its face or less.',
    };
  }
  const usable = stripTicks - 2 * seamTicks;
  const perStrip = Math.floor(usable / per);
  const pleats = Math.ceil(finishedTicks / shown);
  if (usable <= 0 || (perStrip === 0 && !band.joinsMayShow)) {
    return {
      ok: false,
      field: 'strip',
      message: 'No whole pleat goes on a strip of this length: enter a longer strip or smaller pleats.',
    };
  }
  const ends = band.closing === 'open' ? 2 * seamTicks : 0;
  const strips = band.joinsMayShow ? Math.ceil((pleats * per + ends) / usable) : Math.ceil(pleats / perStrip);
  return {
    ok: true,
    cut: {
      perPleatTicks: per,
      shownTicks: shown,
      pleats,
      perStrip: band.joinsMayShow ? 0 : perStrip,
      strips,
      gotTicks: pleats * shown,
      fullness: per / shown,
      overTicks: band.joinsMayShow ? 0 : usable - perStrip * per,
    },
  };
}

/** The radius of a sunray pleating at its narrow edge, in ticks: d ÷ (hem pleat ÷ waist pleat − 1). Throws RangeError where it does not widen. */
export function sunrayRadius(waistPleatTicks: number, hemPleatTicks: number, depthTicks: number): number {
  if (hemPleatTicks <= waistPleatTicks) throw new RangeError('a sunray pleat is wider at the hem');
  return Math.round(depthTicks / (hemPleatTicks / waistPleatTicks - 1));
}

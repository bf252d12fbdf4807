/**
 * In how many baths a cloth is dyed in one vessel: as few as hold it, alike wherever that can be, each of whole
 * strips where the cloth is cut into strips. Every bath more is one more chance of another shade.
 */
import { apportion } from '../quantity/money.ts';
import { DISPLACED_ML_PER_KG, MOST_BATHS } from './vessel.ts';

/** What is to be shared: all of the cloth and its liquor, and what one vessel may hold of both, in µL. */
export interface Sharing {
  readonly massMg: number;
  readonly volumeUl: number;
  readonly holdsUl: number;
  /** Strips that the cloth is cut into; each takes the same cloth. Left out, the cloth may be parted anywhere. */
  readonly strips?: number;
}

/** One way of sharing: `parts` are strips in each bath, or ones where no strips are counted. */
export interface SplitOption {
  readonly parts: readonly number[];
  readonly equal: boolean;
  /** Strips that must be dyed over and above those wanted, so that the baths come out alike. */
  readonly addedStrips: number;
}

export type SplitOptions =
  | { readonly ok: true; readonly options: readonly SplitOption[] }
  | { readonly ok: false; readonly reason: string };

/**
 * The ways of sharing, fewest baths first; of as many baths those alike come first, and of those the one that takes
 * no cloth more. Refused where one strip's cloth with its liquor is more than the vessel holds, and beyond 60 baths.
 */
export function splitOptions(sharing: Sharing): SplitOptions {
  const loadUl = sharing.volumeUl + displacedUl(sharing.massMg);
  const { holdsUl, strips } = sharing;
  if (holdsUl <= 0) return tooMany();
  if (strips === undefined) {
    const count = Math.ceil(loadUl / holdsUl);
    if (count > MOST_BATHS) return tooMany();
    return { ok: true, options: [{ parts: new Array<number>(count).fill(1), equal: true, addedStrips: 0 }] };
  }
  const mostStrips = Math.floor((holdsUl * strips) / loadUl);
  if (mostStrips < 1) {
    const litres = (ul: number): string => `${(ul / 1_000_000).toFixed(2)} L`;
    const reason =
      `One strip's cloth with its liquor takes ${litres(loadUl / strips)}, and the vessel may be filled with ` +
      `${litres(holdsUl)}: use a larger vessel or shorter strips.`;
    return { ok: false, reason };
  }
  const fewest = Math.ceil(strips / mostStrips);
  if (fewest > MOST_BATHS) return tooMany();
  return { ok: true, options: [...ofStrips(strips, mostStrips, fewest)].sort(byLots) };
}

/** Volume that cloth pushes up, in µL. */
export function displacedUl(massMg: number): number {
  return Math.round((massMg * DISPLACED_ML_PER_KG) / 1000);
}

function ofStrips(strips: number, most: number, fewest: number): SplitOption[] {
  const each = Math.ceil(strips / fewest);
  const options: SplitOption[] = [evenly(strips, fewest)];
  if (strips % fewest !== 0 && each <= most) {
    const added = each * fewest - strips;
    options.push({ parts: new Array<number>(fewest).fill(each), equal: true, addedStrips: added });
  }
  for (let count = fewest + 1; count <= Math.min(strips, MOST_BATHS); count += 1) {
    if (strips % count !== 0) continue;
    options.push(evenly(strips, count));
    break;
  }
  return options;
}

/** Whole strips shared out so that no bath has two more than another, the larger ones first. */
function evenly(strips: number, count: number): SplitOption {
  const least = Math.floor(strips / count);
  const more = strips % count;
  const parts = Array.from({ length: count }, (_, at) => (at < more ? least + 1 : least));
  return { parts, equal: more === 0, addedStrips: 0 };
}

function byLots(a: SplitOption, b: SplitOption): number {
  return (
    a.parts.length - b.parts.length || Number(b.equal) - Number(a.equal) || a.addedStrips - b.addedStrips
  );
}

function tooMany(): SplitOptions {
  const reason = `That takes more than ${MOST_BATHS} baths: use a larger vessel or dye less cloth at a time.`;
  return { ok: false, reason };
}

/** A length of one piece that goes into one bath. */
export interface Length {
  readonly piece: number;
  readonly lengthTicks: number;
  readonly strips: number;
}

/**
 * Which lengths of which pieces go into each bath, so that every bath gets its strips whole: a strip takes `stripTicks`
 * before dyeing, and `parts` are the strips of each bath. What a piece is longer than its strips is shared among them,
 * so that baths of as many strips are alike and nothing is left over; a piece shorter than a strip goes with the last
 * bath. Undefined where the pieces do not make those strips.
 */
export function lengthsOfBaths(
  piecesTicks: readonly number[],
  stripTicks: number,
  parts: readonly number[],
): readonly (readonly Length[])[] | undefined {
  const wanted = parts.reduce((sum, part) => sum + part, 0);
  if (stripTicks <= 0 || wholeStrips(piecesTicks, stripTicks) !== wanted) return undefined;
  const baths: Length[][] = parts.map(() => []);
  const open = [...parts];
  piecesTicks.forEach((ticks, piece) => {
    const shares = sharesOf(Math.floor(ticks / stripTicks), open);
    const lengths = shares.every((strips) => strips === 0)
      ? shares.map((_, at) => (at === shares.length - 1 ? ticks : 0))
      : apportion(ticks, shares);
    lengths.forEach((lengthTicks, at) => {
      if (lengthTicks > 0) baths[at]?.push({ piece, lengthTicks, strips: shares[at] ?? 0 });
    });
  });
  return baths;
}

/** A length that is dyed and what it weighs. */
export interface WeighedLength {
  readonly lengthTicks: number;
  readonly massMg: number;
}

/**
 * Which lengths go into each bath where no strips are counted, by shares of the mass. Bath after bath is filled from
 * piece after piece, so that few pieces are cut through and few lots meet in a bath; with `spread` each piece is shared
 * over all baths, as cloths of unlike fibres must be where every bath gets its share of the same dye. Throws RangeError
 * when there are no shares.
 */
export function lengthsByMass(
  pieces: readonly WeighedLength[],
  shares: readonly number[],
  spread: boolean,
): readonly (readonly Length[])[] {
  const baths: Length[][] = shares.map(() => []);
  const massMg = pieces.reduce((sum, piece) => sum + piece.massMg, 0);
  const open = [...apportion(massMg, shares)];
  pieces.forEach(({ lengthTicks, massMg: left }, piece) => {
    const parts = spread ? shares : sharesOf(left, open);
    apportion(lengthTicks, parts).forEach((ticks, at) => {
      if (ticks > 0) baths[at]?.push({ piece, lengthTicks: ticks, strips: 0 });
    });
  });
  return baths;
}

/** Whole strips in pieces, each piece for itself. */
export function wholeStrips(piecesTicks: readonly number[], stripTicks: number): number {
  return piecesTicks.reduce((sum, ticks) => sum + Math.floor(ticks / stripTicks), 0);
}

/** How much of a piece, in strips or mg, each bath takes, in order; what it takes is no longer open. */
function sharesOf(whole: number, open: number[]): number[] {
  let left = whole;
  return open.map((wanted, at) => {
    const taken = Math.min(wanted, left);
    open[at] = wanted - taken;
    left -= taken;
    return taken;
  });
}

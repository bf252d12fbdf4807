/** Which of a workroom's swatches can be learned from together, and why the others cannot. */

import type { Backing, Observer, Viewing } from '../colour-reading.ts';
import type { Lab } from '../lab.ts';
import { type DyedSwatch, dyesIn } from './dye-model.ts';

/** A piece of cloth that was dyed, or left undyed, and whose colour was read. */
export interface KnownSwatch {
  /** what it is called, as "W3.2" */
  readonly name: string;
  /** empty where it is undyed; in % on weight of fabric */
  readonly dyes: readonly { readonly name: string; readonly percent: number }[];
  readonly lab: Lab;
  readonly viewing: Viewing;
  /** 19 of 20 such readings lie within this, in units of CIEDE2000 */
  readonly uncertainty: number;
  readonly state: 'dry' | 'wet';
  /** what lay below; null where nobody wrote it down */
  readonly backing: Backing | null;
  /** whether it was dyed on the undyed ground that is asked for */
  readonly onGround: boolean;
  /** given up by who judged it: unlevel, or gone wrong */
  readonly isGivenUp: boolean;
}

export const WHYS_LEFT_OUT = [
  'given up',
  'another ground',
  'fluorescent',
  'wet',
  'another light',
  'shows through',
  'another observer',
  'few depths',
  'unknown dye',
  'older',
] as const;
export type WhyLeftOut = (typeof WHYS_LEFT_OUT)[number];

export interface SwatchLeftOut {
  readonly name: string;
  readonly why: WhyLeftOut;
}

/** So many mixtures tell enough; learning takes longer with each, and the newest are nearest to how is dyed now (our rule). */
export const MOST_MIXTURES = 80;

/** Each dye alone at so many depths, or its curve is not known. */
export const LEAST_DEPTHS = 3;

/** Swatches of one cloth that were read alike. */
export interface SiftedSwatches {
  readonly observer: Observer;
  readonly kept: readonly KnownSwatch[];
  readonly leftOut: readonly SwatchLeftOut[];
}

/**
 * Leaves out what cannot be compared with the rest: figures of two observers never meet in one set. Without `observer`, that
 * of most swatches.
 */
export function siftSwatches(
  known: readonly KnownSwatch[],
  asked: { readonly observer: Observer | null; readonly fluorescent: ReadonlySet<string> },
): SiftedSwatches {
  const found = known.map((swatch) => ({ swatch, why: whyLeftOut(swatch, asked.fluorescent) }));
  const good = found.flatMap(({ swatch, why }) => (why === null ? [swatch] : []));
  const countOf = (observer: Observer) => good.filter(({ viewing }) => viewing.observer === observer).length;
  const observer = asked.observer ?? (countOf('10') > countOf('2') ? '10' : '2');
  const kept = good.filter(({ viewing }) => viewing.observer === observer);
  // A swatch that was read for both observers is told by the reading that counts.
  const names = new Set(kept.map(({ name }) => name));
  return {
    observer,
    kept,
    leftOut: found.flatMap(({ swatch: { name, viewing }, why }) => {
      const told = why ?? (viewing.observer === observer ? null : 'another observer');
      return told === null || names.has(name) ? [] : [{ name, why: told }];
    }),
  };
}

function whyLeftOut(swatch: KnownSwatch, fluorescent: ReadonlySet<string>): WhyLeftOut | null {
  const { dyes, viewing, state, backing, onGround, isGivenUp } = swatch;
  if (isGivenUp) return 'given up';
  if (!onGround) return 'another ground';
  if (dyes.some(({ name }) => fluorescent.has(name))) return 'fluorescent';
  if (state === 'wet') return 'wet';
  if (viewing.illuminant !== 'D65') return 'another light';
  return backing === 'white' || backing === 'black' ? 'shows through' : null;
}

/** Swatches as amounts of each dye of one list. */
export interface SwatchSet {
  readonly observer: Observer;
  readonly dyes: readonly string[];
  readonly swatches: readonly DyedSwatch[];
  /** what each swatch is called */
  readonly names: readonly string[];
  /** of every dye, the deepest swatch it was alone in, in %; 0 where there is none */
  readonly deepest: readonly number[];
}

/** A set to learn from, with what is lacking: it is enough where there is an undyed swatch and one dye or more. */
export interface OwnSet {
  readonly set: SwatchSet;
  readonly hasUndyed: boolean;
  /** dyes with too few depths, which are left out with all their mixtures */
  readonly lacking: readonly { readonly dye: string; readonly depths: number }[];
  readonly leftOut: readonly SwatchLeftOut[];
  readonly isEnough: boolean;
}

/** The swatches of a cloth that has enough of its own. */
export function ownSet({ observer, kept, leftOut }: SiftedSwatches): OwnSet {
  const depths = new Map<string, Set<number>>();
  for (const { dyes } of kept)
    for (const { name, percent } of dyes) {
      const known = depths.get(name) ?? new Set();
      if (dyes.length === 1) known.add(percent);
      depths.set(name, known);
    }
  const names = [...depths.keys()].sort();
  const enough = names.filter((name) => (depths.get(name)?.size ?? 0) >= LEAST_DEPTHS);
  const lacking = names.flatMap((dye) => {
    const count = depths.get(dye)?.size ?? 0;
    return count < LEAST_DEPTHS ? [{ dye, depths: count }] : [];
  });
  const { set, others, older } = setOf(kept, enough, observer);
  const hasUndyed = set.swatches.some(({ amounts }) => dyesIn(amounts) === 0);
  return {
    set,
    hasUndyed,
    lacking,
    leftOut: [
      ...leftOut,
      ...others.map((name) => ({ name, why: 'few depths' as const })),
      ...older.map((name) => ({ name, why: 'older' as const })),
    ],
    isEnough: hasUndyed && enough.length > 0,
  };
}

/** The swatches of another cloth, by the dyes that are known from elsewhere. */
export interface OntoSet {
  readonly set: SwatchSet;
  readonly hasUndyed: boolean;
  /** dyes of which this cloth has no swatch alone: 1 % is to be dyed of each */
  readonly missing: readonly string[];
  readonly leftOut: readonly SwatchLeftOut[];
}

export function ontoSet({ observer, kept, leftOut }: SiftedSwatches, dyes: readonly string[]): OntoSet {
  const { set, others } = setOf(kept, dyes, observer);
  return {
    set,
    hasUndyed: set.swatches.some(({ amounts }) => dyesIn(amounts) === 0),
    missing: dyes.filter((_, dye) => set.deepest[dye] === 0),
    leftOut: [...leftOut, ...others.map((name) => ({ name, why: 'unknown dye' as const }))],
  };
}

/** The swatches that have only these dyes, and the names of the others. */
function setOf(kept: readonly KnownSwatch[], dyes: readonly string[], observer: Observer) {
  const isOf = ({ dyes: used }: KnownSwatch) => used.every(({ name }) => dyes.includes(name));
  const known = kept.filter(isOf);
  const mixtures = known.filter(({ dyes: used }) => used.length > 1);
  const older = mixtures.slice(0, Math.max(0, mixtures.length - MOST_MIXTURES));
  const own = known.filter((each) => !older.includes(each));
  const swatches = own.map(({ dyes: used, lab, uncertainty }) => ({
    amounts: amountsOf(used, dyes),
    lab,
    uncertainty,
  }));
  const deepest = dyes.map((_, dye) =>
    swatches.reduce(
      (most, { amounts }) => (dyesIn(amounts) === 1 ? Math.max(most, amounts[dye] ?? 0) : most),
      0,
    ),
  );
  const set: SwatchSet = { observer, dyes, swatches, names: own.map(({ name }) => name), deepest };
  const others = kept.filter((each) => !isOf(each)).map(({ name }) => name);
  return { set, others, older: older.map(({ name }) => name) };
}

/** Amounts in the order of a list of dyes; a dye that is named twice counts twice. */
export function amountsOf(
  used: readonly { readonly name: string; readonly percent: number }[],
  dyes: readonly string[],
): number[] {
  return dyes.map((dye) => used.reduce((sum, { name, percent }) => (name === dye ? sum + percent : sum), 0));
}

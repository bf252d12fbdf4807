import type { HowRead } from './colour-reading.ts';
import { deltaE00, type Lab } from './lab.ts';
import { type ConditionColour, conditionOf, type LotRead } from './lot-colour.ts';

/** Up to where lots may meet, and from where they are kept apart; between them somebody looks. Hundredths of CIEDE2000. */
export interface ShadeBands {
  readonly meetCenti: number;
  readonly apartCenti: number;
}

/** Our rule, for a pair in one photo; a unit of CMC is where the trade draws its one line (AATCC 173). */
export const USUAL_BANDS: ShadeBands = { meetCenti: 60, apartCenti: 150 };

/** The bands are for differences as sure as a pair in one photo: what is less sure widens the middle by the rest. */
const SURE_ENOUGH = 1;

export type LotVerdict = 'may meet' | 'look' | 'apart' | 'unknown';

/** A judgement that somebody made of two lots, dry, the earliest first: seen by eye, or measured as a pair. */
export type LotJudgement =
  | { readonly how: 'eye'; readonly verdict: Exclude<LotVerdict, 'unknown'> }
  | {
      readonly how: 'instrument' | 'photo';
      readonly deltaE: number;
      readonly uncertainty: number;
      /** the first lot less the other; null where only the size was told */
      readonly difference: Lab | null;
    };

/** How far two lots are apart, by what, and how sure that is. CIEDE2000. */
export interface LotDifference {
  readonly by: 'photo' | 'instrument' | 'readings';
  readonly deltaE: number;
  readonly uncertainty: number;
  /** the first lot less the other; null where only the size is known */
  readonly difference: Lab | null;
  /** by readings: how the less sure of the two was read */
  readonly how: HowRead | null;
}

/** Why readings of two lots are no answer. */
export type NotCompared = 'none' | 'one' | 'wet' | 'light' | 'layers';

/** Whether two lots may be sewn side by side, by what, and how sure that is. */
export interface PairAnswer {
  readonly verdict: LotVerdict;
  readonly by: 'eye' | LotDifference['by'] | 'nothing';
  /** what was measured, also where an eye outranks it */
  readonly measured: LotDifference | null;
  /** null where something was measured */
  readonly notCompared: NotCompared | null;
}

/**
 * Whether two lots may be sewn side by side. A judgement by eye outranks what was measured, the last one counts; of what was
 * measured the surest counts, a pair seen together before two readings that are no surer. Readings are compared only in the same
 * light, for the same observer, in as many layers over the same backing.
 */
export function judgeLots(
  one: LotRead,
  other: LotRead,
  judgements: readonly LotJudgement[],
  bands: ShadeBands,
): PairAnswer {
  const { found, notCompared } = compareReadings(one, other);
  const measured = surestOf([...judgements.flatMap(measuredPair).toReversed(), ...(found ? [found] : [])]);
  const seen = judgements.findLast((judgement) => judgement.how === 'eye');
  const why = measured ? null : notCompared;
  if (seen?.how === 'eye') return { verdict: seen.verdict, by: 'eye', measured, notCompared: why };
  if (!measured) return { verdict: 'unknown', by: 'nothing', measured: null, notCompared: why };
  return { verdict: verdictOf(measured, bands), by: measured.by, measured, notCompared: null };
}

function measuredPair(judgement: LotJudgement): LotDifference[] {
  if (judgement.how === 'eye') return [];
  const { how: by, deltaE, uncertainty, difference } = judgement;
  return [{ by, deltaE, uncertainty, difference, how: null }];
}

/** The first of the surest. */
function surestOf(differences: readonly LotDifference[]): LotDifference | null {
  const least = Math.min(...differences.map(({ uncertainty }) => uncertainty));
  return differences.find(({ uncertainty }) => uncertainty === least) ?? null;
}

const ROUNDING = 1e-9;

/** What bands say of a difference: the less sure it is, the more must be looked at. */
export function verdictOf(
  { deltaE, uncertainty }: Pick<LotDifference, 'deltaE' | 'uncertainty'>,
  { meetCenti, apartCenti }: ShadeBands,
): Exclude<LotVerdict, 'unknown'> {
  const wider = Math.max(0, uncertainty - SURE_ENOUGH);
  if (deltaE <= meetCenti / 100 - wider + ROUNDING) return 'may meet';
  return deltaE > apartCenti / 100 + wider + ROUNDING ? 'apart' : 'look';
}

function compareReadings(
  one: LotRead,
  other: LotRead,
): { readonly found: LotDifference | null; readonly notCompared: NotCompared } {
  const pairs = one.colours.flatMap((first) =>
    other.colours
      .filter((second) => conditionOf(first) === conditionOf(second))
      .map((second) => differenceOf(first, second)),
  );
  return { found: surestOf(pairs), notCompared: whyNot(one, other) };
}

function differenceOf(one: ConditionColour, other: ConditionColour): LotDifference {
  const { l, a, b } = one.lab;
  return {
    by: 'readings',
    deltaE: deltaE00(one.lab, other.lab),
    uncertainty: Math.hypot(one.uncertainty, other.uncertainty),
    difference: { l: l - other.lab.l, a: a - other.lab.a, b: b - other.lab.b },
    how: one.uncertainty >= other.uncertainty ? one.how : other.how,
  };
}

function whyNot(one: LotRead, other: LotRead): NotCompared {
  if (one.readings === 0 && other.readings === 0) return 'none';
  if (one.readings === 0 || other.readings === 0) return 'one';
  if (one.colours.length === 0 || other.colours.length === 0) return 'wet';
  const isSameLight = one.colours.some((first) =>
    other.colours.some(
      (second) => first.illuminant === second.illuminant && first.observer === second.observer,
    ),
  );
  return isSameLight ? 'layers' : 'light';
}

/** The amounts of a batch: what was asked for, and its baths with the lengths that go into each. */

import { apportion } from '../quantity/money.ts';
import type { CardVessel } from './batch.ts';
import { type DyeStrength, lengthToPrepareTicks, type StockStrength } from './bath.ts';
import { type BathPlan, type PlannedBaths, planBath } from './bath-plan.ts';
import type { Content, FibreCode } from './fibre.ts';
import { type Bench, benchOf } from './measuring.ts';
import { fastestHeating } from './ramp.ts';
import type { Recipe } from './recipe.ts';
import { regainBpOf } from './regain.ts';
import { displacedUl, type Length, lengthsByMass, lengthsOfBaths, wholeStrips } from './splitting.ts';
import { fillMl } from './vessel.ts';

/** How the amounts of a batch are asked for, beside its lengths and its vessel. */
export interface AmountsAsked {
  /** the cloth on the scale, as its basis says, which goes before its area */
  readonly scaleMg: number | null;
  readonly basis: 'oven-dry' | 'conditioned' | null;
  /** what a strip is long after dyeing, so that no bath gets a broken one */
  readonly stripTicks: number | null;
  /** the liquor ratio in thousandths, where it is not left to the recipe and the cloth */
  readonly ratioMilli: number | null;
  /** strips or shares in each bath, where they are not left to the plan */
  readonly parts: readonly number[];
  readonly stocks: readonly StockStrength[];
  /** of dyes whose lot is not as strong as the recipe's */
  readonly strengths: readonly DyeStrength[];
  /** of thread, trim, elastic and lining in the bath, beside those that the recipe names */
  readonly also: readonly FibreCode[];
}

export const NOTHING_ASKED: AmountsAsked = {
  scaleMg: null,
  basis: null,
  stripTicks: null,
  ratioMilli: null,
  parts: [],
  stocks: [],
  strengths: [],
  also: [],
};

/** What a card keeps of how it was worked out. */
export interface BatchAmounts
  extends Pick<BathPlan, 'parts' | 'equal' | 'options' | 'proposed' | 'balanceMg' | 'measuresWith' | 'offBp'>,
    Pick<AmountsAsked, 'scaleMg' | 'basis' | 'stripTicks'> {
  /** a card of before has none */
  readonly strengths?: readonly DyeStrength[];
  /** what air-dry cloth holds more than oven-dry, in hundredths of a percent, where that was weighed */
  readonly regainBp?: number;
  /** by area, whether or not the scale goes before it; null where a mass per area is not known */
  readonly areaMg: number | null;
  readonly dyedMg: number;
  /** what a strip takes before dyeing; null where none are counted */
  readonly stripSentTicks: number | null;
  /** which lengths go into each bath; a card of before has none where no strips are counted */
  readonly lengths: readonly (readonly Length[])[];
  /** the fastest heating of the ramp, in °C a minute */
  readonly rateCPerMinute: number;
}

export interface PieceToPlan {
  readonly lengthTicks: number;
  readonly massMg: number;
  /** the bath that it goes into, from 1, where that is not left to the plan */
  readonly bath?: number | null;
}

export interface ToPlan extends Bench {
  readonly recipe: Recipe;
  readonly content: Content;
  readonly vessel: CardVessel;
  /** the pot of each bath where they are not all alike; one that is not named is the vessel */
  readonly pots: readonly (CardVessel | null)[];
  readonly pieces: readonly PieceToPlan[];
  /** true where the pieces take the dye unlike, so that each goes into every bath */
  readonly spread: boolean;
  readonly massMg: number;
  readonly areaMg: number | null;
  readonly dyedBp: number;
  readonly dyedMg: number;
  readonly shrinkageBp: number;
  readonly asked: AmountsAsked;
}

export type PlannedAmounts =
  | { readonly ok: true; readonly plan: BathPlan; readonly amounts: BatchAmounts }
  | { readonly ok: false; readonly at: 'strip' | 'baths' | BathsRefused['at']; readonly reason: string };

type BathsRefused = Extract<PlannedBaths, { readonly ok: false }>;

/**
 * Plans the baths of a batch: whole strips where they are counted, the mass of each bath that of its lengths. Refused,
 * with what it is about, where no length makes a whole strip, a bath that lengths are put into is skipped, a pot does not
 * hold its bath, and as `planBath` refuses.
 */
export function planAmounts(given: ToPlan): PlannedAmounts {
  const { asked, pieces } = given;
  const sentTicks =
    asked.stripTicks === null ? null : lengthToPrepareTicks(asked.stripTicks, given.shrinkageBp);
  const ticks = pieces.map(({ lengthTicks }) => lengthTicks);
  const strips = sentTicks === null ? null : wholeStrips(ticks, sentTicks);
  if (strips === 0) {
    const reason = 'None of these lengths makes a whole strip once it has shrunk.';
    return { ok: false, at: 'strip', reason };
  }
  const planned = pieces.some(({ bath }) => bath != null)
    ? bathsAsPlaced(given)
    : sentTicks === null || strips === null
      ? bathsByMass(given)
      : bathsOfStrips(given, strips, sentTicks);
  if (!planned.ok) return planned;
  const { plan, lengths } = planned;
  const full = whyPotTooSmall(given, plan);
  if (full !== '') return { ok: false, at: 'vessel', reason: full };
  const { options, equal, proposed, parts } = plan;
  return {
    ok: true,
    plan,
    amounts: {
      parts,
      equal,
      options,
      proposed,
      ...benchOf(given),
      scaleMg: asked.scaleMg,
      basis: asked.basis,
      stripTicks: asked.stripTicks,
      strengths: asked.strengths,
      ...(asked.basis === 'oven-dry' ? { regainBp: regainBpOf(given.content) } : {}),
      areaMg: given.areaMg,
      dyedMg: given.dyedMg,
      stripSentTicks: sentTicks,
      lengths,
      rateCPerMinute: fastestHeating(given.recipe, given.content),
    },
  };
}

type PlacedBaths =
  | { readonly ok: true; readonly plan: BathPlan; readonly lengths: readonly (readonly Length[])[] }
  | Extract<PlannedAmounts, { readonly ok: false }>;

/** Baths of whole strips: the mass of each is that of its lengths. */
function bathsOfStrips(given: ToPlan, strips: number, sentTicks: number): PlacedBaths {
  const { asked, pieces } = given;
  const first = bathsOf(given, strips);
  if (!first.ok) return first;
  const { parts } = first.plan;
  const ticks = pieces.map(({ lengthTicks }) => lengthTicks);
  const lengths = lengthsOfBaths(ticks, sentTicks, parts);
  if (!lengths) return { ...first, lengths: [] };
  const massesMg = lengths.map((bath) => massOf(bath, lengths, pieces, given.massMg));
  const planned = bathsOf({ ...given, asked: { ...asked, parts } }, strips, massesMg);
  return planned.ok ? { ...planned, lengths } : planned;
}

/** Baths of cloth that may be parted anywhere. */
function bathsByMass(given: ToPlan): PlacedBaths {
  const planned = bathsOf(given, null);
  if (!planned.ok) return planned;
  return { ...planned, lengths: lengthsByMass(given.pieces, planned.plan.parts, given.spread) };
}

/** Baths as the lengths were put into them. */
function bathsAsPlaced(given: ToPlan): PlacedBaths {
  const { asked, pieces } = given;
  const refuse = (reason: string): PlacedBaths => ({ ok: false, at: 'baths', reason });
  if (asked.stripTicks !== null || asked.parts.length > 0) {
    return refuse('Lengths are put into baths already: leave the strip and the shares blank.');
  }
  if (pieces.some(({ bath }) => bath == null)) {
    return refuse('Say the bath of every length, or of none.');
  }
  const count = Math.max(...pieces.map(({ bath }) => bath ?? 0));
  const lengths = Array.from({ length: count }, (_, at) =>
    pieces.flatMap(({ bath, lengthTicks }, piece) =>
      bath === at + 1 ? [{ piece, lengthTicks, strips: 0 }] : [],
    ),
  );
  const empty = lengths.findIndex((bath) => bath.length === 0);
  if (empty >= 0) return refuse(`Bath ${empty + 1} has no length: number the baths from 1 without a gap.`);
  const massesMg = lengths.map((bath) => massOf(bath, lengths, pieces, given.massMg));
  const planned = bathsOf({ ...given, asked: { ...asked, parts: massesMg } }, null, massesMg);
  return planned.ok ? { ...planned, lengths } : planned;
}

/** The pot of a bath, counted from 0. */
export function potOf(given: Pick<ToPlan, 'vessel' | 'pots'>, at: number): CardVessel {
  return given.pots[at] ?? given.vessel;
}

function whyPotTooSmall(given: ToPlan, { baths }: BathPlan): string {
  const over = baths.findIndex(
    (bath, at) =>
      bath.volumeUl + displacedUl(bath.massMg) >
      fillMl(potOf(given, at).volumeMl, given.recipe.temperatureC) * 1000,
  );
  const bath = baths[over];
  if (!bath || given.pots.length === 0) return '';
  const pot = potOf(given, over);
  const loadL = (bath.volumeUl + displacedUl(bath.massMg)) / 1_000_000;
  const holdsL = fillMl(pot.volumeMl, given.recipe.temperatureC) / 1000;
  return `Bath ${over + 1} makes ${loadL.toFixed(2)} L of liquor and cloth, and ${pot.name} may be filled with ${holdsL.toFixed(2)} L.`;
}

function bathsOf(given: ToPlan, strips: number | null, massesMg?: readonly number[]) {
  const { asked } = given;
  return planBath({
    massMg: given.massMg,
    dyedBp: given.dyedBp,
    recipe: given.recipe,
    stocks: asked.stocks,
    strengths: asked.strengths,
    ...benchOf(given),
    // Shares are held against the pot of each bath afterwards.
    vesselMl: asked.parts.length > 0 ? largestMl(given) : given.vessel.volumeMl,
    ...(strips === null ? {} : { strips }),
    ...(asked.parts.length === 0 ? {} : { parts: asked.parts }),
    ...(massesMg ? { massesMg } : {}),
  });
}

function largestMl({ vessel, pots }: ToPlan): number {
  return Math.max(vessel.volumeMl, ...pots.map((pot) => pot?.volumeMl ?? 0));
}

/** The mass of the lengths of one bath; a piece's mass is shared by length, to the milligram. */
function massOf(
  bath: readonly Length[],
  all: readonly (readonly Length[])[],
  pieces: readonly PieceToPlan[],
  massMg: number,
): number {
  const masses = apportion(
    massMg,
    pieces.map((piece) => piece.massMg),
  );
  return bath.reduce((sum, { piece, lengthTicks }) => {
    const lengths = all.flat().filter((length) => length.piece === piece);
    const shares = apportion(
      masses[piece] ?? 0,
      lengths.map((length) => length.lengthTicks),
    );
    const place = lengths.findIndex((length) => bath.includes(length));
    return sum + (lengthTicks > 0 ? (shares[place] ?? 0) : 0);
  }, 0);
}

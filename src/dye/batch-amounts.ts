/** The amounts of a batch: what was asked for, and its baths with the lengths that go into each. */

import { apportion } from '../quantity/money.ts';
import type { CardVessel } from './batch.ts';
import { lengthToPrepareTicks, type StockStrength } from './bath.ts';
import { type BathPlan, type PlannedBaths, planBath } from './bath-plan.ts';
import type { Content } from './fibre.ts';
import { type Bench, benchOf } from './measuring.ts';
import { fastestHeating } from './ramp.ts';
import type { Recipe } from './recipe.ts';
import { regainBpOf } from './regain.ts';
import { type Length, lengthsOfBaths, wholeStrips } from './splitting.ts';

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
}

export const NOTHING_ASKED: AmountsAsked = {
  scaleMg: null,
  basis: null,
  stripTicks: null,
  ratioMilli: null,
  parts: [],
  stocks: [],
};

/** What a card keeps of how it was worked out. */
export interface BatchAmounts
  extends Pick<BathPlan, 'parts' | 'equal' | 'options' | 'proposed' | 'balanceMg' | 'measuresWith' | 'offBp'>,
    Pick<AmountsAsked, 'scaleMg' | 'basis' | 'stripTicks'> {
  /** what air-dry cloth holds more than oven-dry, in hundredths of a percent, where that was weighed */
  readonly regainBp?: number;
  /** by area, whether or not the scale goes before it; null where a mass per area is not known */
  readonly areaMg: number | null;
  readonly dyedMg: number;
  /** what a strip takes before dyeing; null where none are counted */
  readonly stripSentTicks: number | null;
  /** which lengths go into each bath; empty where the cloth is parted anywhere */
  readonly lengths: readonly (readonly Length[])[];
  /** the fastest heating of the ramp, in °C a minute */
  readonly rateCPerMinute: number;
}

export interface PieceToPlan {
  readonly lengthTicks: number;
  readonly massMg: number;
}

export interface ToPlan extends Bench {
  readonly recipe: Recipe;
  readonly content: Content;
  readonly vessel: CardVessel;
  readonly pieces: readonly PieceToPlan[];
  readonly massMg: number;
  readonly areaMg: number | null;
  readonly dyedBp: number;
  readonly dyedMg: number;
  readonly shrinkageBp: number;
  readonly asked: AmountsAsked;
}

export type PlannedAmounts =
  | { readonly ok: true; readonly plan: BathPlan; readonly amounts: BatchAmounts }
  | { readonly ok: false; readonly at: 'strip' | BathsRefused['at']; readonly reason: string };

type BathsRefused = Extract<PlannedBaths, { readonly ok: false }>;

/**
 * Plans the baths of a batch: whole strips where they are counted, the mass of each bath that of its lengths. Refused,
 * with what it is about, where no length makes a whole strip, and as `planBath` refuses.
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
  const first = bathsOf(given, strips);
  if (!first.ok) return first;
  const { parts } = first.plan;
  const lengths = sentTicks === null ? undefined : lengthsOfBaths(ticks, sentTicks, parts);
  const massesMg = lengths?.map((bath) => massOf(bath, lengths, pieces, given.massMg));
  const planned = massesMg ? bathsOf({ ...given, asked: { ...asked, parts } }, strips, massesMg) : first;
  if (!planned.ok) return planned;
  const { options, equal, proposed } = planned.plan;
  return {
    ok: true,
    plan: planned.plan,
    amounts: {
      parts,
      equal,
      options,
      proposed,
      ...benchOf(given),
      scaleMg: asked.scaleMg,
      basis: asked.basis,
      stripTicks: asked.stripTicks,
      ...(asked.basis === 'oven-dry' ? { regainBp: regainBpOf(given.content) } : {}),
      areaMg: given.areaMg,
      dyedMg: given.dyedMg,
      stripSentTicks: sentTicks,
      lengths: lengths ?? [],
      rateCPerMinute: fastestHeating(given.recipe, given.content),
    },
  };
}

function bathsOf(given: ToPlan, strips: number | null, massesMg?: readonly number[]) {
  const { asked } = given;
  return planBath({
    massMg: given.massMg,
    dyedBp: given.dyedBp,
    recipe: given.recipe,
    stocks: asked.stocks,
    ...benchOf(given),
    vesselMl: given.vessel.volumeMl,
    ...(strips === null ? {} : { strips }),
    ...(asked.parts.length === 0 ? {} : { parts: asked.parts }),
    ...(massesMg ? { massesMg } : {}),
  });
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

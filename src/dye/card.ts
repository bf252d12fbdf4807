/**
 * The card of a batch: what its cloth weighs, the bath and every amount, shared over baths by what the vessel holds,
 * and what to beware of.
 */

import { TICKS_PER } from '../quantity/length.ts';
import { apportion } from '../quantity/money.ts';
import type { CardVessel, LengthToDye, RecipeOfBatch } from './batch.ts';
import {
  type AmountsAsked,
  type BatchAmounts,
  type PlannedAmounts,
  planAmounts,
  potOf,
} from './batch-amounts.ts';
import { afterShrinkage, type Bath, clothMassMg, dyedMassMg } from './bath.ts';
import { type BathBefore, cardWarnings, whyNotInVessel } from './card-warnings.ts';
import { type Caution, cautionsFor } from './cautions.ts';
import { isSheer } from './crease-care.ts';
import { verdictOn, type Warning } from './dye-advice.ts';
import { type WantedPh, wantedPh } from './expected-ph.ts';
import { type Content, contentTogether } from './fibre.ts';
import { liesInBath } from './label-class.ts';
import { labelDifferences } from './maker-label.ts';
import { type Bench, benchOf } from './measuring.ts';
import type { Recipe } from './recipe.ts';
import { commercialMassMg } from './regain.ts';
import { type ClothInBath, ratioFor, sheerBathCare, withRatio } from './sheer-bath.ts';
import { lengthsByMass } from './splitting.ts';
import { undyedLotWarnings } from './undyed-lots.ts';
import type { DatedWater } from './water.ts';

/** One length of a batch: its mass is length × width × mass per area. */
export interface CardPiece {
  readonly code: string;
  readonly cloth: string;
  readonly lot: string;
  readonly lengthTicks: number;
  readonly widthTicks: number;
  readonly massPerAreaMgM2: number;
  readonly massMg: number;
  /** what is expected back after shrinkage */
  readonly expectedTicks: number;
}

/**
 * What the bench is told: plain figures, so that a card that was started can be kept as it was. Masses are mg,
 * lengths ticks, volumes of baths µL and of vessels mL, shares hundredths of a percent.
 */
export interface Card {
  readonly recipe: {
    readonly id: number;
    readonly name: string;
    readonly version: number;
    readonly method: string;
  } & Pick<
    Recipe,
    | 'dyeClass'
    | 'liquorRatioMilli'
    | 'temperatureC'
    | 'holdMinutes'
    | 'pHFrom'
    | 'pHTo'
    | 'heatRateMilli'
    | 'coolRateMilli'
    | 'fixing'
    | 'also'
    | 'marks'
  >;
  readonly shade: string;
  readonly vessel: CardVessel;
  /** the pot of each bath where they are not all the vessel */
  readonly pots?: readonly CardVessel[];
  readonly pieces: readonly CardPiece[];
  readonly massMg: number;
  /** the share of the mass that the class dyes: dye is counted on that */
  readonly dyedBp: number;
  readonly shrinkageBp: number;
  readonly bath: Bath;
  /** equal to within a milligram; together exactly `bath` */
  readonly baths: readonly Bath[];
  /** liquor and cloth that the vessel may hold at this heat, in mL */
  readonly fillMl: number;
  readonly cautions: readonly Caution[];
  readonly warnings: readonly Warning[];
  /** by line of the bath, what the label of a dye says or where an amount comes from; a card of before has none */
  readonly sources?: readonly string[];
  /** the water, as it was measured then, and the pH wanted; a card of before has none */
  readonly ph?: { readonly water: DatedWater | null; readonly wants: WantedPh | null };
  /** how it was worked out; a card of before has none */
  readonly amounts?: BatchAmounts;
}

/** What a card is worked out from, beside its recipe. */
export interface ToWorkOut extends Bench {
  readonly vessel: CardVessel;
  /** the pot of each bath where it is another than the vessel */
  readonly pots?: readonly (CardVessel | null)[];
  /** baths that the vessel and the pieces were in before */
  readonly before: readonly BathBefore[];
  readonly lengths: readonly LengthToDye[];
  readonly asked: AmountsAsked;
  /** the workroom's water; null where nobody has measured it */
  readonly water: DatedWater | null;
  /** by line of the bath, as the card tells them */
  readonly sources: readonly string[];
}

export type CardWorkedOut =
  | { readonly ok: true; readonly card: Card }
  | Extract<PlannedAmounts, { readonly ok: false }>;

/**
 * Works out a batch: mass from area or from the scale, the bath and every amount, shared over baths by what the vessel
 * holds. Every cloth must be one that the recipe dyes, with its mass per area known unless it was weighed. Refused as
 * `planAmounts` refuses.
 */
export function workOutCard(byRecipe: RecipeOfBatch, given: ToWorkOut): CardWorkedOut {
  const { shrinkageBp } = byRecipe;
  const { vessel, lengths, asked, sources } = given;
  const { pieces, areaMg } = weighed(lengths, byRecipe, asked);
  const content = contentOf(lengths, pieces, byRecipe);
  const inBath = liesInBath(byRecipe.recipe.dyeClass);
  const cloths = inBath ? clothsInBath(lengths, pieces) : [];
  const ratio = ratioFor(byRecipe.recipe, content, cloths, asked.ratioMilli);
  const recipe = withRatio(byRecipe.recipe, ratio);
  const batchRecipe = { ...byRecipe, recipe };
  const massMg = pieces.reduce((sum, piece) => sum + piece.massMg, 0);
  const dyedBp = dyedShare(recipe, lengths, pieces);
  const dyedMg = dyedMassMg(massMg, dyedBp);
  const pots = given.pots ?? [];
  const refused = [vessel, ...pots]
    .map((pot) => whyNotInVessel(recipe, pot?.material))
    .find((reason) => reason !== '');
  if (refused !== undefined) return { ok: false, at: 'vessel', reason: refused };
  const placed = pieces.map((piece, at) => ({ ...piece, bath: lengths[at]?.bath ?? null }));
  const spread = takeDyeUnlike(recipe, lengths);
  const toPlan = { recipe, content, vessel, pots, pieces: placed, spread, massMg, areaMg, dyedBp, dyedMg };
  const planned = planAmounts({ ...toPlan, shrinkageBp, asked, ...benchOf(given) });
  if (!planned.ok) return planned;
  const { bath, baths, fillMl } = planned.plan;
  const unlike = pots.some((pot) => pot && pot.name !== vessel.name);
  const lengthsOfBaths = planned.amounts.lengths.map((inBath) =>
    inBath.flatMap(({ piece }) => lengths[piece]?.piece ?? []),
  );
  return {
    ok: true,
    card: {
      recipe: onCard(batchRecipe),
      shade: batchRecipe.shade.name,
      vessel,
      ...(unlike ? { pots: baths.map((_, at) => potOf({ vessel, pots }, at)) } : {}),
      pieces,
      massMg,
      dyedBp,
      shrinkageBp,
      bath,
      baths,
      fillMl: fillMl ?? vessel.volumeMl,
      cautions: cautionsFor(recipe),
      warnings: [
        ...labelDifferences(recipe),
        ...cardWarnings(batchRecipe, lengths, given),
        ...ratio.warnings,
        ...(cloths.some(({ sheer }) => sheer) ? sheerBathCare(baths) : []),
        ...undyedLotWarnings(lengthsOfBaths),
      ],
      sources,
      ...(inBath ? { ph: { water: given.water, wants: wantedPh(recipe, content) } } : {}),
      amounts: planned.amounts,
    },
  };
}

function clothsInBath(lengths: readonly LengthToDye[], pieces: readonly CardPiece[]): ClothInBath[] {
  return pieces.map(({ lengthTicks, widthTicks, massMg }, at) => ({
    sheer: isSheer(lengths[at]?.piece.cloth.construction ?? ''),
    areaMm2: (lengthTicks / TICKS_PER.mm) * (widthTicks / TICKS_PER.mm),
    massMg,
  }));
}

/**
 * Pieces with their masses in mg: by area, or their shares of what the scale says; air-dry, whichever way it was
 * weighed. `areaMg` is all of it by area, null where a mass per area is not known.
 */
function weighed(
  lengths: readonly LengthToDye[],
  batchRecipe: RecipeOfBatch,
  { scaleMg, basis }: AmountsAsked,
): { pieces: CardPiece[]; areaMg: number | null } {
  const pieces = lengths.map((length) => cardPiece(length, batchRecipe.shrinkageBp));
  const known = lengths.every(({ piece }) => piece.cloth.massPerAreaMgM2 !== null);
  const areaMg = known ? pieces.reduce((sum, piece) => sum + piece.massMg, 0) : null;
  if (scaleMg === null) return { pieces, areaMg };
  // Where a mass per area is not known, a piece counts by its area among the others.
  const weights = known
    ? pieces.map(({ massMg }) => massMg)
    : pieces.map(({ lengthTicks, widthTicks }) => clothMassMg([{ lengthTicks, widthTicks }], 100_000));
  const shared = (massMg: number) => {
    const masses = apportion(massMg, weights);
    return pieces.map((piece, at) => ({ ...piece, massMg: masses[at] ?? 0 }));
  };
  const asWeighed = shared(scaleMg);
  if (basis !== 'oven-dry') return { pieces: asWeighed, areaMg };
  // Amounts are on cloth as it lies in the room, so what the oven took out is put back by the fibres' regain.
  const massMg = commercialMassMg(scaleMg, contentOf(lengths, asWeighed, batchRecipe));
  return { pieces: shared(massMg), areaMg };
}

/** The fibres of all the cloth together; what the recipe is for, where no content is known. */
export function contentToDye(
  cloths: Parameters<typeof contentTogether>[0],
  { fibre }: Pick<RecipeOfBatch, 'fibre'>,
): Content {
  const content = contentTogether(cloths);
  return content.length > 0 ? content : [{ fibre, shareBp: 10_000 }];
}

function contentOf(
  lengths: readonly LengthToDye[],
  pieces: readonly CardPiece[],
  recipe: RecipeOfBatch,
): Content {
  const cloths = lengths.map(({ piece }, at) => ({
    content: piece.cloth.content,
    massMg: pieces[at]?.massMg ?? 0,
  }));
  return contentToDye(cloths, recipe);
}

function cardPiece({ piece, lengthTicks }: LengthToDye, shrinkageBp: number): CardPiece {
  const massPerAreaMgM2 = piece.cloth.massPerAreaMgM2 ?? 0;
  const widthTicks = fullWidthTicks(piece);
  return {
    code: piece.code,
    cloth: piece.cloth.name,
    lot: piece.lotCode,
    lengthTicks,
    widthTicks,
    massPerAreaMgM2,
    massMg: clothMassMg([{ lengthTicks, widthTicks }], massPerAreaMgM2),
    expectedTicks: afterShrinkage(lengthTicks, shrinkageBp),
  };
}

/**
 * The width that is weighed. Bolts, and remnants as wide as the cloth, have their selvedges; a narrower remnant was
 * cut, and counts by its own width.
 */
function fullWidthTicks({ kind, usableWidthTicks, cloth }: LengthToDye['piece']): number {
  const hasSelvedges = kind === 'bolt' || usableWidthTicks >= cloth.usableWidthTicks;
  return hasSelvedges ? usableWidthTicks + cloth.widthTicks - cloth.usableWidthTicks : usableWidthTicks;
}

/** Of cloths with unlike shares, the share of all their mass together, to a hundredth of a percent. */
function dyedShare(recipe: Recipe, lengths: readonly LengthToDye[], pieces: readonly CardPiece[]): number {
  const massMg = pieces.reduce((sum, piece) => sum + piece.massMg, 0);
  if (massMg === 0) return 10_000;
  const dyed = lengths.reduce((sum, { piece }, place) => {
    const { dyedBp } = verdictOn(piece.cloth.content, recipe.dyeClass);
    return sum + BigInt(pieces[place]?.massMg ?? 0) * BigInt(dyedBp);
  }, 0n);
  return Number((2n * dyed + BigInt(massMg)) / (2n * BigInt(massMg)));
}

/** True where the cloths differ in what part of them takes the dye. */
function takeDyeUnlike(recipe: Recipe, lengths: readonly LengthToDye[]): boolean {
  const shares = lengths.map(({ piece }) => verdictOn(piece.cloth.content, recipe.dyeClass).dyedBp);
  return new Set(shares).size > 1;
}

/** The pot of a bath, counted from 1. */
export function potOnCard({ vessel, pots }: Pick<Card, 'vessel' | 'pots'>, bath: number): CardVessel {
  return pots?.[bath - 1] ?? vessel;
}

/** A length of a piece that goes into a bath. */
export interface BathLength {
  /** from 1 */
  readonly bath: number;
  readonly piece: CardPiece;
  readonly lengthTicks: number;
}

/** Which length of which piece goes into which bath; a card of before shares each piece over its baths. */
export function lengthsOnCard({ amounts, pieces, baths }: Card): BathLength[] {
  const known = amounts?.lengths ?? [];
  const lengths =
    known.length > 0
      ? known
      : lengthsByMass(
          pieces,
          baths.map(({ massMg }) => massMg),
          true,
        );
  return lengths.flatMap((bath, at) =>
    bath.flatMap(({ piece: place, lengthTicks }) => {
      const piece = pieces[place];
      return piece ? [{ bath: at + 1, piece, lengthTicks }] : [];
    }),
  );
}

function onCard({ id, name, version, recipe }: RecipeOfBatch): Card['recipe'] {
  const { dyes: _, auxiliaries: __, label: ___, ...figures } = recipe;
  return { id, name, version, ...figures };
}

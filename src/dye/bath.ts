/**
 * What goes into a bath: the cloth's mass, the dyes and auxiliaries weighed for it, the liquor, and how much cloth
 * to prepare. Cloth is whole milligrams; what goes in is micrograms, so that a stock is measured for what was asked
 * and not for what a balance would show of it. Volumes inside a bath are whole microlitres, so that a few millilitres
 * of stock solution and the parts of a split bath still add up to the last drop.
 */

import { divideRounded, stored } from '../quantity/figure-show.ts';
import { type AuxiliaryKind, type FormFactor, factorInForm, liquidVolumeUl } from './auxiliaries.ts';
import type { Recipe, RecipeAuxiliary } from './recipe.ts';

/** A flat piece of cloth by its whole width, selvedges too, in ticks of 1/160 mm. */
export interface ClothPiece {
  readonly lengthTicks: number;
  readonly widthTicks: number;
}

export interface BathLine {
  readonly part: 'dye' | 'auxiliary';
  readonly name: string;
  readonly kind?: AuxiliaryKind;
  readonly form?: string;
  /** What the recipe asks, as written: "2 % owf", "5 g/L". */
  readonly asked: string;
  /** To the nearest milligram, as the log and the costs count it. */
  readonly massMg: number;
  /** To the nearest microgram; see `massUgOf`. */
  readonly massUg?: number;
  /** The form that the amount is for, where it is another than the one that goes in, and what one mass of it takes. */
  readonly stated?: FormFactor;
  /** The volume to measure out, for a liquid or a stock solution. */
  readonly volumeUl?: number;
  /** Grams in 100 mL of the stock solution, in thousandths: a 1 % stock is 1000. */
  readonly stockMgPer100Ml?: number;
  /** What the lot of a dye is worth beside the recipe's, where that is not the same; in hundredths of a percent. */
  readonly strengthBp?: number;
}

export interface Bath {
  readonly massMg: number;
  /** Everything but the cloth: fresh water and all that is measured by volume. */
  readonly volumeUl: number;
  readonly freshWaterUl: number;
  readonly lines: readonly BathLine[];
}

/** What the lot of a dye at hand is worth beside the one that the recipe was made with, by line of the bath. */
export interface DyeStrength {
  readonly line: number;
  /** in hundredths of a percent: more of a weaker lot goes in */
  readonly strengthBp: number;
  /** as somebody says, or found by dyeing swatches of both lots */
  readonly how: 'typed' | 'swatch';
}

export type Bathed =
  | { readonly ok: true; readonly bath: Bath }
  | { readonly ok: false; readonly reason: string };

const TICKS2_PER_M2 = 160_000n * 160_000n;

/**
 * The mass in mg of pieces of one cloth of `massPerAreaMgM2`, to the nearest mg: the areas are added exactly and
 * the sum is rounded once. Throws RangeError on a figure that is not a whole number from 0.
 */
export function clothMassMg(pieces: readonly ClothPiece[], massPerAreaMgM2: number): number {
  const areaTicks2 = pieces.reduce(
    (sum, piece) => sum + exactFigure(piece.lengthTicks) * exactFigure(piece.widthTicks),
    0n,
  );
  return Number(divideRounded(areaTicks2 * exactFigure(massPerAreaMgM2), TICKS2_PER_M2, 'near'));
}

/**
 * The bath for so much dry cloth: dye = mass × % owf, liquor = mass × liquor ratio, auxiliaries by the litre of that
 * liquor or on weight of fabric. The liquor is rounded to a whole millilitre first, so that each amount can be
 * checked by hand from what the card shows.
 *
 * `dyedBp` is the share of a blend that this bath is meant for, in hundredths of a percent: what is given on weight
 * of fabric is then counted on that share, the liquor still on all the cloth. Refused when there is no cloth or the
 * liquids alone overfill the bath. Of a dye whose lot has another strength as much more or less goes in.
 */
export function bathFor(
  massMg: number,
  recipe: Recipe,
  dyedBp = 10_000,
  strengths: readonly DyeStrength[] = [],
): Bathed {
  if (massMg <= 0) return { ok: false, reason: 'The cloth must weigh something: weigh it or give its area.' };
  const dyedMg = dyedMassMg(massMg, dyedBp);
  // A transfer is pressed off paper, dry.
  const isDry = recipe.dyeClass === 'transfer';
  const volumeMl = isDry
    ? 0n
    : divideRounded(exactFigure(massMg) * exactFigure(recipe.liquorRatioMilli), 1_000_000n, 'near');
  const dyes = recipe.dyes.map(({ name, owfMilli }, at): BathLine => {
    const strengthBp = strengths.find(({ line }) => line === at)?.strengthBp ?? 10_000;
    return {
      part: 'dye',
      name,
      asked: `${owfMilli / 1000} % owf`,
      ...massFrom(exactFigure(dyedMg) * exactFigure(owfMilli) * 10_000n, 100_000n * exactFigure(strengthBp)),
      ...(strengthBp === 10_000 ? {} : { strengthBp }),
    };
  });
  const auxiliaries = recipe.auxiliaries.map((auxiliary) => auxiliaryLine(auxiliary, dyedMg, volumeMl));
  return filled(massMg, Number(volumeMl * 1000n), [...dyes, ...auxiliaries]);
}

/**
 * The cloth that takes the dye, in mg to the nearest: the share `dyedBp` of a mass, in hundredths of a percent. Throws
 * RangeError on a figure that is not a whole number from 0.
 */
export function dyedMassMg(massMg: number, dyedBp: number): number {
  return Number(divideRounded(exactFigure(massMg) * exactFigure(dyedBp), 10_000n, 'near'));
}

/** What one more auxiliary makes in a bath that is there, counted as those of its recipe are. */
export function doseInBath(
  auxiliary: RecipeAuxiliary,
  { massMg, volumeUl }: Pick<Bath, 'massMg' | 'volumeUl'>,
  dyedBp = 10_000,
): BathLine {
  return auxiliaryLine(
    auxiliary,
    dyedMassMg(massMg, dyedBp),
    divideRounded(exactFigure(volumeUl), 1000n, 'near'),
  );
}

function auxiliaryLine(auxiliary: RecipeAuxiliary, dyedMg: number, volumeMl: bigint): BathLine {
  const { kind, name, form, stated } = auxiliary;
  const [num, den, asked] =
    auxiliary.per === 'litre'
      ? [volumeMl * exactFigure(auxiliary.mgPerLitre), 1000n, `${auxiliary.mgPerLitre / 1000} g/L`]
      : [
          exactFigure(dyedMg) * exactFigure(auxiliary.owfMilli),
          100_000n,
          `${auxiliary.owfMilli / 1000} % owf`,
        ];
  const factor = stated === undefined ? undefined : factorInForm(kind, stated, form);
  const mass = factor ? massFrom(num * BigInt(factor.num), den * BigInt(factor.den)) : massFrom(num, den);
  const volumeUl = liquidVolumeUl(kind, form, mass.massUg / 1000);
  return {
    part: 'auxiliary',
    name,
    kind,
    form,
    asked,
    ...mass,
    ...(factor ? { stated: factor } : {}),
    ...(volumeUl === undefined ? {} : { volumeUl }),
  };
}

/** A mass of `num` ÷ `den` mg, each figure of it rounded from that, never from the other. */
function massFrom(num: bigint, den: bigint): { massMg: number; massUg: number } {
  return {
    massMg: stored(divideRounded(num, den, 'near')),
    massUg: stored(divideRounded(num * 1000n, den, 'near')),
  };
}

/** The mass of a line in µg. A card that was kept when lines were counted in milligrams has no more than those. */
export function massUgOf({ massMg, massUg }: Pick<BathLine, 'massMg' | 'massUg'>): number {
  return massUg ?? massMg * 1000;
}

/** A strength of stock solution for one line of a bath, in mg in 100 mL: 1 g in 100 mL is 1000. */
export interface StockStrength {
  readonly line: number;
  readonly mgPer100Ml: number;
}

/**
 * The same bath with some lines measured from stock solutions, whose water counts as part of the liquor: fresh
 * water = liquor − Σ volumes. Refused when the stocks hold more than the whole bath; a stronger stock helps.
 * Throws RangeError on a line that is not in the bath.
 */
export function withStocks(bath: Bath, stocks: readonly StockStrength[]): Bathed {
  const lines = [...bath.lines];
  for (const { line, mgPer100Ml } of stocks) {
    const dry = lines[line];
    if (!dry) throw new RangeError(`The bath has no line ${line}`);
    if (!Number.isInteger(mgPer100Ml) || mgPer100Ml <= 0 || mgPer100Ml > 100_000) {
      return { ok: false, reason: 'Enter a strength from 0.001 to 100 g in 100 mL.' };
    }
    const volumeUl = Number(
      divideRounded(exactFigure(massUgOf(dry)) * 100n, exactFigure(mgPer100Ml), 'near'),
    );
    lines[line] = { ...dry, volumeUl, stockMgPer100Ml: mgPer100Ml };
  }
  return filled(bath.massMg, bath.volumeUl, lines);
}

function filled(massMg: number, volumeUl: number, lines: readonly BathLine[]): Bathed {
  const measuredUl = lines.reduce((sum, line) => sum + (line.volumeUl ?? 0), 0);
  const freshWaterUl = volumeUl - measuredUl;
  if (freshWaterUl < 0) {
    const millilitres = (ul: number): string => `${Math.ceil(ul / 1000)} mL`;
    const reason =
      `The solutions alone make ${millilitres(measuredUl)}, more than the bath of ${millilitres(volumeUl)}: ` +
      'use a stronger stock or a larger liquor ratio.';
    return { ok: false, reason };
  }
  return { ok: true, bath: { massMg, volumeUl, freshWaterUl, lines } };
}

/**
 * The length to prepare so that `needTicks` are left after shrinkage, in hundredths of a percent: need ÷
 * (1 − shrinkage), rounded up to a tick. Throws RangeError unless 0 ≤ shrinkage < 100 %.
 */
export function lengthToPrepareTicks(needTicks: number, shrinkageBp: number): number {
  if (shrinkageBp >= 10_000) throw new RangeError('Shrinkage leaves no cloth');
  const left = 10_000n - exactFigure(shrinkageBp);
  return Number((exactFigure(needTicks) * 10_000n + left - 1n) / left);
}

/**
 * What is left of a length after shrinkage, in hundredths of a percent, rounded down to a tick. Throws RangeError on a
 * length that is not a whole number from 0.
 */
export function afterShrinkage(lengthTicks: number, shrinkageBp: number): number {
  return Number((exactFigure(lengthTicks) * BigInt(10_000 - shrinkageBp)) / 10_000n);
}

/**
 * Shrinkage measured, in hundredths of a percent of the length before, to the nearest; negative where the cloth
 * grew. Throws RangeError when there was no cloth before.
 */
export function shrinkageBp(beforeTicks: number, afterTicks: number): number {
  if (beforeTicks <= 0) throw new RangeError('Shrinkage needs a length before');
  return Math.round(((beforeTicks - afterTicks) * 10_000) / beforeTicks);
}

/** Exact, where products of ticks pass what a number holds exactly. */
function exactFigure(figure: number): bigint {
  if (!Number.isSafeInteger(figure) || figure < 0)
    throw new RangeError(`${figure} is not a whole number from 0`);
  return BigInt(figure);
}

import { type Bath, bathFor, clothMassMg } from '../../src/bath.ts';
import { type Caution, cautionsFor } from '../../src/cautions.ts';
import { dyeFor, verdictOn, type Warning } from '../../src/dye-advice.ts';
import { type Content, capital, fibreOf } from '../../src/fibre.ts';
import { checkRecipe, type Recipe } from '../../src/recipe.ts';
import { splitBath } from '../../src/vessel.ts';
import type { Problem } from '../refusal.ts';
import type { DyeablePiece } from './dyeable.ts';
import type { StoredRecipe } from './recipe-store.ts';
import { showUl } from './volumes.ts';

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
    'dyeClass' | 'liquorRatioMilli' | 'temperatureC' | 'holdMinutes' | 'pHFrom' | 'pHTo' | 'marks'
  >;
  readonly shade: string;
  readonly vessel: { readonly name: string; readonly volumeMl: number };
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
}

export interface WantedLength {
  /** its row in the form, for problems */
  readonly row: number;
  readonly piece: DyeablePiece;
  readonly lengthTicks: number;
}

export type WorkedOut =
  | { readonly ok: true; readonly card: Card }
  | { readonly ok: false; readonly problems: readonly Problem[] };

/**
 * Works out a batch: mass from area, the bath and every amount, shared over equal baths by what the vessel holds.
 * Every cloth must be one that the recipe dyes, with its mass per area known (see `whyNotDyed`).
 */
export function workOut(
  stored: StoredRecipe,
  vessel: Card['vessel'],
  lengths: readonly WantedLength[],
): WorkedOut {
  const { recipe } = stored;
  const pieces = lengths.map((length) => cardPiece(length, stored.shrinkageBp));
  const massMg = pieces.reduce((sum, piece) => sum + piece.massMg, 0);
  const dyedBp = dyedShare(recipe, lengths, pieces);
  const bathed = bathFor(massMg, recipe, dyedBp);
  if (!bathed.ok) return refused('pieces', bathed.reason);
  const { volumeMl } = vessel;
  const splitting = splitBath(bathed.bath, { vesselMl: volumeMl, temperatureC: recipe.temperatureC });
  if (!splitting.ok) return refused('vessel_id', splitting.reason);
  const { baths, fillMl } = splitting.split;
  return {
    ok: true,
    card: {
      recipe: onCard(stored),
      shade: stored.shade.name,
      vessel,
      pieces,
      massMg,
      dyedBp,
      shrinkageBp: stored.shrinkageBp,
      bath: bathed.bath,
      baths,
      fillMl,
      cautions: cautionsFor(recipe),
      warnings: warningsFor(stored, lengths, baths),
    },
  };
}

function cardPiece({ piece, lengthTicks }: WantedLength, shrinkageBp: number): CardPiece {
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
function fullWidthTicks({ kind, usableWidthTicks, cloth }: DyeablePiece): number {
  const whole = kind === 'bolt' || usableWidthTicks >= cloth.usableWidthTicks;
  return whole ? usableWidthTicks + cloth.widthTicks - cloth.usableWidthTicks : usableWidthTicks;
}

/** What is left of a length after shrinkage, in whole ticks, rounded down. */
export function afterShrinkage(lengthTicks: number, shrinkageBp: number): number {
  return Number((BigInt(lengthTicks) * BigInt(10_000 - shrinkageBp)) / 10_000n);
}

/** Of cloths with unlike shares, the share of all their mass together, to a hundredth of a percent. */
function dyedShare(recipe: Recipe, lengths: readonly WantedLength[], pieces: readonly CardPiece[]): number {
  const massMg = pieces.reduce((sum, piece) => sum + piece.massMg, 0);
  if (massMg === 0) return 10_000;
  const dyed = lengths.reduce((sum, { piece }, place) => {
    const { dyedBp } = verdictOn(piece.cloth.content, recipe.dyeClass);
    return sum + BigInt(pieces[place]?.massMg ?? 0) * BigInt(dyedBp);
  }, 0n);
  return Number((2n * dyed + BigInt(massMg)) / (2n * BigInt(massMg)));
}

function onCard({ id, name, version, recipe }: StoredRecipe): Card['recipe'] {
  const { dyes: _, auxiliaries: __, ...figures } = recipe;
  return { id, name, version, ...figures };
}

/** What to beware of with these cloths in one bath, each said once. */
function warningsFor(
  { recipe, fibre }: StoredRecipe,
  lengths: readonly WantedLength[],
  baths: readonly Bath[],
): Warning[] {
  const contents = [...new Map(lengths.map(({ piece }) => [piece.cloth.id, piece.cloth])).values()];
  const found = contents.flatMap(({ content, name }) => {
    const warnings = [...checkRecipe(recipe, content).warnings, ...dyeFor(content).warnings];
    if (!content.some((share) => share.fibre === fibre)) {
      const text = `The recipe was made for ${fibreOf(fibre).name}; ${name} has none: dye a swatch first.`;
      warnings.push({ id: `other-fibre-${name}`, text, source: 'common practice' });
    }
    return warnings;
  });
  const all = [...found, ...mixedCloths(contents), ...smallWeighings(baths[0])];
  return [...new Map(all.map((warning) => [warning.text, warning])).values()];
}

function mixedCloths(cloths: readonly { readonly name: string; readonly content: Content }[]): Warning[] {
  if (cloths.length < 2) return [];
  const fibres = new Set(cloths.flatMap(({ content }) => content.map(({ fibre }) => fibre)));
  const names = cloths.map(({ name }) => name).join(', ');
  const text = `${capital(names)} in one bath: cloths take dye unlike each other, so expect more than one shade. A batch for each is surer.`;
  const warnings: Warning[] = [{ id: 'mixed-cloths', text, source: 'common practice' }];
  if (fibres.has('nylon') && fibres.has('polyester')) {
    const together = dyeFor([
      { fibre: 'nylon', shareBp: 5000 },
      { fibre: 'polyester', shareBp: 5000 },
    ]);
    warnings.push(...together.warnings.filter(({ id }) => id === 'nylon-polyester'));
  }
  return warnings;
}

/** Below a gram a kitchen balance no longer weighs to a percent (common practice). */
const LEAST_WEIGHED_MG = 1000;
/** 1 g in 100 mL holds 10 mg in a millilitre, so a milligram is 100 µL. */
const UL_PER_MG = 100;

function smallWeighings(bath: Bath | undefined): Warning[] {
  return (bath?.lines ?? []).flatMap(({ name, massMg, volumeUl }) => {
    if (massMg >= LEAST_WEIGHED_MG || volumeUl !== undefined) return [];
    const text = `A bath takes only ${massMg / 1000} g of ${name}: dissolve 1 g in 100 mL of water and measure ${showUl(massMg * UL_PER_MG)} of that, out of the water of the bath.`;
    return [{ id: `small-${name}`, text, source: 'common practice' }];
  });
}

function refused(field: string, message: string): WorkedOut {
  return { ok: false, problems: [{ field, message }] };
}

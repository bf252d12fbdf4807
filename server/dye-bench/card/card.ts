import { type Bath, clothMassMg, dyedMassMg } from '../../../src/dye/bath.ts';
import { type Caution, cautionsFor } from '../../../src/dye/cautions.ts';
import { creaseCare, isSheer } from '../../../src/dye/crease-care.ts';
import { dyeFor, verdictOn, type Warning } from '../../../src/dye/dye-advice.ts';
import { type Content, capital, contentTogether, type FibreCode, fibreOf } from '../../../src/dye/fibre.ts';
import { materialCaution } from '../../../src/dye/heater.ts';
import { checkRecipe, type Recipe } from '../../../src/dye/recipe.ts';
import { commercialMassMg } from '../../../src/dye/regain.ts';
import { apportion } from '../../../src/quantity/money.ts';
import type { Problem } from '../../refusal.ts';
import type { DyeablePiece } from '../batch/dyeable.ts';
import { sayDye } from '../dyes/dyes-page.ts';
import { OWN, type StoredRecipe, sayMark } from '../recipe/store.ts';
import { type AmountsAsked, type CardAmounts, type CardVessel, planAmounts } from './card-amounts.ts';

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
  readonly vessel: CardVessel;
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
  /** how it was worked out; a card of before has none */
  readonly amounts?: CardAmounts;
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
 * Works out a batch: mass from area or from the scale, the bath and every amount, shared over baths by what the vessel
 * holds. Every cloth must be one that the recipe dyes, with its mass per area known unless it was weighed (see
 * `whyNotDyed`).
 */
export function workOut(
  stored: StoredRecipe,
  vessel: CardVessel,
  lengths: readonly WantedLength[],
  more: { readonly asked: AmountsAsked; readonly balanceMg: number },
): WorkedOut {
  const { recipe } = stored;
  const { asked, balanceMg } = more;
  const { pieces, areaMg } = weighed(lengths, stored, asked);
  const massMg = pieces.reduce((sum, piece) => sum + piece.massMg, 0);
  const dyedBp = dyedShare(recipe, lengths, pieces);
  const dyedMg = dyedMassMg(massMg, dyedBp);
  const content = contentOf(lengths, pieces, stored);
  const { shrinkageBp } = stored;
  const given = { recipe, content, vessel, pieces, massMg, areaMg, dyedBp, dyedMg, shrinkageBp };
  const planned = planAmounts({ ...given, asked, balanceMg });
  if (!planned.ok) return planned;
  const { bath, baths, fillMl } = planned.plan;
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
      bath,
      baths,
      fillMl: fillMl ?? vessel.volumeMl,
      cautions: cautionsFor(recipe),
      warnings: warningsFor(stored, lengths, vessel),
      sources: sourcesOf(stored),
      amounts: planned.amounts,
    },
  };
}

/** Pieces with their masses: by area, or their shares of what the scale says; air-dry, whichever way it was weighed. */
function weighed(
  lengths: readonly WantedLength[],
  stored: StoredRecipe,
  { scaleMg, basis }: AmountsAsked,
): { pieces: CardPiece[]; areaMg: number | null } {
  const pieces = lengths.map((length) => cardPiece(length, stored.shrinkageBp));
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
  const massMg = commercialMassMg(scaleMg, contentOf(lengths, asWeighed, stored));
  return { pieces: shared(massMg), areaMg };
}

/** The fibres of all the cloth together; what the recipe is for, where no content is known. */
export function contentToDye(
  cloths: Parameters<typeof contentTogether>[0],
  { fibre }: StoredRecipe,
): Content {
  const content = contentTogether(cloths);
  return content.length > 0 ? content : [{ fibre, shareBp: 10_000 }];
}

function contentOf(
  lengths: readonly WantedLength[],
  pieces: readonly CardPiece[],
  stored: StoredRecipe,
): Content {
  const cloths = lengths.map(({ piece }, at) => ({
    content: piece.cloth.content,
    massMg: pieces[at]?.massMg ?? 0,
  }));
  return contentToDye(cloths, stored);
}

function sourcesOf({ recipe, dyesOnList, auxiliaryMarks }: StoredRecipe): string[] {
  return [
    ...recipe.dyes.map((_, at) => sayDye(dyesOnList[at])),
    ...recipe.auxiliaries.map((_, at) => sayMark(auxiliaryMarks[at] ?? OWN)),
  ];
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

/** What to beware of with these cloths in one bath of this vessel, each said once. */
function warningsFor(
  { recipe, fibre }: StoredRecipe,
  lengths: readonly WantedLength[],
  vessel: CardVessel,
): Warning[] {
  const contents = [...new Map(lengths.map(({ piece }) => [piece.cloth.id, piece.cloth])).values()];
  const found = contents.flatMap(({ content, name, construction }) => {
    const warnings = [...checkRecipe(recipe, content).warnings, ...dyeFor(content).warnings];
    if (isSheer(construction)) warnings.push(...creaseCare(content, recipe));
    if (!content.some((share) => share.fibre === fibre)) {
      const text = `The recipe was made for ${fibreOf(fibre).name}; ${name} has none: dye a swatch first.`;
      warnings.push({ id: `other-fibre-${name}`, text, source: 'common practice' });
    }
    return warnings;
  });
  return saidOnce([...dyedOver(lengths), ...found, ...mixedCloths(contents), ...ofVessel(recipe, vessel)]);
}

/** Dye over dye: what it can do and what it cannot, and that the recipe is counted anew. */
function dyedOver(lengths: readonly WantedLength[]): Warning[] {
  const dyed = lengths.filter(({ piece }) => !piece.ground).map(({ piece }) => piece);
  if (dyed.length === 0) return [];
  const names = dyed
    .map(({ code, lotCode, shade }) => `${code} of lot ${lotCode} is ${shade.name}`)
    .join(', ');
  const text = `${capital(names)} already: dye over dye goes darker or to a mixed hue, never lighter. To bring a shade up, take a recipe with only what is missing, target less reached, and half of that first. Dye a swatch first.`;
  const warnings = [{ id: 'dyed-over', text, source: 'common practice' }];
  if (new Set(lengths.map(({ piece }) => piece.shade.id)).size > 1) {
    const mixed = 'Lengths of different shades in one bath stay different: a batch for each is surer.';
    warnings.push({ id: 'mixed-shades', text: mixed, source: 'common practice' });
  }
  return warnings;
}

/**
 * What to beware of with this bath in a vessel of a material; nothing where that is not said. A bath counts as acid below
 * pH 6.5 and as alkaline above 7.5 (common practice).
 */
export function ofVessel(recipe: Recipe, { material }: Pick<CardVessel, 'material'>): Warning[] {
  if (!material) return [];
  const pH = { acid: (recipe.pHFrom ?? 7) < 6.5, alkaline: (recipe.pHTo ?? 7) > 7.5 };
  const text = materialCaution(material, { ...pH, temperatureC: recipe.temperatureC });
  return text === '' ? [] : [{ id: 'material', text, source: 'common practice' }];
}

/** Each warning once, in the order in which they were first said. */
export function saidOnce(warnings: readonly Warning[]): Warning[] {
  return [...new Map(warnings.map((warning) => [warning.text, warning])).values()];
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
    const apart = (fibre: FibreCode) =>
      cloths
        .filter(({ content }) => content.some((share) => share.fibre === fibre))
        .map(({ name }) => name)
        .join(', ');
    const text = `Dye them in baths of their own: one batch for ${apart('nylon')}, another for ${apart('polyester')}.`;
    warnings.push({ id: 'nylon-polyester-apart', text, source: 'common practice' });
  }
  return warnings;
}

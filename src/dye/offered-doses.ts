/** What is offered to go into a bath beside dye: amounts by depth, each with where it comes from. */

import { type Provenance, published } from '../quantity/provenance.ts';
import { type AuxiliaryKind, auxiliaryOf, saltAndSoda } from './auxiliaries.ts';
import type { DyeClass } from './dye-class.ts';
import { depthOf } from './dye-facts.ts';
import { inForm, type RecipeAuxiliary } from './recipe.ts';

export type Marked<T> = readonly [value: T, mark: Provenance];
export type Additions = (depthOwfMilli: number) => readonly Marked<RecipeAuxiliary>[];

export const DIRECT = published('textiletipszone.blogspot.com, August 2024');
const BUFFER: Provenance = {
  basis: 'worked out',
  source: 'the pH that it gives by its acid constant; the pH wanted from memory',
};

/** `percent` on weight of fabric. */
export function onCloth(
  kind: AuxiliaryKind,
  percent: number,
  mark: Provenance,
  form = 'as-sold',
): Marked<RecipeAuxiliary> {
  const { name } = auxiliaryOf(kind);
  return [{ kind, name, form, per: 'cloth', owfMilli: Math.round(percent * 1000) }, mark];
}

export function perLitre(
  kind: AuxiliaryKind,
  gPerLitre: number,
  mark: Provenance,
  form = 'as-sold',
): Marked<RecipeAuxiliary> {
  const { name } = auxiliaryOf(kind);
  return [{ kind, name, form, per: 'litre', mgPerLitre: Math.round(gPerLitre * 1000) }, mark];
}

/**
 * Acetic acid is proposed as vinegar, the form that burns nobody. Sources give no strength, so their figure is
 * read as pure acid; pH paper has the last word.
 */
function asVinegar([pure, mark]: Marked<RecipeAuxiliary>): Marked<RecipeAuxiliary> {
  const source = `${mark.source}; its figure taken as pure acid, converted to vinegar`;
  return [inForm(pure, 'vinegar-5'), { ...mark, source }];
}

export const aceticOnCloth = (percent: number, mark: Provenance): Marked<RecipeAuxiliary> =>
  asVinegar(onCloth('acetic-acid', percent, mark, 'glacial'));
export const aceticPerLitre = (gPerLitre: number, mark: Provenance): Marked<RecipeAuxiliary> =>
  asVinegar(perLitre('acetic-acid', gPerLitre, mark, 'glacial'));

export const reactiveAdditions: Additions = (depth) => {
  const { saltMgPerLitre, sodaMgPerLitre, mark } = saltAndSoda(depth);
  return [
    perLitre('salt', saltMgPerLitre / 1000, mark),
    perLitre('soda-ash', sodaMgPerLitre / 1000, mark, 'anhydrous'),
  ];
};

/** Salt 5, 10 and 20 % for light, medium and dark; where each begins within 1 to 4 % of dye is worked out. */
export const directAdditions: Additions = (depth) => [
  onCloth('salt', depth < 1500 ? 5 : depth < 3000 ? 10 : 20, DIRECT),
  onCloth('soda-ash', 1, DIRECT, 'anhydrous'),
  ...fixerFor(depth),
];

/** A cationic fixer is offered from a medium depth: paler shades bleed little, and it costs light fastness. */
function fixerFor(depth: number): readonly Marked<RecipeAuxiliary>[] {
  const deep = depthOf('direct', depth);
  const mark: Provenance = { basis: 'from memory', source: 'from memory: 1 to 3 %, in a bath of its own' };
  return deep === 'pale' ? [] : [onCloth('fixer', deep === 'medium' ? 2 : 3, mark)];
}

/** A syntan is offered from a medium depth: 2 % of 2 to 4, dark shades 4 %. */
export function syntanFor(dyeClass: DyeClass, depth: number): readonly Marked<RecipeAuxiliary>[] {
  const deep = depthOf(dyeClass, depth);
  const mark = published('tradetextile.com, archive page 38365: 2 to 4 %, in a bath of its own');
  return deep === 'pale' ? [] : [onCloth('syntan', deep === 'medium' ? 2 : 4, mark)];
}

/** Ammonium sulphate on nylon, 2 to 4 % by depth. */
export const ammoniumFor = (dyeClass: DyeClass, depth: number): Marked<RecipeAuxiliary> =>
  onCloth('ammonium-sulphate', { pale: 2, medium: 3, dark: 4 }[depthOf(dyeClass, depth)], {
    basis: 'worked out',
    source: 'organicdye.com, wool with nylon: 4 %; 2 to 4 % by depth from memory',
  });

/**
 * Acid with its salt, which holds the pH in soft and in hard water alike: acetic 0.25 with acetate 1 g/L comes to pH 5.0 in
 * soft water, 5.4 at 100 mg/L of alkalinity; acetic 0.5 to 4.7 and 4.9.
 */
export const buffered = (aceticGPerLitre: number): readonly Marked<RecipeAuxiliary>[] => [
  aceticPerLitre(aceticGPerLitre, BUFFER),
  perLitre('sodium-acetate', 1, BUFFER),
];

/** Cationic retarder on acrylic: the paler the shade, the more. Depths in thousandths of a percent owf. */
const RETARDER: readonly (readonly [upToOwfMilli: number, percent: number])[] = [
  [100, 6],
  [1000, 4],
  [3000, 2],
  [6000, 1],
];

export function retarderFor(depth: number): number {
  return RETARDER.find(([upTo]) => depth <= upTo)?.[1] ?? 1;
}

export const RETARDER_MARK = published('organicdye.com, a dye maker’s page on polyester with acrylic');

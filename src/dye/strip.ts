/**
 * Taking colour out again: stripping baths, half-strips and boils that level or bleed, as baths of their own. Doses are
 * those that were found; a fibre that they harm is told by `limitsPassed`, and the maker's label outranks all of it.
 */

import { COMMON_PRACTICE, type Provenance, published } from '../quantity/provenance.ts';
import type { AuxiliaryKind } from './auxiliaries.ts';
import type { DyeClass } from './dye-class.ts';
import { CELLULOSE } from './dye-facts.ts';
import type { Content, FibreCode } from './fibre.ts';
import { type Dose, dose } from './order-facts.ts';
import { auxiliaryFrom, type Recipe } from './recipe.ts';

export const STRIP_CODES = [
  'thiourea-dioxide',
  'hydros',
  'acid-half',
  'hypochlorite',
  'glauber-boil',
  'ammonia',
  'detergent-boil',
  'syntan-off',
  'vat-blank',
] as const;

export type StripCode = (typeof STRIP_CODES)[number];

/** What a stripping bath takes: by the litre of bath in mg, or in thousandths of a percent on weight of fabric. */
export type StripDose = {
  readonly kind: AuxiliaryKind;
  readonly form: string;
  readonly name: string;
} & ({ readonly mgPerLitre: number } | { readonly owfMilli: number });

/** How hot a method is worked on a fibre, and for how long. */
interface StripHeat {
  readonly fibres: readonly FibreCode[];
  readonly toC: number;
  /** the time published, from and to */
  readonly minutes: readonly [from: number, to: number];
  /** where it takes other doses than the rest */
  readonly doses?: readonly StripDose[];
}

export interface StripMethod {
  readonly code: StripCode;
  readonly name: string;
  /** the classes of dye that it takes out, loosens or evens */
  readonly dyeClasses: readonly DyeClass[];
  readonly heats: readonly StripHeat[];
  readonly doses: readonly StripDose[];
  /** the bath that the figures are for, in thousandths of a litre to a kilogram */
  readonly liquorRatioMilli: number;
  /** the pH that the bath is kept at, where it matters */
  readonly pH?: readonly [from: number, to: number];
  readonly how: string;
  /** what the last rinse takes; null where water does */
  readonly lastRinse: Dose | null;
  /** what it does to cloth and shade, and what to mind */
  readonly minds: readonly string[];
  readonly mark: Provenance;
}

const CRAFT = published('a craft supplier’s page on thiourea dioxide, “method for removing dye colours”');
const LEARNER = published(
  'textilelearner.blogspot.com, January 2012, stripping; textileapex, reactive notes',
);
const ACID_STRIP = published('textilelearner.blogspot.com, January 2012, stripping of acid dyes');
const LOSES_STRENGTH =
  'Reductive stripping costs strength, weight and pilling resistance, more with more chemical or heat (Fashion and Textiles 2015).';

const other = (
  form: string,
  name: string,
  dose: { mgPerLitre: number } | { owfMilli: number },
): StripDose => ({
  kind: 'other',
  form,
  name,
  ...dose,
});
const soda = (gPerLitre: number): StripDose => ({
  kind: 'soda-ash',
  form: 'anhydrous',
  name: 'soda ash, anhydrous',
  mgPerLitre: gPerLitre * 1000,
});

const DIOXIDE = other('thiourea-dioxide', 'thiourea dioxide', { mgPerLitre: 1250 });

export const STRIP_METHODS: readonly StripMethod[] = [
  {
    code: 'thiourea-dioxide',
    name: 'Strip with thiourea dioxide',
    dyeClasses: ['reactive', 'direct', 'vat', 'acid-levelling', 'acid-milling', 'acid-metal-complex'],
    heats: [
      { fibres: CELLULOSE, toC: 100, minutes: [15, 20] },
      { fibres: ['wool'], toC: 90, minutes: [5, 10], doses: [DIOXIDE, soda(1.25)] },
      { fibres: ['silk'], toC: 85, minutes: [15, 20] },
    ],
    // 10 g and 20 g of soda (wool: 10 g) to 500 g of cloth in 8 L: 2 and 4 % on fabric at 16:1, 1.25 and 2.5 g/L.
    doses: [DIOXIDE, soda(2.5)],
    liquorRatioMilli: 16_000,
    how: 'Soda first, then the thiourea dioxide sprinkled into the warm bath, then the wet cloth. Lid on, heat, and lift the lid away from you: the gas irritates. A smell of ammonia tells that it is spent.',
    lastRinse: dose('citric-acid', 'citric acid', 5),
    minds: [
      'No iron, aluminium or copper vessel.',
      'Some colours do not go, or turn to another: try a swatch.',
      LOSES_STRENGTH,
    ],
    mark: CRAFT,
  },
  {
    code: 'hydros',
    name: 'Strip with hydrosulphite',
    dyeClasses: ['reactive', 'direct'],
    heats: [{ fibres: CELLULOSE, toC: 100, minutes: [20, 30] }],
    doses: [
      { kind: 'hydrosulphite', form: 'as-sold', name: 'sodium hydrosulphite', mgPerLitre: 5000 },
      soda(2),
    ],
    liquorRatioMilli: 20_000,
    how: 'Soda first, then the hydrosulphite sprinkled slowly into the bath, never water onto the powder. Boil the cloth under the liquor.',
    lastRinse: null,
    minds: ['Reactive dye cannot be taken out fully without harm.', LOSES_STRENGTH],
    mark: LEARNER,
  },
  {
    code: 'acid-half',
    name: 'Half-strip with acid',
    dyeClasses: ['reactive'],
    heats: [{ fibres: CELLULOSE, toC: 85, minutes: [20, 30] }],
    doses: [{ kind: 'acetic-acid', form: 'glacial', name: 'glacial acetic acid, 100 %', mgPerLitre: 5000 }],
    liquorRatioMilli: 20_000,
    how: 'Acid into the bath, then the cloth. It makes the shade paler, not white: look every five minutes and stop in time.',
    lastRinse: null,
    minds: [
      'Published from 5 to 10 g/L at 85 to 90 °C: this begins at the least.',
      'Rinse until neutral: acid that dries in rots cellulose.',
    ],
    mark: LEARNER,
  },
  {
    code: 'hypochlorite',
    name: 'Bleach out with hypochlorite',
    dyeClasses: ['reactive', 'direct'],
    heats: [{ fibres: CELLULOSE, toC: 20, minutes: [30, 30] }],
    doses: [other('hypochlorite', 'chlorine bleach, as sold', { mgPerLitre: 10_000 }), soda(1)],
    liquorRatioMilli: 20_000,
    pH: [9, 11],
    how: 'Cold, in plastic, after the hydrosulphite bath was drained and rinsed three times. Keep it at pH 9 or more. Then rinse, and take the chlorine out in a fresh bath with bisulphite.',
    lastRinse: { ...dose('other', 'sodium bisulphite', 2), form: 'bisulphite' },
    minds: [
      'Cotton, linen and viscose only: never nylon, polyester, silk, wool or elastane.',
      '“1 %” is read as 10 g of the bleach as sold in a litre, about 1.2 to 1.5 g/L of chlorine (from memory).',
      'Bisulphite: 1.47 g takes out a gram of chlorine (worked out from molar masses); 2 g/L, and soda 1 g/L for the pH, are our rule.',
    ],
    mark: published('textilelearner.blogspot.com, January 2012, reactive stripping'),
  },
  {
    code: 'glauber-boil',
    name: "Boil out with Glauber's salt",
    dyeClasses: ['acid-levelling'],
    heats: [
      { fibres: ['wool', 'nylon'], toC: 98, minutes: [30, 45] },
      { fibres: ['silk'], toC: 85, minutes: [30, 45] },
    ],
    doses: [
      { kind: 'glauber-salt', form: 'anhydrous', name: 'sodium sulphate, anhydrous', owfMilli: 20_000 },
    ],
    liquorRatioMilli: 30_000,
    how: 'A fresh bath with the salt, the wet cloth in warm, to heat slowly, hold, and look. Levelling dye wanders off and evens; ammonium salt draws back what should stay.',
    lastRinse: null,
    minds: ['Wool felts when it is moved.', 'The time is common practice.'],
    mark: ACID_STRIP,
  },
  {
    code: 'ammonia',
    name: 'Loosen with ammonia and leveller',
    dyeClasses: ['acid-milling', 'acid-metal-complex'],
    heats: [
      { fibres: ['wool', 'nylon'], toC: 70, minutes: [20, 30] },
      { fibres: ['silk'], toC: 60, minutes: [20, 30] },
    ],
    doses: [
      other('ammonium', 'ammonia, by its pure part', { owfMilli: 500 }),
      { kind: 'levelling-agent', form: 'as-sold', name: 'levelling agent', owfMilli: 2000 },
    ],
    liquorRatioMilli: 30_000,
    how: 'Ammonia and leveller into the warm bath, then the cloth. Milling and metal-complex dye comes off a little.',
    lastRinse: null,
    minds: [
      'Ammonia: air moving, no bleach in the room.',
      'Heat, time and the leveller are common practice; published is 0.5 % of ammonia.',
    ],
    mark: ACID_STRIP,
  },
  {
    code: 'detergent-boil',
    name: 'Boil out with detergent',
    dyeClasses: ['direct'],
    heats: [{ fibres: CELLULOSE, toC: 98, minutes: [20, 30] }],
    doses: [{ kind: 'detergent', form: 'as-sold', name: 'neutral detergent', mgPerLitre: 2000 }],
    liquorRatioMilli: 30_000,
    how: 'No salt. Boil, look, and change the bath when it is coloured.',
    lastRinse: null,
    minds: ['Only before a fixer went on.'],
    mark: COMMON_PRACTICE,
  },
  {
    code: 'syntan-off',
    name: 'Take the syntan off',
    dyeClasses: ['acid-levelling', 'acid-milling', 'acid-metal-complex'],
    heats: [{ fibres: ['nylon'], toC: 70, minutes: [20, 20] }],
    doses: [soda(1.5)],
    liquorRatioMilli: 30_000,
    how: 'A warm soda bath takes a syntan off nylon: before any correction, or the dye cannot move. Rinse until neutral.',
    lastRinse: null,
    minds: ['It takes some dye along.', 'The minutes are common practice.'],
    mark: COMMON_PRACTICE,
  },
  {
    code: 'vat-blank',
    name: 'Back into a blank vat',
    dyeClasses: ['vat'],
    heats: [{ fibres: CELLULOSE, toC: 50, minutes: [30, 45] }],
    doses: [
      { kind: 'caustic-soda', form: 'as-sold', name: 'caustic soda', mgPerLitre: 4500 },
      { kind: 'hydrosulphite', form: 'as-sold', name: 'sodium hydrosulphite', mgPerLitre: 5000 },
      { kind: 'levelling-agent', form: 'as-sold', name: 'levelling agent', mgPerLitre: 1000 },
    ],
    liquorRatioMilli: 20_000,
    how: 'Caustic soda first, then the hydrosulphite sprinkled in, the cloth under the liquor until the colour moves. To level, oxidise in the air and soap; to make it paler, drop the bath while it is reduced.',
    lastRinse: null,
    minds: [
      'Heat and doses are those of an IN dye at a pale depth: take those of the vat that it was dyed in.',
    ],
    mark: published(
      'Broadbent, Basic Principles of Textile Coloration, SDC 2001, p. 367; a dye maker’s open-bath table; the way of correcting: common practice',
    ),
  },
];

const BY_CODE = new Map(STRIP_METHODS.map((method) => [method.code, method]));

/** A method by its code. Throws RangeError on one that is not of STRIP_CODES. */
export function stripMethod(code: StripCode): StripMethod {
  const found = BY_CODE.get(code);
  if (!found) throw new RangeError(`There is no way of stripping called ${code}`);
  return found;
}

/**
 * The heat, time and doses of a method for the fibres of a cloth: the coolest and mildest of those that are given. null
 * where the method is given for none of them.
 */
export function stripHeat({ heats, doses }: StripMethod, fibres: readonly FibreCode[]) {
  const own = heats.filter((heat) => heat.fibres.some((fibre) => fibres.includes(fibre)));
  const [first, ...others] = own;
  if (!first) return null;
  const coolest = others.reduce((low, heat) => (heat.toC < low.toC ? heat : low), first);
  const mild = own.find((heat) => heat.doses)?.doses;
  return { toC: coolest.toC, minutes: coolest.minutes, doses: mild ?? doses };
}

/** Grams of bisulphite that take out a gram of available chlorine, by molar masses (Na 22.99, H, S, O; Cl2 70.9). */
export const BISULPHITE_PER_CHLORINE = 104.06 / 70.9;

/**
 * A stripping bath as a recipe for a cloth, at the shorter of the times published: look, and go on where it must. null
 * where no figure is given for its fibres.
 */
export function stripRecipe(method: StripMethod, content: Content): Recipe | null {
  const heat = stripHeat(
    method,
    content.map(({ fibre }) => fibre),
  );
  if (!heat) return null;
  const { mark, pH } = method;
  const auxiliaries = heat.doses.map((each) => {
    const { kind, form, name } = each;
    return 'mgPerLitre' in each
      ? auxiliaryFrom({ kind, form, name, per: 'litre', amount: each.mgPerLitre })
      : auxiliaryFrom({ kind, form, name, per: 'cloth', amount: each.owfMilli });
  });
  const kinds = auxiliaries.map(({ kind }) => [`auxiliaries.${kind}`, mark] as const);
  return {
    dyeClass: 'strip',
    method: method.name,
    dyes: [],
    auxiliaries,
    liquorRatioMilli: method.liquorRatioMilli,
    temperatureC: heat.toC,
    holdMinutes: heat.minutes[0],
    ...(pH ? { pHFrom: pH[0], pHTo: pH[1] } : {}),
    marks: {
      liquorRatioMilli: mark,
      temperatureC: mark,
      holdMinutes: mark,
      pH: mark,
      ...Object.fromEntries(kinds),
    },
  };
}

/**
 * What goes into a bath beside dye: what it is, in which forms it is sold, and how much of one form equals another.
 *
 * Recipes state an amount for one form; the label says which form is in the shop. The form is always asked, never
 * assumed: washing soda taken for soda ash gives little more than a third of the alkali.
 */
import { divideRounded, exactly, greatestDivisor, stored } from '../quantity/figure-show.ts';
import type { Provenance } from '../quantity/provenance.ts';
import { type ChemicalGroup, GROUP_CHOICES } from './chemical-group.ts';

export const AUXILIARY_KINDS = [
  'salt',
  'glauber-salt',
  'soda-ash',
  'caustic-soda',
  'acetic-acid',
  'citric-acid',
  'formic-acid',
  'sulphuric-acid',
  'ammonium-sulphate',
  'sodium-acetate',
  'levelling-agent',
  'dispersant',
  'carrier',
  'sequestrant',
  'lubricant',
  'detergent',
  'fixer',
  'syntan',
  'retarder',
  'hydrosulphite',
  'peroxide',
  'perborate',
  'other',
] as const;

export type AuxiliaryKind = (typeof AUXILIARY_KINDS)[number];
export type Hazard =
  | 'acid'
  | 'strong acid'
  | 'alkali'
  | 'caustic'
  | 'hydrosulphite'
  | 'peroxide'
  | 'chlorine'
  | 'carrier'
  | 'fixer';

export interface AuxiliaryForm {
  readonly code: string;
  readonly name: string;
  /** Parts by mass of the pure substance in so many parts of the product, both whole numbers. */
  readonly pure: readonly [part: number, whole: number];
  /** For liquids: mg in a millilitre. */
  readonly densityMgPerMl?: number;
  /** What decides what it may meet; null where nobody has said it. */
  readonly groups: readonly ChemicalGroup[] | null;
}

export interface Auxiliary {
  readonly kind: AuxiliaryKind;
  readonly name: string;
  readonly forms: readonly AuxiliaryForm[];
}

const AS_SOLD = { code: 'as-sold', name: 'as sold', pure: [1, 1] } as const;

/**
 * Molar masses in units of 0.00001 g/mol, from the abridged standard atomic weights
 * Na 22.98977, C 12.011, O 15.999, H 1.008, S 32.06 (IUPAC; from memory).
 */
const WATER = 18_01500;
const SODA = 105_98754;
const GLAUBER = 142_03554;

const SODA_FORMS: readonly AuxiliaryForm[] = [
  { code: 'anhydrous', name: 'soda ash, anhydrous', pure: [1, 1], groups: ['soda'] },
  { code: 'monohydrate', name: 'soda, monohydrate', pure: [SODA, SODA + WATER], groups: ['soda'] },
  {
    code: 'decahydrate',
    name: 'washing soda crystals, decahydrate',
    pure: [SODA, SODA + 10 * WATER],
    groups: ['soda'],
  },
];

const GLAUBER_FORMS: readonly AuxiliaryForm[] = [
  { code: 'anhydrous', name: 'sodium sulphate, anhydrous', pure: [1, 1], groups: [] },
  {
    code: 'decahydrate',
    name: "Glauber's salt crystals, decahydrate",
    pure: [GLAUBER, GLAUBER + 10 * WATER],
    groups: [],
  },
];

/** Densities: glacial 1.049 (safety data sheet); 56 % 1.0625 and vinegar 1.006 (from memory). */
const STRONG_ACETIC = ['concentrated-acid', 'acetic-acid'] as const;
const ACETIC_FORMS: readonly AuxiliaryForm[] = [
  {
    code: 'glacial',
    name: 'glacial acetic acid, 100 %',
    pure: [1, 1],
    densityMgPerMl: 1049,
    groups: STRONG_ACETIC,
  },
  {
    code: '56',
    name: 'acetic acid, 56 % by mass',
    pure: [56, 100],
    densityMgPerMl: 1062.5,
    groups: STRONG_ACETIC,
  },
  {
    code: 'vinegar-5',
    name: 'vinegar, 5 g of acid in 100 mL',
    pure: [50, 1006],
    densityMgPerMl: 1006,
    groups: ['dilute-acid'],
  },
];

/** One that is sold in one form only. */
const plain = (name: string, groups: readonly ChemicalGroup[]): Omit<Auxiliary, 'kind'> => ({
  name,
  forms: [{ ...AS_SOLD, groups }],
});

/** Whatever has another name: its form says its group. Recipes of before have it as sold, and of no group. */
const OTHER: Omit<Auxiliary, 'kind'> = {
  name: 'other',
  forms: [
    { ...AS_SOLD, groups: null },
    ...GROUP_CHOICES.map(({ code, name, groups }) => ({
      ...AS_SOLD,
      code,
      name: `other: ${name}`,
      groups,
    })),
  ],
};

const OF_KIND: Readonly<Record<AuxiliaryKind, Omit<Auxiliary, 'kind'>>> = {
  salt: plain('salt (sodium chloride)', ['chloride']),
  'glauber-salt': { name: "Glauber's salt", forms: GLAUBER_FORMS },
  'soda-ash': { name: 'soda ash', forms: SODA_FORMS },
  'caustic-soda': {
    name: 'caustic soda',
    forms: [
      { ...AS_SOLD, name: 'caustic soda, solid', groups: ['caustic'] },
      // Density: 1.328 at 30 %, a dye maker’s open-bath table.
      {
        code: 'lye-30',
        name: 'caustic soda lye, 30 % by mass',
        pure: [30, 100],
        densityMgPerMl: 1328,
        groups: ['caustic'],
      },
    ],
  },
  'acetic-acid': { name: 'acetic acid', forms: ACETIC_FORMS },
  'citric-acid': plain('citric acid', ['dilute-acid']),
  'formic-acid': plain('formic acid', ['concentrated-acid', 'formic-acid']),
  'sulphuric-acid': plain('sulphuric acid', ['concentrated-acid', 'mineral-acid']),
  'ammonium-sulphate': plain('ammonium sulphate', ['ammonium']),
  'sodium-acetate': plain('sodium acetate', []),
  'levelling-agent': plain('levelling agent', ['anionic']),
  dispersant: plain('dispersing agent', ['anionic']),
  carrier: plain('carrier', ['solvent']),
  sequestrant: plain('sequestrant', []),
  lubricant: plain('lubricant', []),
  detergent: plain('detergent', []),
  fixer: plain('cationic fixing agent', ['cationic']),
  syntan: plain('synthetic tanning agent (syntan)', ['anionic']),
  retarder: plain('cationic retarder', ['cationic']),
  hydrosulphite: plain('sodium hydrosulphite', ['hydros']),
  peroxide: {
    name: 'hydrogen peroxide',
    forms: [
      // Densities from memory.
      {
        code: '35',
        name: 'hydrogen peroxide, 35 % by mass',
        pure: [35, 100],
        densityMgPerMl: 1130,
        groups: ['peroxide'],
      },
      {
        code: '3',
        name: 'hydrogen peroxide, 3 % by mass',
        pure: [3, 100],
        densityMgPerMl: 1010,
        groups: ['peroxide'],
      },
    ],
  },
  perborate: plain('sodium perborate', ['peroxide']),
  other: OTHER,
};

export const AUXILIARIES: readonly Auxiliary[] = AUXILIARY_KINDS.map((kind) => ({ kind, ...OF_KIND[kind] }));

/** The groups of an auxiliary in one of its forms, by default the first; null where nobody has said them. */
export function groupsOf(code: AuxiliaryKind, form?: string): readonly ChemicalGroup[] | null {
  const { forms } = auxiliaryOf(code);
  return (forms.find((each) => each.code === form) ?? forms[0])?.groups ?? null;
}

const HAZARDS: Partial<Record<ChemicalGroup, readonly Hazard[]>> = {
  'concentrated-acid': ['acid', 'strong acid'],
  'dilute-acid': ['acid'],
  soda: ['alkali'],
  caustic: ['alkali', 'caustic'],
  hydros: ['hydrosulphite'],
  'thiourea-dioxide': ['hydrosulphite'],
  peroxide: ['peroxide'],
  hypochlorite: ['chlorine'],
  cationic: ['fixer'],
  solvent: ['carrier'],
};

/** What there is to beware of in an auxiliary, by its groups. */
export function hazardsOf(code: AuxiliaryKind, form?: string): readonly Hazard[] {
  // A retarder is cationic as a fixer is, and no fixer.
  if (code === 'retarder') return [];
  return [...new Set((groupsOf(code, form) ?? []).flatMap((group) => HAZARDS[group] ?? []))];
}

const BY_KIND = new Map(AUXILIARIES.map((each) => [each.kind, each]));

/** The auxiliary of a kind. Throws RangeError on a kind that is not one of AUXILIARY_KINDS. */
export function auxiliaryOf(code: AuxiliaryKind): Auxiliary {
  const found = BY_KIND.get(code);
  if (!found) throw new RangeError(`No auxiliary is of the kind ${code}`);
  return found;
}

/** The auxiliary meant by a kind, a name or the name of a form, whatever its case; undefined when none is. */
export function auxiliaryNamed(text: string): AuxiliaryKind | undefined {
  const wanted = text.trim().toLowerCase();
  return AUXILIARIES.find((each) =>
    [each.kind, each.name, ...each.forms.map((form) => form.name)].some(
      (name) => name !== AS_SOLD.name && name.toLowerCase() === wanted,
    ),
  )?.kind;
}

/** An auxiliary as it is asked for in the shop: the form that its label names. */
export function nameOfForm(kind: AuxiliaryKind, form: string): string {
  const { name, forms } = auxiliaryOf(kind);
  return forms.length === 1 ? name : (forms.find((each) => each.code === form)?.name ?? name);
}

/** A form of an auxiliary, or undefined when it is not sold so. */
export function auxiliaryForm(code: AuxiliaryKind, form: string): AuxiliaryForm | undefined {
  return auxiliaryOf(code).forms.find((each) => each.code === form);
}

/**
 * The mass in mg of one form that holds as much of the pure substance as `massMg` of another, to the nearest mg.
 * Throws RangeError when the auxiliary has no such form.
 *
 * Checks: decahydrate for anhydrous soda ×2.6997 (286.14 to 105.99), 56 % for glacial acetic acid ×1.79.
 */
export function massInForm(code: AuxiliaryKind, massMg: number, from: string, to: string): number {
  const { num, den } = factorInForm(code, from, to);
  return stored(divideRounded(exactly(massMg) * exactly(num), exactly(den), 'near'));
}

/** What a mass of one form takes of another: × `num` ÷ `den`. */
export interface FormFactor {
  readonly form: string;
  readonly num: number;
  readonly den: number;
}

/**
 * How much of the form `to` holds what one mass of the form `from` does, exactly. Throws RangeError when the auxiliary
 * has no such form.
 */
export function factorInForm(code: AuxiliaryKind, from: string, to: string): FormFactor {
  const [fromPart, fromWhole] = soldForm(code, from).pure;
  const [toPart, toWhole] = soldForm(code, to).pure;
  const [num, den] = [BigInt(fromPart) * BigInt(toWhole), BigInt(fromWhole) * BigInt(toPart)];
  const divisor = greatestDivisor(num, den);
  return { form: from, num: stored(num / divisor), den: stored(den / divisor) };
}

/** The volume in µL of a mass in mg of a liquid form, to the nearest µL; undefined for what is no liquid. */
export function liquidVolumeUl(code: AuxiliaryKind, form: string, massMg: number): number | undefined {
  const density = soldForm(code, form).densityMgPerMl;
  return density === undefined ? undefined : Math.round((massMg * 1000) / density);
}

/** The mass in mg of a volume in µL of a liquid form, to the nearest mg; undefined for what is no liquid. */
export function liquidMassMg(code: AuxiliaryKind, form: string, volumeUl: number): number | undefined {
  const density = soldForm(code, form).densityMgPerMl;
  return density === undefined ? undefined : Math.round((volumeUl * density) / 1000);
}

function soldForm(code: AuxiliaryKind, form: string): AuxiliaryForm {
  const found = auxiliaryForm(code, form);
  if (!found) throw new RangeError(`${code} has no form ${form}`);
  return found;
}

const DEPTH_TABLE = 'Journal article with a dye, salt and soda table, hindawi.com jma/2016/9739380, table 2';

/** Rows at 1:10 and 70 °C: depth in thousandths of a percent owf, salt and soda in mg/L. */
const SALT_AND_SODA = [
  { owfMilli: 500, saltMgPerLitre: 20_000, sodaMgPerLitre: 5_000 },
  { owfMilli: 1500, saltMgPerLitre: 50_000, sodaMgPerLitre: 15_000 },
  { owfMilli: 4000, saltMgPerLitre: 70_000, sodaMgPerLitre: 20_000 },
] as const;

/**
 * Salt and soda ash (anhydrous), in mg/L, for reactive dye on cellulose by the depth of all dyes together in
 * thousandths of a percent owf. Straight lines between the published rows, the end rows beyond them. Published
 * tables differ by up to two times, so the dye's own label comes first.
 */
export function saltAndSoda(owfMilli: number): {
  saltMgPerLitre: number;
  sodaMgPerLitre: number;
  mark: Provenance;
} {
  const [pale, medium, dark] = SALT_AND_SODA;
  const [low, high] = owfMilli <= medium.owfMilli ? [pale, medium] : [medium, dark];
  const part = (owfMilli - low.owfMilli) / (high.owfMilli - low.owfMilli);
  const at = Math.min(1, Math.max(0, part));
  const between = (from: number, to: number): number => Math.round(from + (to - from) * at);
  const published = SALT_AND_SODA.some((row) => row.owfMilli === owfMilli);
  return {
    saltMgPerLitre: between(low.saltMgPerLitre, high.saltMgPerLitre),
    sodaMgPerLitre: between(low.sodaMgPerLitre, high.sodaMgPerLitre),
    mark: {
      basis: published ? 'published' : 'worked out',
      source: published ? DEPTH_TABLE : `${DEPTH_TABLE}; between or beyond its rows`,
    },
  };
}

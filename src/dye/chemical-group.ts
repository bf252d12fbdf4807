/**
 * The groups of chemicals that decide what may meet what: acids, alkalis, reducers, oxidisers and the rest. A chemical
 * can be of several. Who types a chemical that the program does not know says its group by the safety data sheet.
 */

import type { BathSolutes } from './bath-ph.ts';

export const CHEMICAL_GROUPS = [
  'concentrated-acid',
  'dilute-acid',
  'ammonium',
  'amine',
  'cationic',
  'anionic',
  'caustic',
  'soda',
  'hydros',
  'thiourea-dioxide',
  'bisulphite',
  'hypochlorite',
  'peroxide',
  'permanganate',
  'chlorite',
  'dichromate',
  'solvent',
  'sulphide',
  // What a group above is split by, where a rule is for one of its members alone.
  'mineral-acid',
  'formic-acid',
  'acetic-acid',
  'reactive-dye',
  'chloride',
  // What a vessel is made of.
  'aluminium',
  'copper',
  'stainless-steel',
] as const;

export type ChemicalGroup = (typeof CHEMICAL_GROUPS)[number];

/**
 * Something that meets other things in a bath. `mgPerLitre` is of the pure substance, where the dose is known; `solute` is
 * what counts for the pH, where that is known better than by its groups.
 */
export interface Chemical {
  readonly name: string;
  readonly groups: readonly ChemicalGroup[];
  readonly solute?: keyof BathSolutes;
  readonly mgPerLitre?: number;
}

/** The name of a chemical up to its first comma: "vinegar" of "vinegar, 5 g of acid in 100 mL". */
export function shortName({ name }: Chemical): string {
  return name.split(',')[0] ?? name;
}

/** A group that somebody may choose for a chemical of another name: its code, its words, and all groups it counts as. */
export interface GroupChoice {
  readonly code: string;
  readonly name: string;
  readonly groups: readonly ChemicalGroup[];
}

/** The groups to choose from for a chemical that is typed free. */
export const GROUP_CHOICES: readonly GroupChoice[] = [
  { code: 'none', name: 'neither acid, alkali, reducer nor oxidiser', groups: [] },
  { code: 'dilute-acid', name: 'dilute or solid acid', groups: ['dilute-acid'] },
  { code: 'concentrated-acid', name: 'concentrated acid', groups: ['concentrated-acid'] },
  { code: 'mineral-acid', name: 'mineral acid', groups: ['concentrated-acid', 'mineral-acid'] },
  { code: 'soda', name: 'soda, silicate or phosphate', groups: ['soda'] },
  { code: 'caustic', name: 'caustic alkali', groups: ['caustic'] },
  { code: 'ammonium', name: 'ammonia or ammonium salt', groups: ['ammonium'] },
  { code: 'amine', name: 'urea or amine', groups: ['amine'] },
  { code: 'cationic', name: 'cationic fixer, softener or retarder', groups: ['cationic'] },
  { code: 'anionic', name: 'anionic leveller or dispersant', groups: ['anionic'] },
  { code: 'hydros', name: 'hydrosulphite or sulphoxylate', groups: ['hydros'] },
  { code: 'thiourea-dioxide', name: 'thiourea dioxide', groups: ['thiourea-dioxide'] },
  { code: 'bisulphite', name: 'bisulphite, metabisulphite or thiosulphate', groups: ['bisulphite'] },
  { code: 'hypochlorite', name: 'chlorine bleach', groups: ['hypochlorite'] },
  { code: 'peroxide', name: 'peroxide, perborate or percarbonate', groups: ['peroxide'] },
  { code: 'permanganate', name: 'permanganate', groups: ['permanganate'] },
  { code: 'chlorite', name: 'chlorite', groups: ['chlorite'] },
  { code: 'dichromate', name: 'dichromate', groups: ['dichromate'] },
  { code: 'sulphide', name: 'sulphide', groups: ['sulphide'] },
  { code: 'solvent', name: 'alcohol, solvent or carrier', groups: ['solvent'] },
];

/** Words that give a group away, whatever somebody chose. */
const TELLING: readonly (readonly [RegExp, code: string])[] = [
  [/peroxide|perborate|percarbonate/i, 'peroxide'],
  [/vinegar|citric|tartar|\balum\b/i, 'dilute-acid'],
  [/glacial|acetic|formic/i, 'concentrated-acid'],
  [/sul(ph|f)uric|hydrochloric|muriatic|nitric/i, 'mineral-acid'],
  [/soda ash|washing soda|carbonate|silicate/i, 'soda'],
  [/caustic|\blye\b|hydroxide/i, 'caustic'],
  [/ammoni/i, 'ammonium'],
  [/\burea\b/i, 'amine'],
  [/hydros|dithionite|rongalite/i, 'hydros'],
  [/thiourea/i, 'thiourea-dioxide'],
  [/bisul(ph|f)ite|thiosul(ph|f)ate|antichlor/i, 'bisulphite'],
  [/bleach|chlorine|hypochlorite/i, 'hypochlorite'],
  [/permanganate/i, 'permanganate'],
  [/\bchlorite/i, 'chlorite'],
  [/chromate/i, 'dichromate'],
  [/acetone|alcohol|spirit|turpentine/i, 'solvent'],
];

/** The group that a name gives away; undefined where it tells of none. */
export function groupToldBy(name: string): GroupChoice | undefined {
  const code = TELLING.find(([words]) => words.test(name))?.[1];
  return GROUP_CHOICES.find((choice) => choice.code === code);
}

/**
 * The pH to expect of a bath from what is dosed and the workroom's water, what stands in the way of saying it, and the
 * dose that would bring it where the class of dye wants it. The model is that of `bath-ph`; what it allows is our rule.
 */

import type { Provenance } from '../quantity/provenance.ts';
import { type AuxiliaryKind, auxiliaryForm, auxiliaryOf, groupsOf, nameOfForm } from './auxiliaries.ts';
import { type Bath, massUgOf } from './bath.ts';
import { type BathConditions, type BathSolutes, MOST_IONIC_MOLAR, millimolar, solveBath } from './bath-ph.ts';
import type { ChemicalGroup } from './chemical-group.ts';
import { conditionsFor } from './dye-conditions.ts';
import type { Content } from './fibre.ts';
import type { Recipe } from './recipe.ts';
import { markOf } from './recipe.ts';
import { SOLUTES } from './solutes.ts';
import { HARD_WATER_MG, tapOf, type Water } from './water.ts';

/** How far off the expected pH may be (our rule). */
export const PH_MAY_BE_OFF = 0.3;
/** From here the carbon dioxide that boils away decides more than the acid. */
const CARBON_DIOXIDE_FROM_PH = 5.3;
/** Above this a bath is alkaline by its dose, and a hot sample reads lower than a cooled one. */
const ALKALINE_PH = 9;
/** 50 g/L: no bath takes more of an acid or an alkali. */
const MOST_DOSE_MG = 50_000;
const CLOSE_DOSE_MG = 0.5;

/** Something dosed, in mg of that form in a litre of bath. */
export interface Dosed {
  readonly kind: AuxiliaryKind;
  readonly form: string;
  readonly name: string;
  readonly mgPerLitre: number;
}

/**
 * Why a pH is uncertain or cannot be said: `used-up` by the alkalinity of the water, `carbon-dioxide` may boil away,
 * `ammonium` slides as ammonia leaves, `salt` is beyond the model, `hydros` eats alkali as it is spent, `not-counted`
 * is something whose strength nobody knows, `water` is not known.
 */
export type PhNote = 'used-up' | 'carbon-dioxide' | 'ammonium' | 'salt' | 'hydros' | 'not-counted' | 'water';

export interface ExpectedPh {
  /** of a cooled sample, at 25 °C; null where it cannot be said */
  readonly pH: number | null;
  /** where the water is not known: in water of no alkalinity and in hard water; null where that cannot be said */
  readonly between: readonly [soft: number | null, hard: number | null] | null;
  /** what the hot bath itself would show, where that is another figure */
  readonly hotPh: number | null;
  /** if all carbon dioxide of the water boils away, where that counts */
  readonly boiledPh: number | null;
  readonly notes: readonly PhNote[];
  /** the names of what is not counted */
  readonly notCounted: readonly string[];
}

/** Protons of a molecule that alkalinity takes. */
const ACIDS: Partial<Record<keyof BathSolutes, number>> = {
  aceticAcid: 1,
  formicAcid: 1,
  citricAcid: 3,
  sulphuricAcid: 2,
};
const ALKALIS: readonly (keyof BathSolutes)[] = ['sodaAsh', 'causticSoda'];
/** What counts for the pH, so that it may not be passed over where its strength is not known. */
const COUNTING: readonly ChemicalGroup[] = [
  'concentrated-acid',
  'dilute-acid',
  'soda',
  'caustic',
  'ammonium',
  'bisulphite',
];

/** Whether an auxiliary brings a bath to its pH: an acid, an alkali or what slides towards one. */
export function movesPh({ kind, form }: Pick<Dosed, 'kind' | 'form'>): boolean {
  return (groupsOf(kind, form) ?? []).some((group) => COUNTING.includes(group));
}

/** What a bath holds of its auxiliaries, in mg in a litre; `share` is the part of each that is in already. */
export function dosedIn(
  { lines, volumeUl }: Bath,
  share: (name: string) => number = () => 1,
): readonly Dosed[] {
  return lines.flatMap((line): Dosed[] => {
    const { kind, form, name } = line;
    const part = share(name);
    if (!kind || !form || part === 0 || volumeUl === 0) return [];
    // Micrograms in a microlitre are grams in a litre.
    return [{ kind, form, name, mgPerLitre: ((massUgOf(line) * 1000) / volumeUl) * part }];
  });
}

/** The pH to expect in a bath of this heat. `water` is null where nobody has measured it. */
export function expectedPh(dosed: readonly Dosed[], water: Water | null, temperatureC = 25): ExpectedPh {
  const notCounted = dosed.filter((each) => movesPh(each) && !SOLUTES[each.kind]).map(({ name }) => name);
  const of = (mg: number): Solved => solvedIn(solutesOf(dosed), { ...tapOf(water), mg, temperatureC });
  const here = of(water ? water.alkalinityTenths / 10 : HARD_WATER_MG);
  const notes = new Set(here.notes);
  if (dosed.some(({ kind }) => kind === 'hydrosulphite')) notes.add('hydros');
  if (notCounted.length > 0) notes.add('not-counted');
  const said = (solved: Solved): number | null =>
    notCounted.length > 0 || solved.notes.includes('used-up') ? null : solved.pH;
  if (water) {
    const { hotPh, boiledPh } = here;
    const told = said(here) !== null;
    return {
      pH: said(here),
      between: null,
      hotPh: told ? hotPh : null,
      boiledPh: notCounted.length > 0 ? null : boiledPh,
      notes: [...notes],
      notCounted,
    };
  }
  const soft = of(0);
  notes.add('water');
  // What hard water alone would do is told by the two figures.
  notes.delete('used-up');
  const between = notCounted.length > 0 ? null : ([said(soft), said(here)] as const);
  return { pH: null, between, hotPh: null, boiledPh: null, notes: [...notes], notCounted };
}

interface Solved {
  readonly pH: number;
  readonly hotPh: number | null;
  readonly boiledPh: number | null;
  readonly notes: readonly PhNote[];
}

function solvedIn(
  given: BathSolutes,
  { mg, tapPh, temperatureC }: { readonly mg: number; readonly temperatureC: number } & BathConditions,
): Solved {
  const solutes = { ...given, alkalinity: mg };
  const conditions = tapPh === undefined ? {} : { tapPh };
  const { pH, ionicMolar } = solveBath(solutes, conditions);
  const alkaline = ALKALIS.some((name) => (given[name] ?? 0) > 0);
  const opens = mg > 0 && !alkaline && pH >= CARBON_DIOXIDE_FROM_PH;
  const acid = acidMmol(given);
  const notes: PhNote[] = [];
  if (acid > 0 && !alkaline && acid <= millimolar('alkalinity', mg)) notes.push('used-up');
  if (opens) notes.push('carbon-dioxide');
  if ((given.ammoniumSulphate ?? 0) > 0) notes.push('ammonium');
  if (ionicMolar > MOST_IONIC_MOLAR) notes.push('salt');
  const hotPh =
    temperatureC > 30 && pH >= ALKALINE_PH ? solveBath(solutes, { ...conditions, temperatureC }).pH : null;
  const boiledPh = opens ? solveBath(solutes, { ...conditions, carbonDioxide: 'lost' }).pH : null;
  return { pH, hotPh, boiledPh, notes };
}

function acidMmol(solutes: BathSolutes): number {
  return Object.entries(ACIDS).reduce((sum, [name, protons]) => {
    const acid = name as keyof BathSolutes;
    return sum + protons * millimolar(acid, solutes[acid] ?? 0);
  }, 0);
}

function solutesOf(dosed: readonly Dosed[]): BathSolutes {
  const solutes: Partial<Record<keyof BathSolutes, number>> = {};
  for (const { kind, form, mgPerLitre } of dosed) {
    const name = SOLUTES[kind];
    if (name) solutes[name] = (solutes[name] ?? 0) + mgPerLitre * pureShare(kind, form);
  }
  return solutes;
}

/** The part of a form that is the substance itself. */
function pureShare(kind: AuxiliaryKind, form: string): number {
  const [part, whole] = (auxiliaryForm(kind, form) ?? auxiliaryOf(kind).forms[0])?.pure ?? [1, 1];
  return part / whole;
}

/** A pH that is wanted, and who says so. */
export interface WantedPh {
  readonly from: number;
  readonly to: number;
  readonly mark: Provenance;
}

/** The pH that a recipe names, else that of its class of dye on the fibre of the largest share; null where none is named. */
export function wantedPh(
  recipe: Pick<Recipe, 'dyeClass' | 'method' | 'pHFrom' | 'pHTo' | 'marks'>,
  content: Content,
): WantedPh | null {
  const { pHFrom, pHTo, dyeClass, method } = recipe;
  if (pHFrom !== undefined && pHTo !== undefined)
    return { from: pHFrom, to: pHTo, mark: markOf(recipe, 'pH') };
  const [main] = [...content].sort((a, b) => b.shareBp - a.shareBp);
  const ways = main ? conditionsFor(main.fibre, dyeClass).filter(({ pH }) => pH !== undefined) : [];
  const way = ways.find((each) => each.method === method) ?? ways[0];
  return way?.pH ? { from: way.pH[0], to: way.pH[1], mark: way.mark } : null;
}

/** A dose that would bring a bath to a pH, in mg of that form in a litre. */
export interface DoseForPh extends Dosed {
  readonly pH: number;
  /** true where it is left out: the bath is there without it */
  readonly none: boolean;
}

/**
 * The dose of an acid or an alkali that brings a bath to the middle of the range it wants: of the one that the recipe
 * has, else vinegar or soda ash. Undefined where none can be worked out: by an ammonium salt, what is not counted, or a
 * pH that this acid or alkali does not reach.
 */
export function doseFor(
  { from, to }: Pick<WantedPh, 'from' | 'to'>,
  dosed: readonly Dosed[],
  water: Water,
  expected: ExpectedPh,
): DoseForPh | undefined {
  if (expected.notes.includes('ammonium') || expected.notes.includes('not-counted')) return undefined;
  const pH = (from + to) / 2;
  const agent = agentFor(pH, dosed);
  const name = agent && SOLUTES[agent.kind];
  if (!agent || !name) return undefined;
  const sour = ACIDS[name] !== undefined;
  const others = { ...solutesOf(dosed), [name]: 0, alkalinity: water.alkalinityTenths / 10 };
  const short = (mg: number): boolean => {
    const reached = solveBath({ ...others, [name]: mg }, tapOf(water)).pH;
    return sour ? reached > pH : reached < pH;
  };
  if (short(MOST_DOSE_MG)) return undefined;
  const pureMg = short(0) ? leastDose(short) : 0;
  const mgPerLitre = pureMg / pureShare(agent.kind, agent.form);
  return { ...agent, mgPerLitre, pH, none: pureMg === 0 };
}

/** The first acid or alkali of the recipe that works towards the pH. */
function agentFor(pH: number, dosed: readonly Dosed[]): Omit<Dosed, 'mgPerLitre'> | undefined {
  const of = (names: readonly string[]) => dosed.find(({ kind }) => names.includes(SOLUTES[kind] ?? ''));
  if (pH < 6.5) {
    const form = 'vinegar-5';
    return of(Object.keys(ACIDS)) ?? { kind: 'acetic-acid', form, name: nameOfForm('acetic-acid', form) };
  }
  if (pH <= 7.5) return of([...Object.keys(ACIDS), ...ALKALIS]);
  return of(ALKALIS) ?? { kind: 'soda-ash', form: 'anhydrous', name: nameOfForm('soda-ash', 'anhydrous') };
}

function leastDose(short: (mg: number) => boolean): number {
  let [low, high] = [0, MOST_DOSE_MG];
  while (high - low > CLOSE_DOSE_MG) {
    const middle = (low + high) / 2;
    if (short(middle)) low = middle;
    else high = middle;
  }
  return high;
}

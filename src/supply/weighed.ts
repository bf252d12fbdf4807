import { type AuxiliaryKind, liquidVolumeUl } from '../dye/auxiliaries.ts';
import type { SupplyMeasure } from './amount.ts';

/** A chemical in one of the forms it is sold in. */
interface ChemicalForm {
  readonly kind: AuxiliaryKind;
  readonly form: string;
}

/** What is weighed for a bath: a dye, or a chemical in one form; the mass is whole milligrams. */
export interface WeighedThing {
  readonly name: string;
  /** of the list of dyes; null where the recipe has a name only, or it is no dye */
  readonly dyeId: number | null;
  /** null for a dye */
  readonly chemical: ChemicalForm | null;
  readonly massMg: number;
}

/** A supply as far as recipes know it. */
export interface SupplyOfRecipes {
  readonly name: string;
  readonly measure: SupplyMeasure;
  readonly dyeId: number | null;
  /** the name of the dye of the list that it is; '' where it is none */
  readonly dye: string;
  readonly auxiliary: ChemicalForm | null;
  readonly onHand: number;
}

/**
 * The supply that a thing is weighed from, or null where none is kept. A dye is known by its number on the list of dyes,
 * else by its name; a chemical by its kind and form, and one of another kind ("other") by its name too. Of several the one
 * of the same name counts, else the first that is not used up.
 */
export function supplyFor<S extends SupplyOfRecipes>(thing: WeighedThing, supplies: readonly S[]): S | null {
  const { chemical, dyeId } = thing;
  const named = (name: string) => name.trim().toLowerCase() === thing.name.trim().toLowerCase();
  const alike = supplies.filter((supply) => {
    if (chemical === null)
      return dyeId === null ? supply.dye !== '' && named(supply.dye) : supply.dyeId === dyeId;
    const { auxiliary } = supply;
    return auxiliary?.kind === chemical.kind && auxiliary.form === chemical.form;
  });
  const byName = alike.find(({ name }) => named(name));
  if (byName || chemical?.kind === 'other') return byName ?? null;
  return alike.find(({ onHand }) => onHand > 0) ?? alike[0] ?? null;
}

/**
 * So much of a supply goes by what was weighed: milligrams of a mass, microlitres of a liquid by its density. Null where
 * the supply is measured in what a mass cannot be turned into.
 */
export function amountWeighed(thing: WeighedThing, measure: SupplyMeasure): number | null {
  if (measure === 'mass') return thing.massMg;
  if (measure !== 'volume' || thing.chemical === null) return null;
  return liquidVolumeUl(thing.chemical.kind, thing.chemical.form, thing.massMg) ?? null;
}

/** A thing that is to be weighed for a batch. */
export interface ThingToWeigh extends WeighedThing {
  readonly batch: string;
}

/** What batches will take of a supply, in its measure, and which. */
export interface SupplyNeed<S> {
  readonly supply: S;
  readonly amount: number;
  readonly batches: readonly string[];
}

/**
 * What is needed of each supply by what is to be weighed, and the names of what no supply is kept of. Amounts are exact sums in the measure of the supply.
 */
export function supplyNeeds<S extends SupplyOfRecipes>(
  things: readonly ThingToWeigh[],
  supplies: readonly S[],
): { readonly needs: readonly SupplyNeed<S>[]; readonly notKept: readonly string[] } {
  const needs = new Map<S, { amount: number; batches: Set<string> }>();
  const notKept = new Set<string>();
  for (const thing of things) {
    if (thing.massMg === 0) continue;
    const supply = supplyFor(thing, supplies);
    const amount = supply && amountWeighed(thing, supply.measure);
    if (!supply || amount === null) {
      notKept.add(thing.name);
      continue;
    }
    const need = needs.get(supply) ?? { amount: 0, batches: new Set() };
    need.amount += amount;
    need.batches.add(thing.batch);
    needs.set(supply, need);
  }
  const all = [...needs].map(([supply, { amount, batches }]) => ({
    supply,
    amount,
    batches: [...batches],
  }));
  return { needs: all, notKept: [...notKept] };
}

import { ABOUT } from '../../../src/quantity/figure-show.ts';
import type { Units } from '../../../src/quantity/length-show.ts';
import { showDay } from '../../kit/when.ts';
import { type Fact, formFacts, girthFacts, tierFacts } from '../garment/facts.ts';
import type { Names } from '../garment/names.ts';
import type { Garment, TierRecord } from '../garment/records.ts';
import { askedFacts, partFacts } from '../parts/facts.ts';
import type { KeptPart } from '../parts/record.ts';

/** One thing that is not the same in two versions: of what, and what it was and is; '' where there is none. */
export interface Change {
  /** the name of the tier or part, or 'Garment', or 'Form' */
  readonly of: string;
  readonly what: string;
  readonly from: string;
  readonly to: string;
}

/** All that differs between two states of a garment, or between a garment and another. */
export function changesBetween(from: Garment, to: Garment, names: Names, units: Units): Change[] {
  const exact: Units = { system: units.system, stepTicks: 1 };
  const tierKey = from.id === to.id ? (tierId: number | null) => tierId : undefined;
  const facts = (read: (units: Units) => Pair) => pairs(read(units), () => read(exact));
  return [
    ...facts(() => [headFacts(from), headFacts(to)]).map(of('Garment')),
    ...facts((shown) => [formOf(from, shown), formOf(to, shown)]).map(of('Form')),
    ...pairsOf(from, to, from.tiers, to.tiers).flatMap(([before, after]) => {
      const name = (after ?? before)?.name ?? '';
      if (!before) return [{ of: name, what: 'Tier', from: '', to: 'added' }];
      if (!after) return [{ of: name, what: 'Tier', from: 'there', to: 'not there' }];
      return facts((shown) => [
        [nameFact(before), ...tierFacts(before, from, names, shown, tierKey)],
        [nameFact(after), ...tierFacts(after, to, names, shown, tierKey)],
      ]).map(of(name));
    }),
    ...pairsOf(from, to, from.parts, to.parts).flatMap(([before, after]) => {
      const name = (after ?? before)?.name ?? '';
      if (!before) return [{ of: name, what: 'Part', from: '', to: 'added' }];
      if (!after) return [{ of: name, what: 'Part', from: 'there', to: 'not there' }];
      const read = isSame(askedOf(before), askedOf(after))
        ? (part: KeptPart) => partFacts(part, names)
        : (part: KeptPart) => [...partFacts(part, names), ...askedFacts(part)];
      return facts(() => [read(before), read(after)]).map(of(name));
    }),
  ];
}

/** A change in a line, "Tier 1: Fullness 2.5× → 3×". */
export function sayChange({ of, what, from, to }: Change): string {
  if (what === 'Tier' || what === 'Part') return to === 'added' ? `${of} added` : `${of} taken out`;
  const name = of === 'Garment' || of === 'Form' ? '' : `${of}: `;
  return `${name}${what} ${from === '' ? 'none' : from} → ${to === '' ? 'none' : to}`;
}

function askedOf({ kind, unit, asked }: KeptPart) {
  return { kind, unit, asked };
}

function formOf(garment: Garment, units: Units): Fact[] {
  return [...girthFacts(garment, units), ...formFacts(garment, units)];
}

function headFacts({ name, dueOn, note }: Garment): Fact[] {
  return [
    { what: 'Name', text: () => name, value: name },
    { what: 'Due', text: () => (dueOn === null ? '' : showDay(dueOn)), value: dueOn },
    { what: 'Note', text: () => note, value: note },
  ];
}

function nameFact({ ownName, name }: TierRecord): Fact {
  return { what: 'Name', text: () => name, value: ownName };
}

/** Tiers or parts that are in, of both sides: the same one by its number, in another garment by its name. */
function pairsOf<T extends Pick<TierRecord, 'id' | 'name' | 'takenOutAt'> & { readonly ownName?: string }>(
  from: Garment,
  to: Garment,
  ofFrom: readonly T[],
  ofTo: readonly T[],
): [T | undefined, T | undefined][] {
  const isIn = ({ takenOutAt }: T) => takenOutAt === null;
  const nameOf = ({ ownName, name }: T) => ownName || name;
  const [before, after] = [ofFrom.filter(isIn), ofTo.filter(isIn)];
  const isIt = (a: T, b: T) => (from.id === to.id ? a.id === b.id : nameOf(a) === nameOf(b));
  const gone = before.filter((one) => !after.some((other) => isIt(one, other)));
  return [
    ...after.map((one): [T | undefined, T] => [before.find((other) => isIt(other, one)), one]),
    ...gone.map((one): [T, undefined] => [one, undefined]),
  ];
}

type Pair = readonly [readonly Fact[], readonly Fact[]];

/** Facts that differ. Where two values differ by less than is shown, they are shown exactly. */
function pairs([from, to]: Pair, exactly: () => Pair): Omit<Change, 'of'>[] {
  const whats = [...new Set([...from, ...to].map(({ what }) => what))];
  const find = (facts: readonly Fact[], what: string) => facts.find((fact) => fact.what === what);
  return whats.flatMap((what) => {
    const [before, after] = [find(from, what), find(to, what)];
    if (before && after && isSame(before.value, after.value)) return [];
    const alike = textWithoutAbout(before) === textWithoutAbout(after);
    const [exactFrom, exactTo] = alike ? exactly() : [[], []];
    const text = (fact: Fact | undefined, place: number, list: readonly Fact[]) =>
      list[place]?.text() ?? fact?.text() ?? '';
    return [
      {
        what,
        from: text(before, before ? from.indexOf(before) : -1, exactFrom),
        to: text(after, after ? to.indexOf(after) : -1, exactTo),
      },
    ];
  });
}

/** Of plain values and lists of them. */
function isSame(a: unknown, b: unknown): boolean {
  return a === b || (typeof a === 'object' && JSON.stringify(a) === JSON.stringify(b));
}

function textWithoutAbout(fact: Fact | undefined): string {
  return (fact?.text() ?? '').replaceAll(ABOUT, '');
}

function of(name: string) {
  return (change: Omit<Change, 'of'>): Change => ({ of: name, ...change });
}

/**
 * Which chemicals clash: in one bath, in baths after each other on the same cloth or in the same vessel, and at the
 * drain.
 */

import { type Chemical, type ChemicalGroup, shortName } from './chemical-group.ts';
import { CLASHES, type Clash, type ClashAction } from './clash-table.ts';

/** Two chemicals and the rule that they fall under; of a rule for one alone there is no other. */
export interface FoundClash {
  readonly clash: Clash;
  readonly one: Chemical;
  readonly other: Chemical | null;
}

/** Every clash among the chemicals of one bath, the worst first. The vessel can be one of them. */
export function clashesIn(chemicals: readonly Chemical[]): readonly FoundClash[] {
  const found = CLASHES.flatMap((clash): FoundClash[] => {
    const ones = chemicals.filter(isOf(clash.one));
    if (clash.other.length === 0) return ones.map((one) => ({ clash, one, other: null }));
    return ones.flatMap((one) =>
      chemicals
        .filter((other) => other !== one && isOf(clash.other)(other))
        .map((other) => ({ clash, one, other })),
    );
  });
  return worstFirst(found);
}

/**
 * What meets between two baths on the same cloth or in the same vessel, or at one drain: every pair of a chemical of
 * the first and one of the second that may not be in one bath, or has a warning there.
 */
export function clashesBetween(
  before: readonly Chemical[],
  after: readonly Chemical[],
): readonly FoundClash[] {
  const found = CLASHES.filter(({ other, action }) => other.length > 0 && action !== 'order').flatMap(
    (clash) =>
      [
        [before, after],
        [after, before],
      ].flatMap(([ones = [], others = []]) =>
        ones
          .filter(isOf(clash.one))
          .flatMap((one) => others.filter(isOf(clash.other)).map((other) => ({ clash, one, other }))),
      ),
  );
  return worstFirst(found);
}

function mayMeet(action: ClashAction): boolean {
  return action === 'order' || action === 'warn';
}

/** Whether a clash keeps its two chemicals out of one bath. */
export function isRefused({ clash }: FoundClash): boolean {
  return !mayMeet(clash.action);
}

const WORST: readonly ClashAction[] = ['never', 'refuse', 'baths in order', 'order', 'warn'];

function worstFirst(found: readonly FoundClash[]): readonly FoundClash[] {
  return [...found].sort((a, b) => WORST.indexOf(a.clash.action) - WORST.indexOf(b.clash.action));
}

const isOf =
  (wanted: readonly ChemicalGroup[]) =>
  ({ groups }: Chemical): boolean =>
    groups.some((group) => wanted.includes(group));

/** "Sodium hydrosulphite with vinegar gives sulphur dioxide. Use one of them alone." */
export function sayClash({ clash, one, other }: FoundClash): string {
  const met = sayMeeting(one, other);
  const recalled = clash.mark.basis === 'from memory' ? ' (from memory)' : '';
  return `${met.charAt(0).toUpperCase()}${met.slice(1)} gives ${clash.harm}${recalled}. ${clash.instead}`;
}

/**
 * The share of a bath that is left in cloth after rinses: (held ÷ (held + fresh)) to the power of the rinses, of liquor
 * held by the cloth and fresh water for each rinse in like units. Throws RangeError where there is no liquor.
 *
 * Check: 2 L held, two rinses of 20 L: 0.83 %.
 */
export function leftAfterRinses(held: number, fresh: number, rinses: number): number {
  if (!(held + fresh > 0)) throw new RangeError('A rinse needs liquor');
  return (held / (held + fresh)) ** rinses;
}

/** Rinses between two baths that must not meet (our rule). */
export const RINSES_BETWEEN = 3;

/** What is asked between two baths, by the worst that would meet. '' where nothing would. */
export function sayBetween(found: readonly FoundClash[]): string {
  const [worst] = found;
  if (!worst) return '';
  const { one, other, clash } = worst;
  const why = `${sayMeeting(one, other)} gives ${clash.harm}`;
  if (!isRefused(worst)) return `${clash.instead} Otherwise ${why}.`;
  // One kilogram of cloth holds about 2 L, and is rinsed in 20 L.
  const left = (leftAfterRinses(2, 20, RINSES_BETWEEN) * 100).toFixed(2);
  const test = TESTED_BY_STARCH.some((group) => one.groups.includes(group) || other?.groups.includes(group))
    ? 'starch-iodide paper shows nothing'
    : 'pH paper shows what fresh water shows';
  return `Drain, and rinse ${RINSES_BETWEEN} times in fresh water, until ${test} (our rule: about ${left} % is left): ${why}.`;
}

/** The order that a clash asks for, with its reason. */
export function sayOrder({ clash, one, other }: FoundClash): string {
  return `Order: ${clash.instead} Otherwise ${sayMeeting(one, other)} gives ${clash.harm}.`;
}

/** "vinegar with soda ash", or one alone. */
export function sayMeeting(one: Chemical, other: Chemical | null): string {
  return other === null ? shortName(one) : `${shortName(one)} with ${shortName(other)}`;
}

const TESTED_BY_STARCH: readonly ChemicalGroup[] = ['hypochlorite', 'peroxide', 'permanganate'];

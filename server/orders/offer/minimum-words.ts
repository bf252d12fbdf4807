import {
  type MinimumLine,
  type Minimums,
  type Miss,
  type MoreOf,
  missesOf,
  moreToReach,
} from '../../../src/buying/minimum.ts';
import { showLength, type Units } from '../../../src/quantity/length-show.ts';
import { showMoney } from '../../../src/quantity/money.ts';
import type { SupplyMeasure } from '../../../src/supply/amount.ts';
import type { PutUpPrice } from '../../../src/supply/put-ups.ts';
import { sayPutUps } from '../../supplies/words.ts';
import { showBolts, showSold } from './put-up-words.ts';

/** One cloth in one shade of what is bought, or one supply, and how more is sold. */
export interface MissLine extends MinimumLine {
  /** the cloth, and its shade where one cloth stands there in several; or the supply */
  readonly name: string;
  /** null where no price is known */
  readonly more: MoreSold | null;
}

interface MoreSold extends MoreOf {
  /** "2 bolts of 50 m", "3.4 m", "2 × tub of 100 g" */
  say(more: { readonly units: number; readonly lengthTicks: number }, units: Units): string;
}

/** More of a cloth, in bolts or off the bolt. */
export function moreCloth(more: MoreOf, isBolts: boolean): MoreSold {
  return {
    ...more,
    say: ({ units: count, lengthTicks }, units) =>
      isBolts ? showBolts(count, more.unitTicks, units) : showSold(lengthTicks, units),
  };
}

/** What a supply is as far as minimums go; more of it is another of the put-up, where its price is known. */
export function missLineOfSupply(
  { name, measure }: { readonly name: string; readonly measure: SupplyMeasure },
  putUp: Pick<PutUpPrice, 'putUp' | 'amount'> & { readonly priceMinor: number | null },
  listMinor: number,
): MissLine {
  const { amount, priceMinor } = putUp;
  const more =
    priceMinor === null ? null : { price: { minor: priceMinor, perTicks: amount }, unitTicks: amount };
  return {
    name,
    isSupply: true,
    listMinor,
    lengthTicks: 0,
    more: more && { ...more, say: ({ units: count }, units) => sayPutUps(count, putUp, measure, units) },
  };
}

interface In {
  readonly terms: { readonly currency: string; readonly discountBp: number };
  readonly units: Units;
}

/**
 * By how much the minimums of a supplier are missed, and what it would take: "The order is €12.40 below the least order of
 * €60.00: 2 m more of Organza (€12.92) would reach it." A sentence each.
 */
export function sayMisses(minimums: Minimums, lines: readonly MissLine[], { terms, units }: In): string[] {
  return missesOf(minimums, lines, terms.discountBp).map((miss) => {
    const figure = (value: number) =>
      miss.what === 'amount' ? showMoney(value, terms.currency) : showLength(value, units, 'up');
    const [missing, least] = [figure(miss.missing), figure(miss.least)];
    const line = miss.line === null ? null : lines[miss.line];
    const missed = line
      ? `${line.name} is ${missing} below the ${least} that is sold at least of a cloth and shade`
      : `The order is ${missing} below the least order of ${least}`;
    const more = cheapestMore(miss, line ? [line] : lines, { terms, units });
    return more === '' ? `${missed}.` : `${missed}: ${more} would reach it.`;
  });
}

/** "2 m more of Organza (€12.92)": of the line that costs least; '' where no price is known. */
function cheapestMore(miss: Miss, lines: readonly MissLine[], { terms, units }: In): string {
  const ways = lines.flatMap((line) => {
    // A length that is missing is one of cloth.
    if (!line.more || (line.isSupply && miss.what === 'length')) return [];
    const more = moreToReach(miss, line.more, terms.discountBp);
    if (!more) return [];
    const { netMinor } = more;
    const money = showMoney(netMinor, terms.currency);
    return [{ netMinor, said: `${line.more.say(more, units)} more of ${line.name} (${money})` }];
  });
  return ways.sort((a, b) => a.netMinor - b.netMinor)[0]?.said ?? '';
}

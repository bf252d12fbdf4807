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
import { showBolts, showSold } from './put-up-words.ts';

/** One cloth in one shade of what is bought, and how more is sold. */
export interface MissLine extends MinimumLine {
  /** the cloth, and its shade where one cloth stands there in several */
  readonly name: string;
  readonly isBolts: boolean;
  /** null where no price is known */
  readonly more: MoreOf | null;
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
    const more = line.more && moreToReach(miss, line.more, terms.discountBp);
    if (!line.more || !more) return [];
    const length = line.isBolts
      ? showBolts(more.units, line.more.unitTicks, units)
      : showSold(more.lengthTicks, units);
    return [
      {
        netMinor: more.netMinor,
        said: `${length} more of ${line.name} (${showMoney(more.netMinor, terms.currency)})`,
      },
    ];
  });
  return ways.sort((a, b) => a.netMinor - b.netMinor)[0]?.said ?? '';
}

import type { Basket } from '../../../src/buying/basket/job.ts';
import { differenceOf } from '../../../src/buying/basket/notes.ts';
import { showSize } from '../../../src/quantity/length-show.ts';
import { showMoney } from '../../../src/quantity/money.ts';
import { showDay } from '../../kit/when.ts';
import type { Asker } from '../../web/house.ts';
import type { BasketCase, LeftOut } from './job.ts';

/** Why the next best basket is not the best: money by parts, and where it goes to others. */
export function sayWhy(basket: BasketCase, best: Basket, second: Basket): string[] {
  const { goodsMinor, cutFeesMinor, freightMinor, taxMinor } = differenceOf(second, best);
  const part = (what: string, minor: number) =>
    minor === 0
      ? []
      : [`${what} ${showMoney(Math.abs(minor), basket.job.currency)} ${minor > 0 ? 'more' : 'less'}`];
  const parts = [
    ...part('goods', goodsMinor),
    ...part('cut fees', cutFeesMinor),
    ...part('freight', freightMinor),
    ...part('tax', taxMinor),
  ];
  const moved = second.mixes.flatMap((mix, need) => {
    const sellerOf = (offer: number | undefined) =>
      basket.sellers[basket.job.offers[offer ?? -1]?.supplier ?? -1]?.name ?? '';
    const [from, to] = [sellerOf(best.mixes[need]?.offer), sellerOf(mix.offer)];
    const what =
      basket.offers[mix.offer]?.clothName ??
      basket.supplyOffers[mix.offer - basket.offers.length]?.supplyName ??
      '';
    return from === to ? [] : [`${what} from ${to} instead of ${from}`];
  });
  const other = moved.length > 0 ? moved : ['The same suppliers, other put-ups'];
  return [
    `${other.join('; ')}.`,
    parts.length > 0 ? `By parts: ${parts.join(', ')}.` : 'Every part costs the same.',
    ...sayFreed(basket, best, second),
    ...(second.refusers > 0 ? ['It misses the minimum of a supplier.'] : []),
  ];
}

/** Suppliers whose freight is free in one basket and not in the other. */
function sayFreed({ sellers }: BasketCase, best: Basket, second: Basket): string[] {
  return second.sums.flatMap(({ supplier, freightMinor }) => {
    const before = best.sums.find((sum) => sum.supplier === supplier);
    const seller = sellers[supplier];
    if (!before || !seller || seller.terms.freeFromMinor === null) return [];
    if (before.freightMinor === 0 && freightMinor > 0)
      return [
        `${seller.name} charges freight then: its goods stay below ${showMoney(seller.terms.freeFromMinor, seller.terms.currency)}.`,
      ];
    return before.freightMinor > 0 && freightMinor === 0 ? [`${seller.name} then charges no freight.`] : [];
  });
}

export function sayLeftOut({ offer, why, comesOn }: LeftOut, asker: Asker): string {
  const isCloth = 'clothName' in offer;
  const name = isCloth
    ? `${offer.clothName}${offer.shade ? `, ${offer.shade.name},` : ''}`
    : offer.supplyName;
  const what = `${name} from ${offer.supplierName}`;
  switch (why) {
    case 'too late':
      return `${what} would come on ${showDay(comesOn)}, which is too late.`;
    case 'too narrow':
      return isCloth
        ? `${what} is ${showSize(offer.widthTicks ?? 0, asker.units, 'down')} wide between the selvedges, and the need was worked out for ${showSize(offer.clothUsableTicks, asker.units, 'down')}.`
        : '';
    case 'other money':
      return `${what} was priced in ${offer.currency}, and the supplier sells in other money now: write its prices anew.`;
  }
}

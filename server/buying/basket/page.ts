import type { Basket } from '../../../src/buying/basket/job.ts';
import type { BasketPlan } from '../../../src/buying/basket/plan.ts';
import { needKey } from '../../../src/garment/need.ts';
import { showLength } from '../../../src/quantity/length-show.ts';
import { showMoney } from '../../../src/quantity/money.ts';
import { showSupplyAmount } from '../../../src/supply/amount.ts';
import type { Reader } from '../../database/book.ts';
import { type Choice, clothChoices, shadeChoices } from '../../kit/choices.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { orderPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { showDay } from '../../kit/when.ts';
import { readDrafts } from '../../orders/order/queries.ts';
import { supplyChoices } from '../../supplies/choices.ts';
import { readSupplies } from '../../supplies/store.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { basketFields } from './form.ts';
import type { BasketCase, BasketNeed } from './job.ts';
import type { PlannedBasket } from './plan.ts';
import { shapeSellers } from './sellers.ts';
import { sayLeftOut, sayWhy } from './words.ts';

/** The basket page: what to buy where, and the needs it is worked out for. */
export function basketPage(
  reader: Reader,
  asker: Asker,
  today: string,
  typed: Typed,
  planned: PlannedBasket | null,
  /** `further`: what is short besides, for which one basket has no room */
  { fromShort, further } = { fromShort: false, further: 0 },
) {
  const data = {
    requestKey: mintKey(),
    fields: drawFields(basketFields(reader, asker), typed),
    /** the form as it was typed, to be sent with the drafts */
    sent: Object.entries(typed)
      .filter(([name, value]) => value !== '' && /^(needed_by$|needs\.|supplies\.)/.test(name))
      .map(([name, value]) => ({ name, value })),
    /** whether there is a supply to choose */
    anySupply: supplyChoices(reader, asker.units).length > 0,
    fromShort,
    further,
    /** null where nothing is asked for, or nobody offers it */
    basket: planned?.plan ? shapeBasket(reader, planned.basket, planned.plan, asker, today) : null,
    /** drafts with some of it already: Short does not count on drafts */
    drafts: planned ? draftsOf(reader, planned.basket) : [],
    unmet: planned
      ? [...sayNeeds(reader, planned.basket.unmet, asker), ...sayUnmetSupplies(reader, planned.basket, asker)]
      : [],
    leftOut: planned?.basket.leftOut.map((out) => sayLeftOut(out, asker)) ?? [],
  };
  return { view: 'buying/basket/basket', data, title: 'Basket', room: 'orders' } satisfies Page;
}

function shapeBasket(
  reader: Reader,
  basket: BasketCase,
  { best, second, proved }: BasketPlan,
  asker: Asker,
  today: string,
) {
  const home = basket.job.currency;
  const [{ totalMinor }, secondMinor] = [best, second?.totalMinor ?? 0];
  const shape = (one: Basket) => shapeSellers(reader, basket, one, asker, today);
  const sellers = shape(best);
  const last = sellers.map(({ comesOn }) => comesOn).sort();
  const more = secondMinor - totalMinor;
  return {
    total: showMoney(totalMinor, home),
    totalMinor,
    arrives: last.includes('') ? '' : showDay(last.at(-1) ?? today),
    sellers,
    /** whether it is proved that nothing is cheaper */
    proved,
    second: second && {
      total: showMoney(secondMinor, home),
      more:
        more === 0
          ? 'costs the same'
          : `costs ${showMoney(Math.abs(more), home)} ${more > 0 ? 'more' : 'less'}`,
      why: sayWhy(basket, best, second),
      sellers: shape(second),
    },
  };
}

function sayUnmetSupplies(reader: Reader, { unmetSupplies }: BasketCase, { units }: Asker): string[] {
  const supplies = new Map(
    unmetSupplies.length === 0 ? [] : readSupplies(reader).map((one) => [one.id, one]),
  );
  return unmetSupplies.flatMap(({ supplyId, amount }) => {
    const supply = supplies.get(supplyId);
    return supply ? [`${supply.name}: ${showSupplyAmount(amount, supply.measure, units, 'up')}`] : [];
  });
}

function draftsOf(reader: Reader, { needs, unmet }: BasketCase) {
  const wanted = new Set([...needs, ...unmet].map(needKey));
  return readDrafts(reader)
    .filter(({ lines }) => lines.some((line) => wanted.has(needKey(line))))
    .map(({ code }) => ({ code, href: orderPath(code) }));
}

function sayNeeds(reader: Reader, needs: readonly BasketNeed[], { units }: Asker): string[] {
  const [cloths, shades] = [clothChoices(reader), shadeChoices(reader)];
  const nameOf = (choices: readonly Choice[], id: number) =>
    choices.find(({ value }) => value === String(id))?.label ?? '';
  return needs.map(
    ({ clothId, shadeId, lengthTicks }) =>
      `${nameOf(cloths, clothId)}, ${nameOf(shades, shadeId)}: ${showLength(lengthTicks, units, 'up')}`,
  );
}
